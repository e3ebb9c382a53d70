"""Issuing as a whole: what runs, what is said, and that it ends quietly."""

import json
import re
import ssl
import urllib.error
import urllib.request
from datetime import UTC, datetime
from pathlib import Path

import pytest

from builder.issue import issue
from builder.issue.address import listen
from builder.issue.computer import Computer, own_folder


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A site of one page, built for a job."""
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "index.html").write_text("the job")
    (folder / "build.json").write_text(json.dumps({"build": "0123456789ab", "job": "substation"}))
    return folder


@pytest.fixture
def free_port() -> int:
    """A port that was free a moment ago."""
    with listen("127.0.0.1", 0) as found:
        return found.getsockname()[1]


def issued(site, look=lambda said: None, **options) -> tuple[int, str]:
    """Issue, look around while it runs, end it with Ctrl-C; gives the exit code and all that was said."""
    said = []

    def until():
        look("\n".join(said))
        raise KeyboardInterrupt

    return issue(site, out=said.append, until=until, **options), "\n".join(said)


def fetch(address: str, context: ssl.SSLContext | None = None) -> bytes:
    """What a browser gets there, past any proxy."""
    opener = urllib.request.build_opener(urllib.request.ProxyHandler({}), urllib.request.HTTPSHandler(context=context))
    with opener.open(address, timeout=5) as answer:
        return answer.read()


def test_this_computers_browser_finds_the_job(site, free_port):
    """The address that is said leads to the page, and Ctrl-C ends it with exit code 0."""
    seen = []
    code, said = issued(site, lambda _: seen.append(fetch(f"http://127.0.0.1:{free_port}/")), port=free_port)
    assert [b"the job"] == seen
    assert 0 == code
    assert "go on without this computer" in said


def test_taken_port_gives_way_and_is_said(site):
    """Another program on the wished port is no reason to stop."""
    with listen("127.0.0.1", 0) as other:
        port = other.getsockname()[1]
        code, said = issued(site, port=port)
    assert 0 == code
    assert f"Port {port} cannot be had" in said


def test_phone_goes_from_the_start_page_to_the_job(site, free_port, computer):
    """Start page, certificate, trust, job over https: each address taken from the page before."""

    def as_a_phone(said):
        start = re.search(r"starts here: (\S+)", said)[1]
        page = fetch(start).decode()
        job = re.search(r'href="(https:[^"]+)"', page)[1]
        with pytest.raises(urllib.error.URLError, match="CERTIFICATE_VERIFY_FAILED"):
            fetch(job, ssl.create_default_context(cadata=None))
        certificate = fetch(start + re.search(r'href="([^"]+\.crt)"', page)[1])
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(cadata=ssl.DER_cert_to_PEM_cert(certificate))
        assert b"the job" == fetch(job, context)

    code, _ = issued(site, as_a_phone, port=0, phones=free_port, computer=computer)
    assert 0 == code


def test_start_page_does_not_show_the_number_it_asks_to_compare(site, free_port, computer):
    """A swapped page could show a swapped number, so only the computer's screen shows it."""
    pages = []
    _, said = issued(
        site,
        lambda said: pages.append(fetch(re.search(r"starts here: (\S+)", said)[1]).decode()),
        port=0,
        phones=free_port,
        computer=computer,
    )
    first_pairs = re.search(r"fingerprint.*\n\s*((?:[0-9A-F]{2} ){4})", said)[1].split()
    assert not re.search("[ :]?".join(first_pairs), pages[0], re.IGNORECASE)


def test_screen_says_what_is_not_secured(site, free_port, computer):
    """Whoever issues is told who can read the job."""
    _, said = issued(site, port=0, phones=free_port, computer=computer)
    assert "Not secured: the start page; and anybody on this network can read the job" in said


def test_taken_phones_port_is_refused_not_moved(site, computer):
    """Phones keep their record under the first address, so another port is never taken silently."""
    with listen("127.0.0.1", 0) as other:
        port = other.getsockname()[1]
        code, said = issued(site, port=0, phones=port, computer=computer)
    assert 2 == code
    assert f"Port {port} at 127.0.0.1 is taken" in said
    assert "phones keep their record under the address" in said


def test_changed_address_is_called_out(site, free_port, computer):
    """A job issued at another address than before is a warning, not a surprise."""
    _, first = issued(site, port=0, phones=free_port, address="127.0.0.1", computer=computer)
    _, same = issued(site, port=0, phones=free_port, address="127.0.0.1", computer=computer)
    assert "THE ADDRESS HAS CHANGED" not in first + same
    with listen("127.0.0.1", 0) as found:
        other_port = found.getsockname()[1]
    _, moved = issued(site, port=0, phones=other_port, address="127.0.0.1", computer=computer)
    assert f"this job was issued at https://127.0.0.1:{free_port}/ before" in moved


@pytest.mark.parametrize(
    ("addresses", "wished", "words"),
    [
        ([], None, "no address of a local network"),
        (["127.0.0.1"], "192.168.7.7", "192.168.7.7 is not this computer's address"),
    ],
)
def test_phones_without_a_network_are_refused_in_plain_words(site, tmp_path, addresses, wished, words):
    """No network, or an address that is another computer's."""
    nowhere = Computer("laptop", addresses, tmp_path / "own", clock=lambda: datetime.now(UTC))
    code, said = issued(site, port=0, phones=8443, address=wished, computer=nowhere)
    assert 2 == code
    assert words in said


@pytest.mark.parametrize(
    ("platform", "environ", "folder"),
    [
        ("linux", {}, "home/.local/share/pitslate"),
        ("linux", {"XDG_DATA_HOME": "data"}, "data/pitslate"),
        ("darwin", {}, "home/Library/Application Support/Pitslate"),
        ("win32", {"LOCALAPPDATA": "local"}, "local/Pitslate"),
        ("win32", {}, "home/AppData/Local/Pitslate"),
    ],
)
def test_keys_are_kept_where_each_system_keeps_a_users_own_things(platform, environ, folder):
    """XDG base directories, Apple's file system guide, Windows known folders."""
    assert Path(folder) == own_folder(platform, environ, Path("home"))
