"""What the server says with each answer, over real sockets on loopback."""

import gzip
import http.client
import socket
import time

import pytest

from builder.issue.address import listen
from builder.issue.serve import Server, serving
from builder.issue.shelf import Pages
from builder.policy import CONTENT_POLICY

LONG = b"cable " * 1000


def ask(server, path="/", method="GET", **headers):
    """One request; gives the status, the headers and the body."""
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=5)
    connection.request(method, path, headers={name.replace("_", "-"): value for name, value in headers.items()})
    answer = connection.getresponse()
    body = answer.read()
    connection.close()
    return answer.status, answer.headers, body


def test_every_answer_forbids_foreign_code_and_guessed_types(serve):
    """A page, a missing page and a refused one carry the same protecting headers."""
    server = serve({"index.html": b"job"})
    for answer in (ask(server), ask(server, "/missing"), ask(server, Host="elsewhere.example")):
        headers = answer[1]
        assert headers["Content-Security-Policy"] == f"{CONTENT_POLICY}; frame-ancestors 'none'"
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Cache-Control"] == "no-cache"


def test_found_page_comes_whole_and_missing_one_is_404(serve):
    """The body and its length are those of the file."""
    server = serve({"index.html": b"job"})
    status, headers, body = ask(server)
    assert (200, "3", b"job") == (status, headers["Content-Length"], body)
    assert ask(server, "/tasks/")[0] == 404


def test_head_says_the_same_without_the_body(serve):
    """HEAD gives the length of the body it leaves out."""
    status, headers, body = ask(serve({"index.html": b"job"}), method="HEAD")
    assert (200, "3", b"") == (status, headers["Content-Length"], body)


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE"])
def test_nothing_can_be_written(serve, method):
    """The server only reads."""
    assert ask(serve({"index.html": b"job"}), method=method)[0] == 501


def test_unchanged_file_is_not_sent_again(serve):
    """A phone that names the tag it has gets 304 and no body; another tag gets the file."""
    server = serve({"index.html": b"job"})
    tag = ask(server)[1]["ETag"]
    assert ask(server, If_None_Match=tag)[::2] == (304, b"")
    assert ask(server, If_None_Match='W/"other"')[::2] == (200, b"job")


def test_long_text_is_packed_for_browsers_that_unpack(serve):
    """gzip is used when asked for, and gives back the same bytes."""
    server = serve({"index.html": LONG})
    _, headers, packed = ask(server, Accept_Encoding="gzip, br")
    assert headers["Content-Encoding"] == "gzip"
    assert len(packed) < len(LONG) / 10
    assert gzip.decompress(packed) == LONG
    assert ask(server)[2] == LONG


def test_pictures_are_not_packed(serve):
    """What is packed already is left alone."""
    assert ask(serve({"mark.png": LONG}), "/mark.png", Accept_Encoding="gzip")[1]["Content-Encoding"] is None


def test_request_under_another_sites_name_is_refused(serve):
    """A foreign name pointed at this computer reads nothing."""
    status, _, body = ask(serve({"index.html": b"job"}), Host="elsewhere.example")
    assert status == 421
    assert b"job" not in body


def test_one_connection_serves_several_requests(serve):
    """Connections are kept open between files."""
    server = serve({"index.html": b"job"})
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=5)
    for _ in range(3):
        connection.request("GET", "/")
        assert connection.getresponse().read() == b"job"
    connection.close()


def test_ended_server_hangs_up_on_open_connections():
    """Once it has ended, nothing more is read, not even over a connection from before."""
    server = Server(listen("127.0.0.1", 0), Pages({"index.html": b"job"}), {"127.0.0.1"})
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=5)
    with serving(server):
        connection.request("GET", "/")
        assert connection.getresponse().read() == b"job"
    with pytest.raises((http.client.RemoteDisconnected, ConnectionError)):
        connection.request("GET", "/")
        connection.getresponse()
    connection.close()


def test_silent_caller_does_not_hold_up_the_others(serve):
    """Somebody who connects and says nothing costs the next caller no time."""
    server = serve({"index.html": b"job"})
    with socket.create_connection(("127.0.0.1", server.port)):
        begun = time.monotonic()
        assert ask(server)[0] == 200
        assert time.monotonic() - begun < 2
