"""
A small web server for the built site: reads only, says exactly what each file is, leaves nothing open.
"""

import gzip
import hashlib
import socket
import ssl
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from builder.issue.shelf import Served, Shelf
from builder.policy import CONTENT_POLICY

_ALWAYS = {
    # Only a header can keep a page out of somebody else's frame.
    "Content-Security-Policy": f"{CONTENT_POLICY}; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    # The phone asks each time whether a file changed; offline its own store answers.
    "Cache-Control": "no-cache",
    "Vary": "Accept-Encoding",
}
# A phone that walks out of range leaves its connection open: let go of it.
_PATIENCE_SECONDS = 30
_SMALLEST_WORTH_PACKING = 1000


class Server(ThreadingHTTPServer):
    """Serves one shelf on an already listening socket, to requests for the host names it answers to."""

    daemon_threads = True
    block_on_close = False

    def __init__(self, listener: socket.socket, shelf: Shelf, hosts: set[str], tls: ssl.SSLContext | None = None):
        super().__init__(listener.getsockname(), _Handler, bind_and_activate=False)
        self.socket.close()
        # The handshake waits for the first read, in the request's own thread: one silent caller
        # must not hold up the others.
        self.socket = tls.wrap_socket(listener, server_side=True, do_handshake_on_connect=False) if tls else listener
        self.shelf = shelf
        self.hosts = hosts
        self._open: set[socket.socket] = set()

    @property
    def port(self) -> int:
        return self.server_address[1]

    def process_request(self, request, client_address) -> None:
        self._open.add(request)
        super().process_request(request, client_address)

    def shutdown_request(self, request) -> None:
        self._open.discard(request)
        super().shutdown_request(request)

    def server_close(self) -> None:
        """Also hang up on browsers that hold a connection open for their next request."""
        super().server_close()
        for connection in list(self._open):
            with suppress(OSError):
                connection.shutdown(socket.SHUT_RDWR)

    def handle_error(self, request, client_address) -> None:
        """A caller who hangs up or refuses the certificate is no fault of ours; all else is shown."""
        if not isinstance(sys.exception(), OSError):
            super().handle_error(request, client_address)


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    server_version = "pitslate"
    sys_version = ""
    timeout = _PATIENCE_SECONDS
    server: Server

    def do_GET(self) -> None:
        self._answer(with_body=True)

    def do_HEAD(self) -> None:
        self._answer(with_body=False)

    def log_message(self, *_: object) -> None:
        """The terminal belongs to the person who started the server."""

    def _answer(self, *, with_body: bool) -> None:
        host = self.headers.get("Host", "").rsplit(":", 1)[0].lower()
        if host not in self.server.hosts:
            # Another site's name made to point here (DNS rebinding) must not read the job.
            self._send(HTTPStatus.MISDIRECTED_REQUEST, _plain("Ask for this computer by its address."), {}, with_body)
            return
        found = self.server.shelf.find(self.path)
        if found is None:
            self._send(HTTPStatus.NOT_FOUND, _plain("There is no such page here."), {}, with_body)
            return
        # Weak, because the packed and the plain body carry the same one.
        tag = f'W/"{hashlib.sha256(found.body).hexdigest()[:32]}"'
        if self.headers.get("If-None-Match") == tag:
            self._send(HTTPStatus.NOT_MODIFIED, None, {"ETag": tag})
            return
        self._send(HTTPStatus.OK, *_packed(found, tag, self.headers.get("Accept-Encoding", "")), with_body)

    def _send(self, status: HTTPStatus, what: Served | None, headers: dict[str, str], with_body: bool = True) -> None:
        self.send_response(status)
        for name, value in (_ALWAYS | headers).items():
            self.send_header(name, value)
        if what is not None:
            self.send_header("Content-Type", what.type)
            self.send_header("Content-Length", str(len(what.body)))
        self.end_headers()
        if what is not None and with_body:
            self.wfile.write(what.body)


@contextmanager
def serving(server: Server) -> Iterator[Server]:
    """Answer requests in the background for as long as the block lasts."""
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


def _packed(found: Served, tag: str, accepted: str) -> tuple[Served, dict[str, str]]:
    """The body, packed where the browser can unpack it and it pays."""
    is_text = found.type.startswith(("text/", "application/json", "application/manifest", "image/svg"))
    if not is_text or "gzip" not in accepted or len(found.body) < _SMALLEST_WORTH_PACKING:
        return found, {"ETag": tag}
    return Served(gzip.compress(found.body, mtime=0), found.type), {"ETag": tag, "Content-Encoding": "gzip"}


def _plain(text: str) -> Served:
    return Served(text.encode(), "text/plain; charset=utf-8")
