"""A library: the tasks of one trade stage, their steps, workings and holds."""

from typing import Annotated, Literal, get_args

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag

from builder.check.names import Name

ItemKind = Literal["site", "drum", "placement", "trench", "run", "isolation", "joint", "supply"]
ITEM_KINDS = get_args(ItemKind)
Role = Literal["crew", "leading-hand", "licensed-worker", "supervisor", "operator"]
Language = Literal["en", "es"]
Basis = Literal["published", "practice", "memory"]


class Part(BaseModel):
    """Every part refuses keys that it does not know."""

    # Built when first asked for: a part inside another is never asked for by itself.
    model_config = ConfigDict(extra="forbid", strict=True, defer_build=True)


class Caution(Part):
    """A warning that a task or a step shows."""

    say: str
    basis: Basis = "practice"
    source: str | None = None


class Working(Part):
    """A computed field: a formula and the expressions that feed it."""

    title: str
    formula: str
    inputs: dict[str, str | int | float] = Field(alias="with", default_factory=dict)


class Step(Part):
    """What every step has."""

    say: str
    why: str | None = None
    when: str | None = None
    caution: list[str] = []
    working: str | list[str] = []
    source: str | None = None
    must: Literal[True] | None = None
    after: str | list[str] = []

    @property
    def after_steps(self) -> list[str]:
        """Names of the steps that come before this one."""
        return [self.after] if isinstance(self.after, str) else self.after

    @property
    def workings(self) -> list[str]:
        """Names of the workings shown at this step."""
        return [self.working] if isinstance(self.working, str) else self.working


class WorkedStep(Step):
    """A step that is worked: all but a hold. `needed`: it is not finished without a photo."""

    photo: Literal["wanted", "needed"] | None = None


class Do(WorkedStep):
    """A step to carry out."""

    do: Name

    @property
    def name(self) -> str:
        return self.do


class Look(WorkedStep):
    """A step to inspect."""

    look: Name

    @property
    def name(self) -> str:
        return self.look


class Read(WorkedStep):
    """A reading: a number with a unit and a plausible range, a word of several, or a text."""

    read: Name
    unit: str | None = None
    plausible: str | None = None
    one_of: list[str] = []
    text: Literal[True] | None = None
    accept: str | None = None

    @property
    def name(self) -> str:
        return self.read


class Hold(Step):
    """A point that nobody passes until somebody competent has looked."""

    hold: Name
    released_by: Role
    needs: list[str] = []
    ends: list[str] = []
    locks: Literal["on", "off"] | None = None
    signed: Literal[True] | None = None

    @property
    def name(self) -> str:
        return self.hold


STEP_KINDS = {"do": Do, "look": Look, "read": Read, "hold": Hold}


def _kind_of_step(value: object) -> str | None:
    if isinstance(value, dict):
        kinds = [kind for kind in STEP_KINDS if kind in value]
        if len(kinds) == 1:
            return kinds[0]
    elif isinstance(value, Step):
        return next(kind for kind, model in STEP_KINDS.items() if isinstance(value, model))
    return None


AnyStep = Annotated[
    Annotated[Do, Tag("do")] | Annotated[Look, Tag("look")] | Annotated[Read, Tag("read")] | Annotated[Hold, Tag("hold")],
    Discriminator(_kind_of_step, custom_error_type="step", custom_error_message=(
        "a step begins with exactly one of `do`, `look`, `read` or `hold` and its name")),
]


def kind_of(step: Step) -> str:
    """`do`, `look`, `read` or `hold`."""
    return type(step).__name__.lower()


class Measure(Part):
    """What one value is measured in, and where it can lie."""

    unit: str
    plausible: str


class Count(Part):
    """People counted on the rope, where nothing measures: `when` this pull is one by hand."""

    plausible: str
    when: str | None = None


class Radio(Part):
    """One word agreed for the radio, and what it means."""

    say: str
    why: str | None = None


class PullDay(Part):
    """A pull that is watched while it runs: the working that calls it, behind which hold, what is measured and said."""

    call: Name
    after: Name
    gauge: Measure
    length: Measure
    people: Count | None = None
    # Workings beside the call, each with the condition over the job's data under which it is of use.
    shows: dict[Name, str] = {}
    radio: dict[Name, Radio]

    @property
    def conditions(self) -> list[tuple[tuple[str, ...], str]]:
        """Each condition over the job's data, with its place."""
        counted = [(("people", "when"), self.people.when)] if self.people and self.people.when else []
        return [*counted, *((("shows", name), text) for name, text in self.shows.items())]


class Task(Part):
    """A titled group of steps, worked once for each item that it applies to."""

    task: Name
    title: str
    for_each: ItemKind | None = None
    when: str | None = None
    cautions: list[str] = []
    workings: dict[Name, Working] = {}
    steps: list[AnyStep] = Field(min_length=1)
    pull_day: PullDay | None = None


class Library(Part):
    """One YAML file of tasks for one trade stage."""

    library: Name
    language: Language = "en"
    title: str
    order: int
    for_each: ItemKind
    cautions: dict[Name, Caution] = {}
    tasks: list[Task] = Field(min_length=1)
