"""The kinds of value that an expression can have, and the names that it may use."""

from collections.abc import Mapping
from dataclasses import dataclass

from builder.compile.signature import Part
from builder.quantity import NUMBER, Dimension, unit


@dataclass(frozen=True)
class Number:
    """A number of one dimension; `unit` is the symbol it was declared in, for messages only."""

    dimension: Dimension = NUMBER
    unit: str = "1"

    def __str__(self) -> str:
        if self.dimension == NUMBER:
            return "a pure number"
        return f"{self.dimension} ({self.unit})" if self.unit and self.unit != "1" else str(self.dimension)


@dataclass(frozen=True)
class Word:
    """A text; one of several where these are known."""

    one_of: tuple[str, ...] | None = None

    def __str__(self) -> str:
        return "a word"


@dataclass(frozen=True)
class Truth:
    """True or false."""

    def __str__(self) -> str:
        return "true or false"


@dataclass(frozen=True, eq=False)
class Rows:
    """A list of rows, or of references, with the columns of each; `may_lack` are those a row can do without."""

    columns: Mapping[str, "Kind"]
    may_lack: frozenset[str] = frozenset()

    def __str__(self) -> str:
        return "rows"


@dataclass(frozen=True, eq=False)
class Record:
    """Something with fields: an item, a cable, the job, a working with its outputs. Fields may be found lazily."""

    fields: Mapping[str, "Kind"]
    called: str = "record"

    def __str__(self) -> str:
        return self.called


@dataclass(frozen=True, eq=False)
class Table:
    """Values found by keys: `table.name(key=…).column`. Without keys its columns are named values."""

    keys: Mapping[str, "Kind"]
    columns: Mapping[str, "Kind"]

    def __str__(self) -> str:
        return "a table"


Kind = Number | Word | Truth | Rows | Record | Table


@dataclass(frozen=True)
class Scope:
    """
    The first names that an expression may use, each with its kind.

    The item kind (`run`), `job`, `table` (a Record of Tables, each under its name in snake_case),
    each reading of the task in snake_case, and each working of the task as a Record of its outputs.
    """

    names: Mapping[str, Kind]


def number_in(symbol: str) -> Number:
    """The kind of a number declared in a unit."""
    return Number(unit(symbol).dimension, symbol)


def fits(kind: Kind, wanted: Kind) -> bool:
    """Whether a value of one kind can be handed over where another is wanted."""
    match kind, wanted:
        case Number(), Number():
            return kind.dimension == wanted.dimension
        case Word(), Word():
            return not (kind.one_of and wanted.one_of) or bool(set(kind.one_of) & set(wanted.one_of))
        case Rows(), Rows():
            return all(
                fits(kind.columns[name], column) if name in kind.columns else name in wanted.may_lack
                for name, column in wanted.columns.items()
            )
    return type(kind) is type(wanted)


def misfit(what: str, wanted: Kind, kind: Kind) -> tuple[str, str]:
    """Code and sentence for a value handed over where another kind is wanted."""
    if isinstance(kind, Word) and isinstance(wanted, Word):
        return "EXPR-03", f"{what} takes {', '.join(wanted.one_of)} and is given {', '.join(kind.one_of)}"
    code = "UNIT-03" if isinstance(kind, Number) and isinstance(wanted, Number) else "EXPR-03"
    return code, f"{what} takes {wanted} and is given {kind}"


def kind_of_part(part: Part) -> Kind:
    """The kind of an input, output or column of a formula's signature."""
    if part.kind == "number":
        return Number(unit(part.unit).dimension, part.unit)
    if part.kind == "word":
        return Word(part.one_of)
    columns = {column.name: kind_of_part(column) for column in part.columns}
    return Rows(columns, frozenset(column.name for column in part.columns if column.optional))
