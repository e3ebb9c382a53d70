"""Issue a built site: to a browser on this computer, or over https to phones on the local network."""

import time
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path

from builder.issue.address import LOOPBACK, CannotListen, listen_near
from builder.issue.certificate import BadAuthority
from builder.issue.computer import Computer, this_computer
from builder.issue.phones import PHONES_PORT, offer_to_phones
from builder.issue.qr import terminal_qr
from builder.issue.serve import Server, serving
from builder.issue.shelf import Folder

__all__ = ["PHONES_PORT", "PORT", "issue", "this_computer"]

PORT = 8080

_GOOD, _WRONG_COMMAND = 0, 2


def _interrupted() -> None:
    # An endless wait on a lock would not hear Ctrl-C on Windows; a sleep does.
    while True:
        time.sleep(1)


def issue(
    site: Path,
    *,
    port: int = PORT,
    phones: int | None = None,
    address: str | None = None,
    out: Callable[[str], None] = print,
    computer: Computer | None = None,
    until: Callable[[], None] = _interrupted,
) -> int:
    """
    Serve a built site until Ctrl-C; gives the exit code.

    Inputs
      site      the folder that the build wrote
      port      where this computer's own browser finds it; any free port when it is taken
      phones    the https port for phones on the local network; none: for this computer only
      address   which of this computer's addresses phones use; the one that leads outside if left out
      out       takes what there is to say, line by line
      computer  the computer that issues; this one if left out
      until     waits for the end
    """
    computer = computer or this_computer()
    with ExitStack() as servers:
        try:
            here = _offer_here(site, port, servers, out)
            if phones:
                offer_to_phones(site, phones, address, computer, servers, out)
            elif drawn := terminal_qr(here, computer.encoding, colours=computer.colours):
                out(drawn)
        except (CannotListen, BadAuthority) as refused:
            out(str(refused))
            return _WRONG_COMMAND
        out("Ctrl-C ends it.")
        try:
            until()
        except KeyboardInterrupt:
            out("\nEnded. Phones that have opened the job go on without this computer.")
    return _GOOD


def _offer_here(site: Path, port: int, servers: ExitStack, out: Callable[[str], None]) -> str:
    server = Server(listen_near(LOOPBACK, port), Folder(site), {LOOPBACK, "localhost"})
    servers.enter_context(serving(server))
    if server.port != port:
        out(
            f"Port {port} cannot be had, so this is port {server.port}: a browser shows nothing that was entered at {port}."
        )
    here = f"http://{LOOPBACK}:{server.port}/"
    out(f"On this computer: {here}")
    return here
