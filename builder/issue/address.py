"""
Where phones and browsers can reach this computer, and sockets that listen there.
"""

import errno
import ipaddress
import os
import socket

LOOPBACK = "127.0.0.1"
LOOPBACK_NETWORK = ipaddress.ip_network("127.0.0.0/8")

# Set aside for documentation by RFC 5737: nothing is sent, the system only says which way it would go.
_ANYWHERE = ("192.0.2.1", 9)

# Addresses that only local networks use (RFC 1918).
PRIVATE_NETWORKS = [ipaddress.ip_network(block) for block in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16")]


class CannotListen(Exception):
    """No socket can be had there; the text says what to do."""


def local_addresses() -> list[str]:
    """This computer's addresses on local networks, the one that leads outside first."""
    found = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(_ANYWHERE)
            found.append(probe.getsockname()[0])
        except OSError:
            pass  # on no network that leads outside: the name may still know a local one
    try:
        named = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET, socket.SOCK_STREAM)
        found += [place[0] for *_, place in named]
    except OSError:
        pass
    return [address for address in dict.fromkeys(found) if is_local(address)]


def is_local(address: str) -> bool:
    """Whether this is an address of a local network."""
    try:
        number = ipaddress.IPv4Address(address)
    except ValueError:
        return False
    return any(number in block for block in PRIVATE_NETWORKS)


def listen(address: str, port: int) -> socket.socket:
    """A socket listening at exactly this address and port; CannotListen when it cannot be had."""
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name == "nt":
            # On Windows the option below would let two programs share the port.
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        else:
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((address, port))
        listener.listen(64)
    except OSError as error:
        listener.close()
        raise CannotListen(_refused(address, port, error)) from None
    except OverflowError:
        listener.close()
        raise CannotListen(f"Port {port} does not exist: choose one from 1024 to 65535.") from None
    return listener


def listen_near(address: str, port: int) -> socket.socket:
    """As `listen`, but on any free port when the wished one cannot be had."""
    try:
        return listen(address, port)
    except CannotListen:
        return listen(address, 0)


def _refused(address: str, port: int, error: OSError) -> str:
    if error.errno == errno.EADDRINUSE:
        return f"Port {port} at {address} is taken by another program."
    if error.errno == errno.EACCES:
        return f"This system does not let you use port {port}: choose one from 1024 to 65535."
    if error.errno == errno.EADDRNOTAVAIL:
        return f"{address} is not an address of this computer."
    return f"Port {port} at {address} cannot be used: {error.strerror}."
