"""The published schema of a record says what the code accepts."""

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from builder.places import SHARED
from tests.record.conftest import vectors
from tests.record.phone import Phone, record_text

SCHEMA = json.loads((SHARED / "record.schema.json").read_text(encoding="utf-8"))
PAYLOAD = Draft202012Validator(SCHEMA | SCHEMA["$defs"]["payload"])
ENTRIES = vectors("chain.json")["entries"]
# What is wrong with these can't be seen in the values: how they are written, or what belongs to what.
BEYOND = ("another phone's key", "another job", "a key that stands twice", "a key that stands twice, deeper", "blanks between",
          "blank at the end", "keys in another order", "a letter written as its number", "half a character, written as its number",
          "longer than an entry may be", "nested a thousand deep", "a settle that chooses what it does not name", "seq with a point", "minus nothing",
          "seen: {'340101e544aaa507650b7867b0376cfe': 3}")


def _value(text: str) -> Any:
    try:
        return json.loads(text)
    except ValueError:
        return text


def test_schema_is_one() -> None:
    """The schema itself is a valid one."""
    Draft202012Validator.check_schema(SCHEMA)


def test_a_record_file_fits_the_schema() -> None:
    """What a phone writes is what the schema describes."""
    phone = Phone("Ana's phone")
    record = json.loads(record_text(phone.entries, phone))
    assert [] == list(Draft202012Validator(SCHEMA).iter_errors(record))
    assert Draft202012Validator(SCHEMA).is_valid(record | {"photos": {"0" * 64: "/9j/"}})
    assert not Draft202012Validator(SCHEMA).is_valid(record | {"photos": {"pit.jpg": "/9j/"}})
    assert not Draft202012Validator(SCHEMA).is_valid(record | {"format": "pitslate/record/2"})


@pytest.mark.parametrize("vector", [one for one in ENTRIES if one["title"] not in BEYOND], ids=lambda vector: vector["title"])
def test_schema_and_code_accept_the_same_payloads(vector: dict) -> None:
    """A payload fits the schema exactly when it is accepted."""
    assert (vector["verdict"] is None) == PAYLOAD.is_valid(_value(vector["payload"]))
