"""The words of each language: the same sentences, nothing left out, and numbers as they are written there."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from builder.check.everything import checked_job
from builder.check.translation import beside
from builder.formulas import bundle
from builder.load.document import read_document
from builder.load.problems import BadInput
from builder.places import ASSETS, CHECKLISTS, DEMO_JOB, TERMS
from builder.words import braces, say, word_list

# Translated by their English text or name; English itself needs none.
BY_ENGLISH = ("names", "sentences")


def _flat(words: dict[str, Any], place: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], str]]:
    for key, value in words.items():
        if isinstance(value, dict):
            yield from _flat(value, (*place, key))
        else:
            yield (*place, key), value


ENGLISH = dict(_flat(word_list()))
SPANISH = {place: text for place, text in _flat(word_list("es")) if place[0] not in BY_ENGLISH}


def test_both_languages_say_the_same_things() -> None:
    """No sentence stands in one list and not in the other."""
    assert sorted(ENGLISH) == sorted(SPANISH)


def test_both_languages_fill_in_the_same() -> None:
    """A translation drops no number and no name."""
    differ = {place for place in ENGLISH if braces(ENGLISH[place]) != braces(SPANISH[place])}
    assert set() == differ


def test_no_word_is_empty_or_no_text() -> None:
    """Every word is a text with something in it, in both languages."""
    empty = [place for words in (word_list(), word_list("es")) for place, text in _flat(words) if not (isinstance(text, str) and text.strip())]
    assert [] == empty


def test_one_and_many_are_chosen_by_count() -> None:
    """One is one, and none is many."""
    assert ["One held", "0 held"] == [say("job.tally_held", count=count) for count in (1, 0)]


def test_sentences_by_english_text_are_said_somewhere() -> None:
    """What is translated by its English text stands in a source as written: a changed reason asks for a changed translation."""
    folder = Path(bundle.__file__).parents[1]
    said = "".join(path.read_text(encoding="utf-8") for path in folder.rglob("*.py"))
    phone = "".join(path.read_text(encoding="utf-8") for path in (folder.parent / "assets" / "app").glob("*.mjs"))
    assert [] == [text for text in word_list("es")["sentences"] if text not in said and text not in phone]


def test_every_term_of_the_trade_has_its_spanish_word() -> None:
    """The same terms, for the same practices."""
    terms, spanish = (read_document(path).data["terms"] for path in (TERMS, TERMS.parent / "words" / "es" / TERMS.name))
    assert {name: sorted(by) for name, by in terms.items()} == {name: sorted(by) for name, by in spanish.items()}


def test_no_sentence_of_the_screen_stands_in_a_module() -> None:
    """What a module says itself, as its twin at the desk does, is a sentence with nothing filled in, and has its Spanish one."""
    said: dict[str, str] = {}
    for path in sorted((ASSETS / "app").glob("*.mjs")):
        code = re.sub(r"^\s*(?://|/?\*).*$", "", path.read_text(encoding="utf-8"), flags=re.M)
        literals = re.findall(r'"((?:[^"\\\n]|\\.)*)"|`((?:[^`\\]|\\.)*)`', code)
        said |= {text: path.name for pair in literals for text in pair if re.match(r"[A-Z][a-z']* .*[a-z]", text, re.S)}
    assert {} == {text: name for text, name in said.items() if text not in word_list("es")["sentences"]}


@pytest.fixture
def spanish_job(tmp_path: Path) -> Path:
    """The demo job with its own overlay, worked in Spanish."""
    job = DEMO_JOB.read_text(encoding="utf-8").replace("\npractice:", "\nlanguage: es\npractice:", 1)
    (tmp_path / "job.yaml").write_text(job, encoding="utf-8")
    (tmp_path / "firm.yaml").write_text((DEMO_JOB.parent / "firm.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    return tmp_path / "job.yaml"


def test_what_has_no_translation_is_marked_as_english(spanish_job: Path) -> None:
    """A step without Spanish words shows the English ones, and says so."""
    data = checked_job(spanish_job)
    steps = {f"{key}/{step['name']}": step for key, task in data["tasks"].items() for step in task["steps"]}
    assert {"say": "en", "why": "en"} == steps["trenching/open-trench/truck-route"]["lang"]


def test_an_overlay_is_translated_by_the_words_beside_it(spanish_job: Path) -> None:
    """A firm puts its own steps into the language of the job."""
    beside = spanish_job.parent / "words" / "es"
    beside.mkdir(parents=True)
    words = {"words": "firm", "tasks": {"trenching/open-trench": {"steps": {"truck-route": {"say": "Los camiones van por el sur."}}}}}
    (beside / "firm.yaml").write_text(yaml.safe_dump(words, allow_unicode=True), encoding="utf-8")
    data = checked_job(spanish_job)
    step = next(one for one in data["tasks"]["trenching/open-trench"]["steps"] if one["name"] == "truck-route")
    assert ("Los camiones van por el sur.", {"why": "en"}) == (step["say"], step["lang"])


def test_terms_of_the_trade_are_said_in_the_language_of_the_job(spanish_job: Path) -> None:
    """A Spanish sentence that leaves a term to the practice gets the Spanish word."""
    steps = {step["name"]: step for step in checked_job(spanish_job)["tasks"]["placing/guard-it"]["steps"]}
    assert "Una las dos colas de tierra a su bastidor, puertas y tapas, sin pintura bajo el terminal." == steps["earth-it"]["say"]


def test_words_for_a_step_that_is_not_there_are_refused(spanish_job: Path) -> None:
    """The problem names the place and the nearest step."""
    beside = spanish_job.parent / "words" / "es"
    beside.mkdir(parents=True)
    (beside / "firm.yaml").write_text("words: firm\ntasks:\n  trenching/open-trench:\n    steps:\n      truck-rout: {say: Camiones.}\n", encoding="utf-8")
    with pytest.raises(BadInput) as refused:
        checked_job(spanish_job)
    [problem] = refused.value.problems
    told = (problem.line, problem.column, problem.code, problem.text, problem.advice)
    assert (5, 7, "NAME-02", "no step of this overlay is called `truck-rout`", "Did you mean `truck-route`?") == told


LIBRARIES = sorted(path.name for path in CHECKLISTS.glob("*.yaml") if path.stem != "sources")


def _told(words: dict[str, Any]) -> dict[str, str]:
    """Every text of a library or of its words, by the place that both give it."""
    texts = {"title": words["title"]}
    texts |= {f"cautions/{name}": one if isinstance(one, str) else one["say"] for name, one in words["cautions"].items()}
    tasks = words["tasks"]
    for name, task in tasks.items() if isinstance(tasks, dict) else ((one["task"], one) for one in tasks):
        texts[f"{name}/title"] = task["title"]
        texts |= {f"{name}/workings/{key}": one if isinstance(one, str) else one["title"] for key, one in task.get("workings", {}).items()}
        steps = task["steps"]
        named = steps if isinstance(steps, dict) else {next(step[kind] for kind in ("do", "look", "read", "hold") if kind in step): step for step in steps}
        radio = task.get("radio") or task.get("pull_day", {}).get("radio", {})
        for key, step in (*named.items(), *radio.items()):
            texts |= {f"{name}/{key}/{part}": step[part] for part in ("say", "why") if part in step}
    return texts


SPANISH_TERMS = read_document(TERMS.parent / "words" / "es" / TERMS.name).data["terms"]


def _that_differ(text: str) -> set[str]:
    """The terms of a text that Spanish calls by more than one word."""
    return {term for term in (found[:1].lower() + found[1:] for found in braces(text)) if len(set(SPANISH_TERMS[term].values())) > 1}


def _figures(text: str) -> list[str]:
    """The numbers of a sentence, whatever its decimal mark."""
    return sorted(found.replace(",", ".") for found in re.findall(r"\d+(?:[.,]\d+)?", text))


@pytest.fixture(scope="module", params=LIBRARIES)
def library_texts(request: pytest.FixtureRequest) -> tuple[dict[str, str], dict[str, str]]:
    """A library's own texts and its Spanish ones."""
    path = CHECKLISTS / request.param
    return _told(read_document(path).data), _told(read_document(beside(path, "es")).data)


def test_every_sentence_of_a_library_has_its_spanish(library_texts: tuple[dict[str, str], dict[str, str]]) -> None:
    """No title, caution, working, step, reason or word of the radio is left to English, and none is made up."""
    english, spanish = library_texts
    assert sorted(english) == sorted(spanish)


def test_spanish_keeps_the_terms_and_figures_of_a_library(library_texts: tuple[dict[str, str], dict[str, str]]) -> None:
    """
    A translation changes, drops and adds no number, and keeps each term for which Spanish too has several words.

    Where Spanish says the same in every practice, its plain word is as good; it may leave more to the terms than English does.
    """
    english, spanish = library_texts
    differ = [
        place for place in english.keys() & spanish.keys()
        if not _that_differ(english[place]) <= _that_differ(spanish[place]) or _figures(english[place]) != _figures(spanish[place])]
    assert [] == sorted(differ)


@pytest.mark.parametrize("library", LIBRARIES)
def test_what_is_named_in_passing_has_its_spanish_name(library: str) -> None:
    """Each reading and each hold of a library is called by a Spanish name where another step names it, and each choice by a Spanish word."""
    own, words = (read_document(path).data for path in (CHECKLISTS / library, beside(CHECKLISTS / library, "es")))
    known = word_list("es")["names"].keys() | words.get("names", {}).keys()
    missing = []
    for task in own["tasks"]:
        told = words["tasks"].get(task["task"], {}).get("steps", {})
        for step in task["steps"]:
            name = step.get("read") or step.get("hold")
            if name and "name" not in told.get(name, {}):
                missing.append(f"{task['task']}/{name}")
            missing += [f"{task['task']}/{name}: {choice}" for choice in step.get("one_of", []) if choice not in known]
    assert [] == missing
