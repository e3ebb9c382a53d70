"""A phone in Python: a key and a chain, for tests to write records with, and to forge them."""

import base64
import hashlib
import json
from typing import Any

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec, utils
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from builder.record.chain import Entry, device_of, entry_id, signed_bytes, to_base64url
from builder.record.payload import Fields, payload_text
from builder.record.record_file import FORMAT

JOB = "yard"
BUILD = "0123456789ab"
_SIGNING = ec.ECDSA(hashes.SHA256(), deterministic_signing=True)


class Phone:
    """
    One device: `tell` adds an entry to its chain.

    name   decides the key, so that the same name always signs the same bytes
    """

    def __init__(self, name: str, job: str = JOB, build: str = BUILD, continues: str | None = None):
        self.name, self.job, self.build = name, job, build
        number = int.from_bytes(hashlib.sha256(name.encode()).digest()) % (2**255)
        self.private_key = ec.derive_private_key(number, ec.SECP256R1())
        point = self.private_key.public_key().public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)
        self.dev, self.key = device_of(point), to_base64url(point)
        self.seen: dict[str, int] = {}
        self.entries: list[Entry] = []
        self.tell("device", value=name, key=self.key, continues=continues)

    def fields(self, kind: str, **given: Any) -> Fields:
        """The fields of the next entry."""
        last = self.entries[-1] if self.entries else None
        usual = {
            "dev": self.dev, "seq": len(self.entries), "prev": last and last.id, "seen": dict(self.seen),
            "at": f"2026-03-04T10:{len(self.entries) // 60 % 60:02}:{len(self.entries) % 60:02}+10:00",
            "who": "Ana Lind", "job": self.job, "build": self.build, "kind": kind, "sheet": None, "step": None,
            "value": "", "unit": None, "shown": None, "about": [],
            "waits_for": None, "drawn": "",
        }
        return usual | given

    def tell(self, kind: str, **given: Any) -> Entry:
        """Sign the next entry and add it to the chain."""
        self.entries.append(self.sign(payload_text(self.fields(kind, **given))))
        return self.entries[-1]

    def sign(self, payload: str) -> Entry:
        """An entry of exactly this text, whatever it says."""
        data = payload.encode(errors="surrogatepass")
        r, s = utils.decode_dss_signature(self.private_key.sign(signed_bytes(data), _SIGNING))
        return Entry(payload, entry_id(data), to_base64url(r.to_bytes(32, "big") + s.to_bytes(32, "big")))

    def hear(self, *phones: "Phone") -> None:
        """Take in what other phones hold, so that later entries know of it."""
        for phone in phones:
            self.seen |= {dev: max(seq, self.seen.get(dev, -1)) for dev, seq in phone.seen.items() if dev != self.dev}
            self.seen[phone.dev] = max(len(phone.entries) - 1, self.seen.get(phone.dev, -1))


def picture(number: int) -> bytes:
    """The smallest JPEG that a desk takes for one, another for each number."""
    return b"\xff\xd8\xff\xfe\x00\x04" + number.to_bytes(2) + b"\xff\xc0\x00\x0b\x08\x00\x30\x00\x40\x01\x01\x11\x00\xff\xd9"


def photo_of(data: bytes) -> dict[str, Any]:
    """What an entry says of a picture."""
    return {"sha256": hashlib.sha256(data).hexdigest(), "bytes": len(data), "width": 64, "height": 48}


def photo_map(*pictures: bytes) -> dict[str, str]:
    """Pictures as a record file carries them."""
    return {hashlib.sha256(data).hexdigest(): base64.b64encode(data).decode() for data in pictures}


def record_text(entries: list[Entry], by: Phone, **changed: Any) -> str:
    """A record file as a phone writes it."""
    heads: dict[str, list] = {}
    for entry in entries:
        try:
            fields = json.loads(entry.payload)
            heads[fields["dev"]] = max(heads.get(fields["dev"], [-1, ""]), [fields["seq"], entry.id])
        except (ValueError, TypeError, KeyError):
            continue
    record = {
        "format": FORMAT, "job": by.job, "exported_at": "2026-03-04T12:00:00+10:00", "by": by.dev, "heads": heads,
        "entries": [entry._asdict() for entry in entries], "asked": {},
    }
    return json.dumps(record | changed, ensure_ascii=False, separators=(",", ":"))
