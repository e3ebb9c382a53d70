"""Libraries after overlays, each step still knowing the file and line that it comes from."""

from dataclasses import dataclass, field

from builder.check.library import Hold, Library, Step, Task
from builder.load.document import Document


@dataclass
class PlacedStep:
    """A step, where it stands, the overlay that added or reworded it, and which of its parts are in another language."""

    step: Step
    document: Document
    path: tuple
    added_by: str | None = None
    reworded_by: str | None = None
    other: dict[str, str] = field(default_factory=dict)

    @property
    def name(self) -> str:
        return self.step.name


@dataclass
class PlacedTask:
    """A task of a library with its steps in working order, and which of its cautions are in another language."""

    task: Task
    library: Library
    document: Document
    path: tuple
    steps: list[PlacedStep] = field(default_factory=list)
    other: dict[str, str] = field(default_factory=dict)

    @property
    def key(self) -> str:
        """`cable-pulling/before-the-pull`."""
        return f"{self.library.library}/{self.task.task}"

    @property
    def kind(self) -> str:
        """The kind of item that the task is worked for."""
        return self.task.for_each or self.library.for_each

    @property
    def holds(self) -> list[PlacedStep]:
        return [placed for placed in self.steps if isinstance(placed.step, Hold)]


def placed_tasks(library: Library, document: Document) -> list[PlacedTask]:
    """The tasks of one library as its file has them."""
    tasks = []
    for index, task in enumerate(library.tasks):
        path = ("tasks", index)
        steps = [PlacedStep(step, document, (*path, "steps", number)) for number, step in enumerate(task.steps)]
        tasks.append(PlacedTask(task, library, document, path, steps))
    return tasks
