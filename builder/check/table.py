"""A table: published, practised or remembered values, each with its source and basis."""

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from builder.check.library import Basis, Part
from builder.check.names import Name

Safer = Literal["higher", "lower"]


class Key(Part):
    """What a row is found by: a word of several, or a band up to a value."""

    one_of: list[str] = []
    unit: str | None = None
    up_to: bool = False


class Column(Part):
    """What a row gives: numbers in one unit, or words."""

    unit: str | None = None
    one_of: list[str] = []
    safer: Safer | None = None
    about: str | None = None


class NamedValue(Part):
    """A value that stands alone, such as the force that one person can keep up."""

    value: str | int | float | None
    safer: Safer | None = None
    source: str | None = None
    where: str | None = None
    basis: Basis
    grade: Literal[1, 2, 3] | None = None
    about: str | None = None


class Row(BaseModel):
    """One row: its keys and columns, and where it comes from."""

    model_config = ConfigDict(extra="allow", strict=True, defer_build=True)
    source: str | None = None
    where: str | None = None
    basis: Basis
    grade: Literal[1, 2, 3] | None = None
    note: str | None = None

    @property
    def cells(self) -> dict[str, Any]:
        """Keys and columns as written."""
        return self.model_extra or {}


class Table(Part):
    """Rows found by keys, or named values."""

    table: Name
    title: str
    about: str | None = None
    keys: dict[str, Key] = {}
    columns: dict[str, Column] = {}
    rows: list[Row] = []
    values: dict[str, NamedValue] = {}


class Source(Part):
    """A publication that values and acceptances rest on."""

    title: str
    publisher: str | None = None
    year: str | int | None = None
    grade: Literal[1, 2, 3]
    note: str | None = Field(default=None)
