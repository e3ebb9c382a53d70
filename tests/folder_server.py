"""A folder served on loopback, that can be taken off the network and put back at the same address."""

from contextlib import ExitStack
from pathlib import Path

from builder.issue.address import LOOPBACK, listen
from builder.issue.serve import Server, serving
from builder.issue.shelf import Folder


class FolderServer:
    """Serves until stopped; `url` stays the same over stops and starts."""

    def __init__(self, folder: Path):
        self._folder = folder
        self._port = 0
        self._running = ExitStack()
        self.start()

    @property
    def url(self) -> str:
        return f"http://{LOOPBACK}:{self._port}/"

    def start(self) -> None:
        server = Server(listen(LOOPBACK, self._port), Folder(self._folder), {LOOPBACK, "localhost"})
        self._running.enter_context(serving(server))
        self._port = server.port

    def stop(self) -> None:
        self._running.close()
