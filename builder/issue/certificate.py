"""
Certificates by which this computer vouches for itself on a site's own network.

Phones start the app's worker and sign entries only at an https address they trust, and nobody
outside vouches for a local address. So this computer makes a root once, which each phone is told
to trust, and with it an issuer, which signs a fresh server certificate at each start. The issuer is
bound to local addresses and names, and the root's key is thrown away as soon as it has signed the
issuer: even a stolen copy of what is kept here cannot speak for any site of the public internet.
"""

import contextlib
import ipaddress
import os
import ssl
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from builder.issue.address import LOOPBACK_NETWORK, PRIVATE_NETWORKS

# Phones refuse server certificates valid for longer than 398 days (CA/Browser Forum baseline, since
# 2020). A start makes a new one each time, so a short life costs nothing.
_SERVER_LIFE = timedelta(days=90)
_ROOT_LIFE = timedelta(days=5 * 365)
# A phone's clock may be behind ours.
_HEAD_START = timedelta(days=1)
_LOCAL_NAMES = "local"


class BadAuthority(Exception):
    """What is kept cannot be used; the text says what to do."""


@dataclass(frozen=True)
class Authority:
    """What phones are asked to trust (the root), and what signs for the servers (the issuer)."""

    root: x509.Certificate
    issuer: x509.Certificate
    key: ec.EllipticCurvePrivateKey

    @property
    def root_file(self) -> bytes:
        """The root as phones take it."""
        return self.root.public_bytes(serialization.Encoding.DER)

    @property
    def fingerprint(self) -> str:
        """SHA-256 of that file in pairs, as phones show it."""
        return self.root.fingerprint(hashes.SHA256()).hex(":").upper()

    @property
    def name(self) -> str:
        return self.root.subject.get_attributes_for_oid(NameOID.COMMON_NAME)[0].value

    @property
    def ends(self) -> datetime:
        return self.issuer.not_valid_after_utc


def kept_authority(folder: Path, computer: str, now: datetime) -> tuple[Authority, bool]:
    """What the folder keeps, and whether it had to be made just now."""
    file = folder / "authority.pem"
    with contextlib.suppress(FileNotFoundError):
        kept = _read(file)
        if now + _SERVER_LIFE < kept.ends:
            return kept, False
    made = make_authority(computer, now)
    _keep(file, made)
    return made, True


def make_authority(computer: str, now: datetime) -> Authority:
    """A new root and its issuer, bound to local addresses and `.local` names."""
    root_key, key = ec.generate_private_key(ec.SECP256R1()), ec.generate_private_key(ec.SECP256R1())
    name = _name(f"Pitslate on {computer} {now:%Y-%m-%d}"[:64])
    start, end = now - _HEAD_START, now + _ROOT_LIFE
    root = _sign(_authority_builder(name, name, root_key, start, end, levels=1), root_key)
    bound = [*map(x509.IPAddress, [*PRIVATE_NETWORKS, LOOPBACK_NETWORK]), x509.DNSName(_LOCAL_NAMES)]
    issuer = _authority_builder(_name("Pitslate issuer"), name, key, start, end, levels=0)
    issuer = issuer.add_extension(x509.NameConstraints(bound, None), critical=True)
    issuer = issuer.add_extension(_signed_by(root_key), critical=False)
    return Authority(root, _sign(issuer, root_key), key)


def server_certificate(
    authority: Authority, address: str, names: list[str], now: datetime
) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    """A certificate for this address and these `.local` names, with its own key."""
    key = ec.generate_private_key(ec.SECP256R1())
    alternatives = [x509.IPAddress(ipaddress.ip_address(address)), *map(x509.DNSName, names)]
    start, end = now - _HEAD_START, now + _SERVER_LIFE
    builder = (
        _builder(_name(f"Pitslate at {address}"), authority.issuer.subject, key, start, end)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_key_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(alternatives), critical=False)
        .add_extension(_signed_by(authority.key), critical=False)
    )
    return _sign(builder, authority.key), key


def tls_context(authority: Authority, address: str, names: list[str], now: datetime, folder: Path) -> ssl.SSLContext:
    """What a server needs to speak https as this address."""
    certificate, key = server_certificate(authority, address, names, now)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    # Python takes a key only from a file: it exists for this moment, for this user only.
    with _private_draft(folder, _text(key, certificate, authority.issuer)) as file:
        context.load_cert_chain(file)
    return context


def _read(file: Path) -> Authority:
    text = file.read_bytes()
    try:
        key = serialization.load_pem_private_key(text, password=None)
        issuer, root = x509.load_pem_x509_certificates(text)
        issuer.verify_directly_issued_by(root)
        whole = issuer.public_key() == key.public_key()
    except (ValueError, TypeError, InvalidSignature):
        whole = False
    if not whole:
        raise BadAuthority(
            f"{file} is damaged: this computer cannot vouch for itself with it.\n"
            "  Move the file away and start again; every phone then has to trust the new certificate once."
        )
    return Authority(root, issuer, key)


def _keep(file: Path, authority: Authority) -> None:
    with _private_draft(file.parent, _text(authority.key, authority.issuer, authority.root)) as draft:
        os.replace(draft, file)


@contextlib.contextmanager
def _private_draft(folder: Path, text: bytes) -> Iterator[str]:
    """A file that only this user may read, gone after the block unless it was renamed."""
    # On Windows the folder lies in the user's profile, which other users cannot read.
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, file = tempfile.mkstemp(dir=folder, suffix=".pem")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        yield file
    finally:
        with contextlib.suppress(FileNotFoundError):
            os.unlink(file)


def _authority_builder(
    subject: x509.Name,
    issuer: x509.Name,
    key: ec.EllipticCurvePrivateKey,
    start: datetime,
    end: datetime,
    *,
    levels: int,
) -> x509.CertificateBuilder:
    """The beginnings of a certificate that may sign others, `levels` deep."""
    builder = _builder(subject, issuer, key, start, end)
    builder = builder.add_extension(x509.BasicConstraints(ca=True, path_length=levels), critical=True)
    return builder.add_extension(_key_usage(signs_certificates=True), critical=True)


def _builder(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, start: datetime, end: datetime
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(end)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _key_usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _signed_by(key: ec.EllipticCurvePrivateKey) -> x509.AuthorityKeyIdentifier:
    return x509.AuthorityKeyIdentifier.from_issuer_public_key(key.public_key())


def _sign(builder: x509.CertificateBuilder, key: ec.EllipticCurvePrivateKey) -> x509.Certificate:
    return builder.sign(key, hashes.SHA256())


def _text(key: ec.EllipticCurvePrivateKey, *certificates: x509.Certificate) -> bytes:
    """A key and certificates, one after the other, as PEM."""
    pem = serialization.Encoding.PEM
    plain = serialization.NoEncryption()
    parts = [key.private_bytes(pem, serialization.PrivateFormat.PKCS8, plain)]
    return b"".join(parts + [certificate.public_bytes(pem) for certificate in certificates])


def _name(text: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, text)])
