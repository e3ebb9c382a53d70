"""A device's chain of entries: the id of an entry, its signature, and the key that fits it."""

import base64
import hashlib
import re
from typing import NamedTuple

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec, utils

from builder.record.payload import Fields, NotAccepted, open_payload
from builder.words import say

_CURVE = ec.SECP256R1()
_SIGNING = ec.ECDSA(hashes.SHA256())
_SIGNED_AS = b"pitslate/entry/1"
# The last digit carries spare bits, which must be zero: one value, one text.
_SIG = re.compile(r"[A-Za-z0-9_-]{85}[AQgw]")


class Entry(NamedTuple):
    """What is stored and sent: the signed text, its id, and the signature."""

    payload: str
    id: str
    sig: str


def entry_id(payload: bytes) -> str:
    """Hex SHA-256 of 0x00 and the payload's bytes."""
    return hashlib.sha256(b"\x00" + payload).hexdigest()


def device_of(point: bytes) -> str:
    """The name of the device that a public key belongs to."""
    return hashlib.sha256(point).hexdigest()[:32]


def signed_bytes(payload: bytes) -> bytes:
    """What a signature is made over."""
    return _SIGNED_AS + len(payload).to_bytes(4, "big") + payload


def open_entry(entry: Entry, job: str) -> Fields:
    """
    Open an entry: text whole, id right, shape right, key and device name agree. Raises NotAccepted.

    The signature is not looked at here, because the key stands in entry 0.
    """
    try:
        payload = entry.payload.encode()
    except UnicodeEncodeError:
        raise NotAccepted("broken", "Its text holds half a character.") from None
    if entry_id(payload) != entry.id:
        raise NotAccepted("broken", "Its text is not the text its id was made from.")
    fields = open_payload(entry.payload)
    if fields["job"] != job:
        raise NotAccepted("foreign", say("record_why.job", job=fields["job"]))
    if not _SIG.fullmatch(entry.sig):
        raise NotAccepted("broken", "Its signature is not in the form of one.")
    if fields["seq"] == 0 and device_of(from_base64url(fields["key"])) != fields["dev"]:
        raise NotAccepted("broken", "Its device name is not the one its key gives.")
    return fields | {"id": entry.id}


def public_key(text: str) -> ec.EllipticCurvePublicKey | None:
    """The key of an entry 0; None when it is no point of the curve."""
    try:
        return ec.EllipticCurvePublicKey.from_encoded_point(_CURVE, from_base64url(text))
    except ValueError:
        return None


def signature_holds(key: ec.EllipticCurvePublicKey | None, entry: Entry) -> bool:
    """Whether this key signed exactly this payload."""
    if key is None:
        return False
    raw = from_base64url(entry.sig)
    pair = utils.encode_dss_signature(int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big"))
    try:
        key.verify(pair, signed_bytes(entry.payload.encode()), _SIGNING)
    except InvalidSignature:
        return False
    return True


def from_base64url(text: str) -> bytes:
    """The bytes of a base64url text without padding."""
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


def to_base64url(data: bytes) -> str:
    """Bytes as base64url without padding."""
    return base64.urlsafe_b64encode(data).rstrip(b"=").decode()
