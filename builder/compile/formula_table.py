"""
What every formula gives, rests on and was checked against, as a markdown table.

`python -m builder.compile.formula_table` prints it for the developers' document, so that nobody can
claim more for a formula than stands in its docstring and beside it.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

import yaml

from builder.compile.catalogue import FOLDER, signature_data
from builder.compile.origin import formula_unconfirmed
from builder.places import SOURCES

HEAD = ("formula", "gives", "source", "checks", "basis")
# The firmest first, as a reader weighs them.
_ORIGINS = ("published", "derived", "hand", "practice", "limit", "memory")


def formula_table() -> str:
    """The whole table, formulas by the file that they stand in."""
    sources = yaml.safe_load(SOURCES.read_text(encoding="utf-8"))
    checks = _worked_examples()
    signatures = sorted(signature_data().items(), key=lambda entry: (entry[1]["stage"], entry[0]))
    rows = [
        (f"`{name}`", _gives(signature), _rests_on(signature), _checked(checks.get(name, [])), _basis(name, signature, sources))
        for name, signature in signatures
    ]
    return "\n".join(_line(cells) for cells in (HEAD, ("---",) * len(HEAD), *rows)) + "\n"


def _line(cells: Iterable[str]) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _worked_examples() -> dict[str, list[dict[str, Any]]]:
    found: dict[str, list[dict[str, Any]]] = {}
    for path in sorted(FOLDER.glob("*.worked.yaml")):
        for example in yaml.safe_load(path.read_text(encoding="utf-8")):
            found.setdefault(example["formula"], []).append(example)
    return found


def _gives(signature: Mapping[str, Any]) -> str:
    return ", ".join(part["name"].replace("_", " ") for part in signature["gives"])


def _rests_on(signature: Mapping[str, Any]) -> str:
    return "; ".join(
        (f"`{source['key']}`" if "key" in source else source["basis"]) + (f": {source['where']}" if source["where"] else "")
        for source in signature["source"]
    )


def _checked(examples: list[Mapping[str, Any]]) -> str:
    counts = Counter(example["origin"] for example in examples)
    printed = ", ".join(f"`{key}`" for key in dict.fromkeys(example["source"] for example in examples if "source" in example))
    return ", ".join(
        f"{counts[origin]} {origin}" + (f" ({printed})" if origin == "published" else "") for origin in _ORIGINS if counts[origin]
    )


def _basis(name: str, signature: Mapping[str, Any], sources: Mapping[str, Mapping[str, Any]]) -> str:
    grades = [sources[source["key"]]["grade"] for source in signature["source"] if "key" in source]
    parts = [f"published, grade {min(grades)}"] if grades else []
    parts += [basis for basis in ("derived", "practice", "memory") if any(source["basis"] == basis for source in signature["source"])]
    if formula_unconfirmed(name, signature, sources):
        parts.append("never decides by itself")
    return ", ".join(parts)


if __name__ == "__main__":
    print(formula_table(), end="")
