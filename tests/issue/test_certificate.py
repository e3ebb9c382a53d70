"""Certificates held against real TLS handshakes, by a caller that trusts the root alone."""

import http.client
import os
import socket
import ssl
import time
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding

from builder.issue.certificate import (
    BadAuthority,
    kept_authority,
    make_authority,
    server_certificate,
    tls_context,
)
from tests.issue.conftest import NOW


def trusting(authority) -> ssl.SSLContext:
    """A caller that trusts this root and no other, and goes by the letter of RFC 5280."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.verify_flags |= ssl.VERIFY_X509_STRICT
    context.load_verify_locations(cadata=authority.root.public_bytes(Encoding.PEM).decode())
    return context


@pytest.fixture
def authority():
    """A root and issuer made today."""
    return make_authority("site-laptop", datetime.now(UTC))


def served(serve, authority, folder, address="127.0.0.1", names=()):
    """A server that says it is this address, though it listens on loopback."""
    return serve({"index.html": b"job"}, tls_context(authority, address, list(names), datetime.now(UTC), folder))


def shake_hands(server, context, name) -> None:
    """A TLS handshake with the loopback server under another address or name."""
    with (
        socket.create_connection(("127.0.0.1", server.port), timeout=5) as plain,
        context.wrap_socket(plain, server_hostname=name) as secured,
    ):
        assert secured.version() in ("TLSv1.2", "TLSv1.3")


def test_caller_that_trusts_the_root_gets_the_page(serve, authority, tmp_path):
    """The whole way: handshake, request, page."""
    server = served(serve, authority, tmp_path)
    connection = http.client.HTTPSConnection("127.0.0.1", server.port, timeout=5, context=trusting(authority))
    connection.request("GET", "/")
    assert connection.getresponse().read() == b"job"
    connection.close()


@pytest.mark.parametrize("name", ["192.168.1.20", "site-laptop.local"])
def test_caller_may_use_the_address_or_the_local_name(serve, authority, tmp_path, name):
    """Both are written into the certificate."""
    server = served(serve, authority, tmp_path, "192.168.1.20", ["site-laptop.local"])
    shake_hands(server, trusting(authority), name)


def test_caller_at_another_address_is_refused(serve, authority, tmp_path):
    """A certificate for one address is none for its neighbour."""
    server = served(serve, authority, tmp_path, "192.168.1.20")
    with pytest.raises(ssl.SSLCertVerificationError, match="IP address mismatch"):
        shake_hands(server, trusting(authority), "192.168.1.21")


@pytest.mark.parametrize(("address", "name"), [("203.0.113.7", None), ("10.0.0.5", "bank.example")])
def test_issuer_cannot_speak_for_the_internet(serve, authority, tmp_path, address, name):
    """Whatever a stolen issuing key signs for a public address or name is refused."""
    server = served(serve, authority, tmp_path, address, [name] if name else [])
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
        shake_hands(server, trusting(authority), name or address)


def test_caller_that_does_not_trust_the_root_is_refused(serve, authority, tmp_path):
    """Another computer's root is no use here."""
    server = served(serve, authority, tmp_path)
    stranger = make_authority("another-laptop", datetime.now(UTC))
    with pytest.raises(ssl.SSLCertVerificationError):
        shake_hands(server, trusting(stranger), "127.0.0.1")


def test_silent_caller_does_not_hold_up_a_handshake(serve, authority, tmp_path):
    """Somebody who connects and never begins the handshake costs the next caller no time."""
    server = served(serve, authority, tmp_path)
    with socket.create_connection(("127.0.0.1", server.port)):
        begun = time.monotonic()
        shake_hands(server, trusting(authority), "127.0.0.1")
        assert time.monotonic() - begun < 2


def test_server_certificate_lives_no_longer_than_phones_accept():
    """398 days is the most (CA/Browser Forum baseline requirements, 6.3.2, from 2020-09-01)."""
    authority = make_authority("site-laptop", NOW)
    certificate, _ = server_certificate(authority, "10.0.0.5", [], NOW)
    life = certificate.not_valid_after_utc - certificate.not_valid_before_utc
    assert timedelta(days=30) < life <= timedelta(days=398)
    assert certificate.not_valid_before_utc < NOW


def test_server_certificate_has_what_phones_ask_for():
    """Names as alternatives, use for servers, SHA-2 (Apple support 103769, seen 2026)."""
    certificate, _ = server_certificate(make_authority("site-laptop", NOW), "10.0.0.5", ["a.local"], NOW)
    names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    uses = certificate.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert ["a.local"] == names.get_values_for_type(x509.DNSName)
    assert "10.0.0.5" == str(names.get_values_for_type(x509.IPAddress)[0])
    assert [x509.oid.ExtendedKeyUsageOID.SERVER_AUTH] == list(uses)
    assert "sha256" == certificate.signature_hash_algorithm.name


def test_authority_is_made_once_and_found_again(tmp_path):
    """The second start asks no phone to trust anything new."""
    first, was_made = kept_authority(tmp_path / "own", "site-laptop", NOW)
    again, was_made_again = kept_authority(tmp_path / "own", "site-laptop", NOW + timedelta(days=400))
    assert (True, False) == (was_made, was_made_again)
    assert first.fingerprint == again.fingerprint


def test_authority_is_replaced_before_it_ends(tmp_path):
    """A root too old to cover another server certificate gives way to a new one."""
    first, _ = kept_authority(tmp_path, "site-laptop", NOW)
    late, was_made = kept_authority(tmp_path, "site-laptop", first.ends - timedelta(days=1))
    assert was_made
    assert first.fingerprint != late.fingerprint


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps others out by the folder, not by file modes")
def test_key_is_readable_by_its_owner_only(tmp_path):
    """Nobody else on the computer can read what signs."""
    kept_authority(tmp_path / "own", "site-laptop", NOW)
    assert 0o700 == (tmp_path / "own").stat().st_mode & 0o777
    assert 0o600 == (tmp_path / "own" / "authority.pem").stat().st_mode & 0o777


def test_roots_own_key_is_not_kept(tmp_path):
    """The folder holds one file with one key, and that key is the issuer's."""
    authority, _ = kept_authority(tmp_path, "site-laptop", NOW)
    [file] = tmp_path.iterdir()
    assert 1 == file.read_text().count("BEGIN PRIVATE KEY")
    assert authority.key.public_key() == authority.issuer.public_key()
    assert authority.key.public_key() != authority.root.public_key()


def test_no_key_file_stays_behind_a_started_server(authority, tmp_path):
    """The server's own key is on disk for a moment only."""
    tls_context(authority, "127.0.0.1", [], NOW, tmp_path)
    assert [] == list(tmp_path.iterdir())


@pytest.mark.parametrize("cut", [0, 100, -200])
def test_damaged_authority_is_reported_and_left_alone(tmp_path, cut):
    """A cut file gives a sentence with the way out, and is not overwritten."""
    kept_authority(tmp_path, "site-laptop", NOW)
    file = tmp_path / "authority.pem"
    file.write_bytes(file.read_bytes()[:cut])
    before = file.read_bytes()
    with pytest.raises(BadAuthority, match="Move the file away and start again"):
        kept_authority(tmp_path, "site-laptop", NOW)
    assert before == file.read_bytes()
