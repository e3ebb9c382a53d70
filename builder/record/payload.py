"""What an entry's payload may say, and the one text that says it."""

import json
import re
from typing import Any

from builder.record.entry_kinds import KINDS, WITH_UNIT
from builder.words import say

MOST_BYTES = 65536
MOST_COUNT = 2**53 - 1
_DEEPEST = 8
KEYS = (
    "v", "dev", "seq", "prev", "seen", "at", "who", "job", "build",
    "kind", "sheet", "step", "value", "unit", "shown", "about",
)
VERDICTS = ("within", "outside", "cant-tell")

_DEV = re.compile(r"[0-9a-f]{32}")
_ID = re.compile(r"[0-9a-f]{64}")
_BUILD = re.compile(r"[0-9a-f]{12}")
_NAME = re.compile(r"[a-z][a-z0-9_-]*")
_AT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}[+-][0-9]{2}:[0-9]{2}")
# A drawn signature, on a field of 600 by 200: strokes of straight lines between whole points.
_DRAWN = re.compile(r"(M[0-9]{1,3} [0-9]{1,3}(L[0-9]{1,3} [0-9]{1,3})*)+")
_MOST_DRAWN = 8192
# The last digit carries spare bits, which must be zero: one value, one text.
_KEY = re.compile(r"[A-Za-z0-9_-]{86}[AEIMQUYcgkosw048]")
_UNUSUAL = "Its text is not written the way entries are written."

Fields = dict[str, Any]


class NotAccepted(Exception):
    """Why an entry is kept aside: `broken` or `foreign`, and a sentence."""

    def __init__(self, verdict: str, reason: str):
        super().__init__(reason)
        self.verdict, self.reason = verdict, reason


def payload_text(fields: Fields) -> str:
    """The payload's text, keys in their order."""
    return _written({key: 1 if key == "v" else fields[key] for key in _keys(fields)})


def open_payload(text: str) -> Fields:
    """
    The fields of a payload text. Raises NotAccepted.

    Only the form that `payload_text` writes is accepted, so that no two readers can read the same bytes
    differently.
    """
    fields = _parsed(text)
    version, kind = fields.get("v"), fields.get("kind")
    if type(version) is int and version != 1:
        raise NotAccepted("foreign", "It was written by a version that is not known here.")
    if version == 1 and version is not True and isinstance(kind, str) and kind not in KINDS:
        raise NotAccepted("foreign", say("record_why.kind", kind=kind))
    keys = _keys(fields)
    if tuple(fields) != keys or _written(fields) != text:
        raise NotAccepted("broken", _UNUSUAL)
    for key in keys:
        if not _FORMS[key](fields[key], fields):
            raise NotAccepted("broken", say("record_why.form", key=key))
    return fields


def _keys(fields: Fields) -> tuple[str, ...]:
    kind = fields.get("kind")
    return KEYS + KINDS[kind].keys if isinstance(kind, str) and kind in KINDS else KEYS


def _parsed(text: str) -> Fields:
    if len(text.encode()) > MOST_BYTES:
        raise NotAccepted("broken", "It is longer than 64 KiB.")
    try:
        fields = _READ(text)
    except (ValueError, RecursionError):
        fields = None
    # Without as many brackets there is no such depth, and the look for it is saved.
    if not isinstance(fields, dict) or (text.count("{") + text.count("[") > _DEEPEST and _is_deep(fields)):
        raise NotAccepted("broken", _UNUSUAL)
    return fields


def _no_number(text: str) -> None:
    raise ValueError(text)


# Every number of a payload counts something.
_READ = json.JSONDecoder(parse_constant=_no_number, parse_float=_no_number).decode
_written = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), check_circular=False).encode


def _is_deep(value: Any) -> bool:
    """Whether a value nests deeper than any payload does; phone and desk give up at the same depth."""
    level = [value]
    for _ in range(_DEEPEST + 1):
        level = [
            inner for held in level if isinstance(held, dict | list)
            for inner in (held.values() if isinstance(held, dict) else held)
        ]
        if not level:
            return False
    return True


def is_dev(value: Any) -> bool:
    """Whether a value is the name of a device."""
    return isinstance(value, str) and _DEV.fullmatch(value) is not None


def is_count(value: Any) -> bool:
    """Whether a value is a whole number from 0 that every reader holds exactly."""
    return type(value) is int and 0 <= value <= MOST_COUNT


def is_id(value: Any) -> bool:
    """Whether a value is the id of an entry."""
    return isinstance(value, str) and _ID.fullmatch(value) is not None


def _is_text(value: Any) -> bool:
    return isinstance(value, str) and value != ""


def _matches(form: re.Pattern, value: Any) -> bool:
    return isinstance(value, str) and form.fullmatch(value) is not None


def _is_seen(value: Any, fields: Fields) -> bool:
    return isinstance(value, dict) and all(
        _DEV.fullmatch(dev) and dev != fields["dev"] and is_count(seq) for dev, seq in value.items()
    )


def _is_step(value: Any, fields: Fields) -> bool:
    speaks = KINDS[fields["kind"]].step
    return speaks != "none" if _is_text(value) else value is None and speaks != "named"


def _is_unit(value: Any, fields: Fields) -> bool:
    if fields["kind"] == "measured":
        return _is_text(value)
    return value is None or (fields["kind"] in WITH_UNIT and _is_text(value))


def _is_about(value: Any, fields: Fields) -> bool:
    if not isinstance(value, list) or not all(map(is_id, value)) or len(set(value)) != len(value):
        return False
    fewest, most = KINDS[fields["kind"]].about
    return fewest <= len(value) <= most and (fields["kind"] != "settle" or fields["value"] in value)


def _is_photo(value: Any) -> bool:
    return (
        isinstance(value, dict) and tuple(value) == ("sha256", "bytes", "width", "height")
        and is_id(value["sha256"]) and all(is_count(value[size]) and value[size] > 0 for size in ("bytes", "width", "height"))
    )


def _is_shown(value: Any) -> bool:
    return (
        isinstance(value, dict) and tuple(value) == ("verdict", "working")
        and (value["verdict"] is None or value["verdict"] in VERDICTS)
        and isinstance(value["working"], dict)
        and all(
            _NAME.fullmatch(name) and isinstance(outputs, dict)
            and all(_NAME.fullmatch(output) and isinstance(text, str) for output, text in outputs.items())
            for name, outputs in value["working"].items()
        )
    )


_FORMS = {
    "v": lambda value, _: value == 1 and type(value) is int,
    "dev": lambda value, _: is_dev(value),
    "seq": lambda value, fields: is_count(value) and (value == 0) == (fields["kind"] == "device"),
    "prev": lambda value, fields: value is None if fields["seq"] == 0 else is_id(value),
    "seen": _is_seen,
    "at": lambda value, _: _matches(_AT, value),
    "who": lambda value, _: _is_text(value),
    "job": lambda value, _: _is_text(value),
    "build": lambda value, _: _matches(_BUILD, value),
    "kind": lambda value, _: isinstance(value, str),
    "sheet": lambda value, fields: value is None if fields["kind"] == "device" else _is_text(value),
    "step": _is_step,
    "value": lambda value, fields: isinstance(value, str) and (value != "" or KINDS[fields["kind"]].empty),
    "unit": _is_unit,
    "shown": lambda value, fields: value is None or (fields["kind"] in WITH_UNIT and _is_shown(value)),
    "about": _is_about,
    "key": lambda value, _: _matches(_KEY, value),
    "continues": lambda value, fields: value is None or (is_dev(value) and value != fields["dev"]),
    "waits_for": lambda value, _: value is None or _is_text(value),
    "photo": lambda value, _: _is_photo(value),
    "drawn": lambda value, _: value == "" or (_matches(_DRAWN, value) and len(value) <= _MOST_DRAWN),
}
