"""Offer a built site to phones: over https, with a start page for phones that don't trust this computer yet."""

import json
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path

from builder.issue.address import CannotListen, listen, listen_near
from builder.issue.certificate import Authority, kept_authority, tls_context
from builder.issue.computer import Computer
from builder.issue.last_address import changed_from
from builder.issue.qr import terminal_qr
from builder.issue.serve import Server, serving
from builder.issue.shelf import Folder
from builder.issue.start_page import start_page

PHONES_PORT = 8443
_START_PORT = 8081

Out = Callable[[str], None]


def offer_to_phones(
    site: Path, port: int, wished: str | None, computer: Computer, servers: ExitStack, out: Out
) -> None:
    """Start both servers and say where they are, what is secured and what is not."""
    address = _address(wished, computer)
    names = [f"{computer.name.lower()}.local"]
    hosts = {address, *names}
    now = computer.clock()

    listener = _listen_at_the_same_port_as_ever(address, port)
    servers.callback(listener.close)
    authority, is_new = kept_authority(computer.own_folder, computer.name, now)
    tls = tls_context(authority, address, names, now, computer.own_folder)
    job = servers.enter_context(serving(Server(listener, Folder(site), hosts, tls)))
    job_address = f"https://{address}:{job.port}/"

    start_shelf = start_page(authority, job_address)
    start = servers.enter_context(serving(Server(listen_near(address, _START_PORT), start_shelf, hosts)))
    start_address = f"http://{address}:{start.port}/"

    out(f"For phones: {job_address}")
    _show_start(start_address, computer, out)
    _show_certificate(authority, is_new, out)
    _warn_of_changed_address(site, job_address, computer, out)
    others = [other for other in computer.addresses if other != address]
    if others:
        out(f"Other addresses of this computer: {', '.join(others)} (choose one with --address).")
    out(
        "\nSecured: the job's pages, for phones that trust the certificate.\n"
        "Not secured: the start page; and anybody on this network can read the job while this runs.\n"
        f"If phones find nothing here, let this computer's firewall accept ports {job.port} and {start.port}.\n"
    )


def _address(wished: str | None, computer: Computer) -> str:
    if wished in computer.addresses:
        return wished
    if not computer.addresses:
        raise CannotListen(
            "This computer has no address of a local network (10…, 172.16… to 172.31…, 192.168…).\n"
            "  Join the Wi-Fi that the phones use, or switch on this computer's own hotspot, and start again."
        )
    if wished is None:
        return computer.addresses[0]
    raise CannotListen(
        f"{wished} is not this computer's address on a local network: it has {', '.join(computer.addresses)}."
    )


def _listen_at_the_same_port_as_ever(address: str, port: int):
    try:
        return listen(address, port)
    except CannotListen as refused:
        raise CannotListen(
            f"{refused}\n"
            "  No other is taken instead: phones keep their record under the address they first opened.\n"
            "  End what uses it (perhaps an earlier issue), or choose a port for good with --phones PORT."
        ) from None


def _show_start(start_address: str, computer: Computer, out: Out) -> None:
    out(f"\nA phone that is new to this computer starts here: {start_address}")
    drawn = terminal_qr(start_address, computer.encoding, colours=computer.colours)
    out(drawn or "(This terminal cannot draw the QR code: type the address.)")


def _show_certificate(authority: Authority, is_new: bool, out: Out) -> None:
    pairs = authority.fingerprint.split(":")
    out(f"\nIt is asked to trust: {authority.name}")
    out("with this SHA-256 fingerprint, to compare on the phone:")
    out(f"  {' '.join(pairs[:16])}\n  {' '.join(pairs[16:])}")
    if is_new:
        out("It was made just now: a phone that trusted an earlier one has to trust this one too.")


def _warn_of_changed_address(site: Path, job_address: str, computer: Computer, out: Out) -> None:
    job = json.loads((site / "build.json").read_text(encoding="utf-8"))["job"]
    former = changed_from(computer.own_folder, job, job_address)
    if former:
        out(
            f"\nTHE ADDRESS HAS CHANGED: this job was issued at {former} before.\n"
            "Phones keep their record under that address and start empty under the new one. Collect the records\n"
            "first, or get the old address back (in the router: a fixed address for this computer)."
        )
