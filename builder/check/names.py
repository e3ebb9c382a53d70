"""Names as they are written in YAML, and as expressions call them."""

import re
from typing import Annotated

from pydantic import AfterValidator
from pydantic_core import PydanticCustomError

_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
# What every object of the phone's language has already: looked up under such a name, it would answer for what isn't there.
_PHONES_OWN = {"constructor", "hasOwnProperty", "isPrototypeOf", "propertyIsEnumerable", "toLocaleString", "toString", "valueOf"}
_ITEM = re.compile(r"[A-Za-z][A-Za-z0-9]*(-[A-Za-z0-9]+)*")


def in_expressions(name: str) -> str:
    """`length-in-hand` as an expression calls it: `length_in_hand`."""
    return name.replace("-", "_")


def _checked_name(text: str) -> str:
    if not _NAME.fullmatch(text):
        raise PydanticCustomError("name", "`{given}` is not a name: small letters, digits and single hyphens", {"given": text})
    return _free(text)


def _checked_item(text: str) -> str:
    if not _ITEM.fullmatch(text):
        raise PydanticCustomError("name", "`{given}` is not a name: letters, digits and single hyphens", {"given": text})
    return _free(text)


def _free(text: str) -> str:
    if text in _PHONES_OWN:
        raise PydanticCustomError("name", "`{given}` has a meaning of its own on the phone: choose another name", {"given": text})
    return text


Name = Annotated[str, AfterValidator(_checked_name)]
ItemName = Annotated[str, AfterValidator(_checked_item)]
