"""Terms of the trade: a library writes `{earth}`, and the sheet says what the crew of its practice says."""

import re
from collections.abc import Iterable, Iterator, Mapping

from pydantic import Field

from builder.check.library import Part
from builder.check.placed import PlacedTask
from builder.load.document import Document
from builder.load.problems import Problem, nearest

_TERM = re.compile(r"\{([^{}]*)\}")
_WORDED = re.compile(r"(\b[Aa]n? )?" + _TERM.pattern)
# Capitals that are spelt out begin with a vowel where their first letter's name does: an RCD, a GFCI.
_VOWEL = re.compile(r"[aeiouAEIO]|[FHLMNRSX](?=[A-Z])")


class Term(Part):
    """One thing, and what it is called in each practice."""

    au_nz: str = Field(alias="au-nz")
    iec: str
    us: str


class TermFile(Part):
    """Terms, and by practice the words that its crews only spell in another way."""

    terms: dict[str, Term]
    spelling: dict[str, dict[str, str]] = {}


Terms = Mapping[str, Term]


def term_faults(task: PlacedTask, terms: Terms) -> list[Problem]:
    """Terms that a task's texts ask for and nobody has."""
    problems = []
    for document, path, text in _texts(task):
        for found in _TERM.finditer(text):
            if _small(found[1]) not in terms:
                problems.append(document.problem(path, "NAME-02", f"no term is called `{found[1]}`", nearest(found[1], terms)))
    return problems


def unknown_terms(document: Document, texts: Iterable[tuple[tuple, str]], terms: Terms) -> list[Problem]:
    """Terms that texts of one file ask for and nobody has."""
    return [document.problem(path, "NAME-02", f"no term is called `{found[1]}`", nearest(found[1], terms))
            for path, text in texts for found in _TERM.finditer(text) if _small(found[1]) not in terms]


def _texts(task: PlacedTask) -> Iterator[tuple[Document, tuple, str]]:
    yield task.document, ("title",), task.library.title
    yield task.document, (*task.path, "title"), task.task.title
    for name, working in task.task.workings.items():
        yield task.document, (*task.path, "workings", name, "title"), working.title
    for name in {*task.task.cautions, *(name for placed in task.steps for name in placed.step.caution)}:
        if caution := task.library.cautions.get(name):
            yield task.document, ("cautions", name, "say"), caution.say
    for placed in task.steps:
        yield placed.document, (*placed.path, "say"), placed.step.say
        if placed.step.why:
            yield placed.document, (*placed.path, "why"), placed.step.why


def worded(text: str, terms: Terms, practice: str, language: str, spelling: Mapping[str, str] | None = None) -> str:
    """
    The text with each term as this practice says it; `{Earth}` begins a sentence, and an English article follows the word.

    English is spelt as `spelling` has it.
    """
    def said(found: re.Match) -> str:
        word = getattr(terms[_small(found[2])], practice.replace("-", "_"))
        word = word if found[2] == _small(found[2]) else word[:1].upper() + word[1:]
        if language != "en" or not found[1]:
            return (found[1] or "") + word
        return f"{found[1][0]}{'n' if _VOWEL.match(word) else ''} {word}"

    text = _WORDED.sub(said, text)
    return _spelt(text, spelling) if spelling and language == "en" else text


def _spelt(text: str, spelling: Mapping[str, str]) -> str:
    """The text with each of these words in its other spelling, a capital where it had one."""
    def other(found: re.Match) -> str:
        word = spelling[_small(found[0])]
        return word if found[0] == _small(found[0]) else word[:1].upper() + word[1:]

    words = "|".join(f"[{word[0].upper()}{word[0]}]{word[1:]}" for word in spelling)
    return re.sub(rf"\b(?:{words})\b", other, text)


def _small(term: str) -> str:
    return term[:1].lower() + term[1:]
