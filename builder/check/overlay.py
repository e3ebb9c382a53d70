"""An overlay: what a firm or a job changes in the libraries and tables, which themselves stay untouched."""

from typing import Annotated

from pydantic import Discriminator, Tag

from builder.check.library import AnyStep, Language, Part
from builder.check.names import Name


class AddStep(Part):
    """One more step in a task, after a step that is there (or first)."""

    add: str
    after: Name | None = None
    step: AnyStep


class Reword(Part):
    """Other words for a step: what it asks and means stays."""

    reword: str
    say: str | None = None
    why: str | None = None


class TableValue(Part):
    """Another value in a table. Loosening it needs a reason and somebody who agreed."""

    table: Name
    value: Name | str | None = None
    row: dict[str, str | int | float] | None = None
    column: str | None = None
    to: str | int | float
    because: str | None = None
    agreed_by: str | None = None


CHANGE_KINDS = {"add": AddStep, "reword": Reword, "table": TableValue}


def _kind_of_change(value: object) -> str | None:
    if isinstance(value, dict):
        kinds = [kind for kind in CHANGE_KINDS if kind in value]
        return kinds[0] if len(kinds) == 1 else None
    return next((kind for kind, model in CHANGE_KINDS.items() if isinstance(value, model)), None)


Change = Annotated[
    Annotated[AddStep, Tag("add")] | Annotated[Reword, Tag("reword")] | Annotated[TableValue, Tag("table")],
    Discriminator(_kind_of_change, custom_error_type="change", custom_error_message=(
        "a change begins with exactly one of `add`, `reword` or `table`")),
]


class Overlay(Part):
    """One file of changes."""

    overlay: Name
    language: Language = "en"
    title: str
    changes: list[Change] = []
