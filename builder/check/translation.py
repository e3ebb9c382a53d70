"""
Libraries and overlays in the job's language.

The words of a file stand beside it, in `words/LANGUAGE/` under the same name. What they lack is shown as it was written.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from builder.check.library import Library, Part, Read
from builder.check.names import Name
from builder.check.overlay import AddStep, Overlay, Reword
from builder.check.placed import PlacedStep, PlacedTask
from builder.check.shape import shaped
from builder.check.terms import Terms, unknown_terms
from builder.load.document import Document, read_document
from builder.load.problems import BadInput, Problem, nearest


class StepWords(Part):
    """A step in another language, and what its name is called where it is named in passing."""

    say: str | None = None
    why: str | None = None
    name: str | None = None


class TaskWords(Part):
    title: str | None = None
    workings: dict[Name, str] = {}
    steps: dict[Name, StepWords] = {}
    radio: dict[Name, StepWords] = {}


class WordsFile(Part):
    """The words of one library, by task; or of one overlay, by `library/task`. `names`: words to choose from."""

    words: Name
    title: str | None = None
    cautions: dict[Name, str] = {}
    tasks: dict[str, TaskWords] = {}
    names: dict[Name, str] = {}


def beside(path: Path, language: str) -> Path:
    """Where the words of a file stand."""
    return path.parent / "words" / language / path.name


@dataclass
class Translation:
    """Puts tasks into a language; gathers what the libraries' names are called, and what is wrong with the words."""

    language: str
    terms: Terms
    names: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def translate(self, tasks: Mapping[str, PlacedTask], overlays: Iterable[tuple[Overlay, Document]]) -> None:
        """Change the wording of every task in place, and mark what stands in another language."""
        by_library: dict[str, list[PlacedTask]] = {}
        for task in tasks.values():
            by_library.setdefault(task.library.library, []).append(task)
        for placed in by_library.values():
            self._library(placed)
        for overlay, document in overlays:
            self._overlay(overlay, document, tasks)

    def _read(self, document: Document, name: str) -> tuple[WordsFile, Document]:
        path = beside(document.path, self.language)
        if not path.exists():
            return WordsFile(words=name), document
        try:
            found = read_document(path)
            return shaped(found, WordsFile), found
        except BadInput as bad:
            self.problems += bad.problems
            return WordsFile(words=name), document

    def _library(self, tasks: list[PlacedTask]) -> None:
        library: Library = tasks[0].library
        if library.language == self.language:
            return
        words, document = self._read(tasks[0].document, library.library)
        self._known(document, (), [words.words], [library.library], "library")
        self._known(document, ("tasks",), words.tasks, [task.task.task for task in tasks], "task")
        self._known(document, ("cautions",), words.cautions, library.cautions, "caution")
        choices = {choice for task in tasks for placed in task.steps if isinstance(placed.step, Read) for choice in placed.step.one_of}
        self._known(document, ("names",), words.names, choices, "word to choose")
        self.problems += unknown_terms(document, _texts(words), self.terms)
        cautions = {name: one.model_copy(update={"say": words.cautions.get(name, one.say)}) for name, one in library.cautions.items()}
        translated = library.model_copy(update={"title": words.title or library.title, "cautions": cautions})
        self.names |= words.names
        for task in tasks:
            task.library = translated
            task.other = {name: library.language for name in library.cautions if name not in words.cautions}
            self._task(task, words.tasks.get(task.task.task, TaskWords()), document, library.language)

    def _task(self, task: PlacedTask, words: TaskWords, document: Document, language: str) -> None:
        path = ("tasks", task.task.task)
        own = [placed for placed in task.steps if placed.added_by is None]
        self._known(document, (*path, "steps"), words.steps, [placed.name for placed in own], "step")
        self._known(document, (*path, "workings"), words.workings, task.task.workings, "working")
        workings = {name: one.model_copy(update={"title": words.workings.get(name, one.title)}) for name, one in task.task.workings.items()}
        changed: dict[str, Any] = {"title": words.title or task.task.title, "workings": workings}
        if day := task.task.pull_day:
            self._known(document, (*path, "radio"), words.radio, day.radio, "word of the radio")
            changed["pull_day"] = day.model_copy(update={"radio": {
                name: one.model_copy(update=_given(words.radio.get(name))) for name, one in day.radio.items()}})
        task.task = task.task.model_copy(update=changed)
        for placed in own:
            self._step(placed, words.steps.get(placed.name), language)

    def _overlay(self, overlay: Overlay, document: Document, tasks: Mapping[str, PlacedTask]) -> None:
        """What an overlay added or reworded is said in its own words, whatever the library's were."""
        words, found = self._read(document, overlay.overlay)
        wanted: dict[str, dict[str, AddStep | Reword]] = {}
        for change in overlay.changes:
            if isinstance(change, AddStep):
                wanted.setdefault(change.add, {})[change.step.name] = change
            elif isinstance(change, Reword):
                key, _, name = change.reword.rpartition("/")
                wanted.setdefault(key, {})[name] = change
        self._known(found, (), [words.words], [overlay.overlay], "overlay")
        self._known(found, ("tasks",), words.tasks, wanted, "task of this overlay")
        self.problems += unknown_terms(found, _texts(words), self.terms)
        for key, changes in wanted.items():
            told = words.tasks.get(key, TaskWords())
            self._known(found, ("tasks", key, "steps"), told.steps, changes, "step of this overlay")
            for name, change in changes.items():
                placed = next((one for one in tasks[key].steps if one.name == name), None)
                if placed is None:
                    continue
                given = change.step if isinstance(change, AddStep) else change
                texts = {part: text for part in ("say", "why") if (text := getattr(given, part)) is not None}
                placed.step = placed.step.model_copy(update=texts)
                placed.other = {part: one for part, one in placed.other.items() if part not in texts}
                self._step(placed, told.steps.get(name), overlay.language, tuple(texts))

    def _step(self, placed: PlacedStep, words: StepWords | None, language: str, parts: tuple[str, ...] = ("say", "why")) -> None:
        given = _given(words)
        placed.step = placed.step.model_copy(update={part: text for part, text in given.items() if part in parts})
        if language != self.language:
            placed.other |= {part: language for part in parts if part not in given and getattr(placed.step, part)}
        if words and words.name:
            self.names[placed.name] = words.name

    def _known(self, document: Document, path: tuple, given: Iterable[str], known: Iterable[str], what: str) -> None:
        for name in given:
            if name not in known:
                place = (*path, name) if path else ("words",)
                self.problems.append(document.problem(place, "NAME-02", f"no {what} is called `{name}`", nearest(name, known), of_key=bool(path)))


def _given(words: StepWords | None) -> dict[str, str]:
    texts = {"say": words.say, "why": words.why} if words else {}
    return {part: text for part, text in texts.items() if text is not None}


def _texts(words: WordsFile) -> Iterator[tuple[tuple, str]]:
    if words.title:
        yield ("title",), words.title
    for name, text in words.cautions.items():
        yield ("cautions", name), text
    for key, task in words.tasks.items():
        if task.title:
            yield ("tasks", key, "title"), task.title
        for kind in ("steps", "radio"):
            for name, step in getattr(task, kind).items():
                for part, text in _given(step).items():
                    yield ("tasks", key, kind, name, part), text
