"""Books of cases: a title, a text as somebody might write it, and every line that must be said of it."""

import re
from pathlib import Path

import pytest


def cases(name: str) -> list:
    """The cases of a book beside this file, as pytest parameters (text, said)."""
    book = Path(__file__).with_name(f"{name}.txt").read_text(encoding="utf-8")
    found = re.findall(r"^== (.*)\n((?:(?!-- |== ).*\n)*)((?:-- .*\n?)+)", book, re.M)
    return [
        pytest.param(text.rstrip("\n"), [line.removeprefix("-- ") for line in said.splitlines()], id=title)
        for title, text, said in found
    ]
