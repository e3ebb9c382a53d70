"""The vectors that both languages are held to."""

import json
from typing import Any

from builder.places import SHARED


def read_vectors(name: str) -> Any:
    """One file of `shared/vectors`."""
    return json.loads((SHARED / "vectors" / f"{name}.json").read_text(encoding="utf-8"))
