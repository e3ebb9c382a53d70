"""The vectors that both languages are held to."""

import json
from typing import Any

from builder.compile.catalogue import signature_data
from builder.places import SHARED


def read_vectors(name: str) -> Any:
    """One file of `shared/vectors`."""
    return json.loads((SHARED / "vectors" / f"{name}.json").read_text(encoding="utf-8"))


def vector_job() -> dict[str, Any]:
    """The small job of the expression vectors, with the formulas as a build puts them into it."""
    return read_vectors("expressions")["job"] | {"formulas": signature_data()}
