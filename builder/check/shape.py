"""A document held against its model: every fault of shape said with its place and the nearest valid name."""

import types
import typing
from collections.abc import Iterable
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from builder.check.library import STEP_KINDS
from builder.check.overlay import CHANGE_KINDS
from builder.load.document import Document
from builder.load.problems import BadInput, Problem, nearest

Model = TypeVar("Model", bound=BaseModel)
_VARIANTS: dict[str, type[BaseModel]] = {**STEP_KINDS, **CHANGE_KINDS}
_EITHER = (("str",), ("int",), ("float",))
_EXPECTED = {
    "either_type": "text or a number",
    "string_type": "text",
    "int_type": "a whole number",
    "float_type": "a number",
    "bool_type": "`true` or `false`",
    "list_type": "a list (lines that begin with `- `)",
    "dict_type": "a mapping (lines of `key: value`)",
    "model_type": "a mapping (lines of `key: value`)",
    "model_attributes_type": "a mapping (lines of `key: value`)",
}


def shaped(document: Document, model: type[Model]) -> Model:
    """The document as an instance of `model`; raises BadInput with every fault of shape."""
    if not isinstance(document.data, dict):
        raise BadInput([document.problem((), "SHAPE-03", "the file must be a mapping (lines of `key: value`)")])
    try:
        return model.model_validate(document.data)
    except ValidationError as invalid:
        raise BadInput([_problem(document, model, error) for error in _once(invalid.errors(include_url=False))]) from None


def _once(errors: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The errors with one for a value that may be text or a number, and not one for each way it is neither."""
    found: dict[tuple, dict[str, Any]] = {}
    for error in errors:
        if error["loc"][-1:] in _EITHER:
            error = {**error, "loc": error["loc"][:-1], "type": "either_type"}
        found.setdefault((error["loc"], error["type"]), error)
    return list(found.values())


def _problem(document: Document, model: type[BaseModel], error: dict[str, Any]) -> Problem:
    path, known = _walk(document.data, model, error["loc"])
    kind, context = error["type"], error.get("ctx", {})
    last = str(path[-1]) if path else ""
    if kind == "extra_forbidden":
        return document.problem(path, "SHAPE-01", f"`{last}` is not known here", nearest(last, known - _siblings(document.data, path)),
                                of_key=True)
    if kind == "missing":
        return document.problem(path[:-1], "SHAPE-02", f"`{last}` is missing", "", of_key=bool(path[:-1]))
    if kind == "literal_error":
        given = error["input"]
        if context["expected"] == "True":
            return document.problem(path, "SHAPE-03", f"{_found(given)} can't stand here", "leave the line out, or write `true`")
        words = [word.strip(" '") for word in context["expected"].replace(" or ", ", ").split(",")]
        return document.problem(path, "SHAPE-03", f"{_found(given)} is not one of {_listed(words)}", _near(str(given), words))
    if kind == "name":
        return document.problem(path, "NAME-03", error["msg"], of_key=error["loc"][-1] == "[key]")
    if kind == "dimension":
        return document.problem(path, "UNIT-02", error["msg"])
    if kind == "measure":
        return document.problem(path, "UNIT-01", error["msg"])
    if kind in ("step", "change"):
        given = document.data
        for part in path:
            given = given[part]
        said = [str(key) for key in given] if isinstance(given, dict) else []
        variants = STEP_KINDS if kind == "step" else CHANGE_KINDS
        near = next((hint for key in said if (hint := _near(key, variants))), "")
        return document.problem(path, "SHAPE-03", error["msg"], near)
    if kind == "too_short":
        return document.problem(path, "SHAPE-03", f"`{last}` must have at least one entry", of_key=True)
    if kind == "greater_than_equal":
        return document.problem(path, "SHAPE-03", f"{_found(error['input'])} is too few: at least {context['ge']}")
    if kind in _EXPECTED:
        return document.problem(path, "SHAPE-03", f"expected {_EXPECTED[kind]}, found {_found(error['input'])}",
                                _rewritten(kind, error["input"]))
    return document.problem(path, "SHAPE-03", error["msg"][:1].lower() + error["msg"][1:])


def _rewritten(kind: str, given: Any) -> str:
    """What to write where the right thing stands in the wrong form."""
    if kind == "string_type" and isinstance(given, int | float):
        return f"put it in quotes: `\"{_found(given)[1:-1]}\"`"
    if kind == "int_type" and isinstance(given, str) and given.isdigit():
        return f"write it without quotes: `{given}`"
    if kind == "bool_type" and str(given).lower() in ("yes", "no", "on", "off"):
        return f"write `{'true' if str(given).lower() in ('yes', 'on') else 'false'}`"
    return ""


def _near(given: str, known: Iterable[str]) -> str:
    """The nearest word, where one is near; the known ones stand in the sentence already."""
    hint = nearest(given, known)
    return hint if hint.startswith("Did") else ""


def _siblings(data: Any, path: tuple) -> set[str]:
    """The keys that the mapping around a path already has: none of them is what was meant."""
    for part in path[:-1]:
        data = data[part]
    return set(data)


def _walk(data: Any, model: Any, loc: tuple) -> tuple[tuple, set[str]]:
    """The path in the file that pydantic's `loc` means, and the keys that are known at its end."""
    path: list[str | int] = []
    fields: list[str] = list(_aliases(model))
    for step in loc:
        if step in _VARIANTS and path and (isinstance(path[-1], int) or path[-1] == "step") and not _is_model(model):
            model = _VARIANTS[step]
            fields = list(_aliases(model))
            continue
        if step == "[key]":
            continue
        path.append(step)
        if _is_model(model):
            fields = list(_aliases(model))
            model = _aliases(model).get(str(step))
        else:
            model = _inner(model)
        data = data[step] if _holds(data, step) else None
        model = _unwrapped(model)
    return tuple(path), set(fields)


def _is_model(model: Any) -> bool:
    return isinstance(model, type) and issubclass(model, BaseModel)


def _aliases(model: Any) -> dict[str, Any]:
    if not _is_model(model):
        return {}
    return {info.alias or name: info.annotation for name, info in model.model_fields.items()}


def _unwrapped(model: Any) -> Any:
    """A field's type without `Annotated` and `| None`."""
    while True:
        origin = typing.get_origin(model)
        if origin is typing.Annotated:
            model = typing.get_args(model)[0]
        elif origin in (typing.Union, types.UnionType):
            others = [one for one in typing.get_args(model) if one is not type(None)]
            if len(others) != 1:
                return model
            model = others[0]
        else:
            return model


def _inner(model: Any) -> Any:
    arguments = typing.get_args(model)
    return arguments[-1] if arguments else None


def _holds(data: Any, step: str | int) -> bool:
    if isinstance(data, dict):
        return step in data
    return isinstance(data, list) and isinstance(step, int) and step < len(data)


def _listed(words: list[str]) -> str:
    return ", ".join(f"`{word}`" for word in words)


def _found(value: Any) -> str:
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list):
        return "a list"
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    return f"`{value}`"
