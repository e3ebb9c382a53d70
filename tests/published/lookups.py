"""Shipped tables asked as a sheet asks them."""

from functools import cache

from builder.check.tables import as_data, read_sources, read_tables
from builder.compile.lookup import Lookup
from builder.places import ROOT
from builder.quantity import parse_quantity


@cache
def _lookup() -> Lookup:
    sources, _ = read_sources(ROOT / "checklists" / "sources.yaml")
    tables, _ = read_tables(ROOT / "checklists" / "tables", sources)
    return Lookup({"tables": {name: as_data(placed, sources) for name, placed in tables.items()}}, {"task": None}, {})


def asked(table: str, column: str, **keys):
    """A cell in SI, a word, or Missing raised, by keys as words or as quantities such as `3.5 K`."""
    def closure(value):
        return lambda _: parse_quantity(value).si if value[:1].isdigit() else value

    return _lookup().cell(table.replace("-", "_"), {name: closure(value) for name, value in keys.items()}, column)
