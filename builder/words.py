"""The words that the app and the desk say, from one list per language in `assets/`. The desk speaks English."""

from functools import cache
from string import Formatter
from typing import Any

from builder.load.document import read_document
from builder.places import ASSETS

ENGLISH = "en"


@cache
def word_list(language: str = ENGLISH) -> dict[str, Any]:
    """Every word of a language, by section and name."""
    return read_document(ASSETS / f"words.{language}.yaml").data


def say(place: str, language: str = ENGLISH, /, **values: Any) -> str:
    """
    A sentence of the list, the same as `say` of `assets/app/words.mjs`.

    Inputs
      place   where it stands, as `verdict.met`
      values  what goes in its {braces}; `count` chooses one or many
    """
    text = _found(place, language)
    if isinstance(text, dict):
        text = text["one" if values.get("count") == 1 else "many"]
    return text.format(**values)


def named(name: str, language: str = ENGLISH) -> str:
    """What a name of the job file or of a library is called; without a word of its own, the name with its hyphens as blanks."""
    known = word_list(language).get("names", {})
    return known.get(name.replace("_", "-")) or name.replace("-", " ").replace("_", " ")


@cache
def _found(place: str, language: str) -> str | dict[str, str]:
    found: Any = word_list(language)
    for key in place.split("."):
        found = found[key]
    return found


def braces(text: str) -> set[str]:
    """What a sentence wants filled in: `item` in `Nothing of {item} is left.`"""
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}
