"""One formula called with many sets of inputs, in Python and in the browser."""

import ast
from typing import Any

from builder.compile.caller import call
from builder.compile.catalogue import formulas, function_of, signature_data
from builder.compile.constructs import FUNCTIONS
from builder.compile.showing import output_amount
from builder.formulas.mathematics import CannotTell

# Arithmetic that every language does alike to the last digit; the rest is a matter of libraries.
_EXACT = {"sqrt", "abs", "min", "max", "len", "floor", "ceil", "str"}

CALLED_ON_PHONE = """async ({formula, signature, sets}) => {
  const { functions } = await import("/app/formulas.mjs");
  const { call } = await import("/app/caller.mjs");
  const { outputAmount } = await import("/app/showing.mjs");
  const { CannotTell } = await import("/app/mathematics.mjs");
  const texts = (part, value) => part.kind === "number" ? outputAmount(value, part)
    : part.kind === "word" ? value : value.map((row) => part.columns.map((column) => texts(column, row[column.name])));
  return sets.map((given) => {
    try {
      const outputs = call(functions[formula], signature, given);
      return { outputs, texts: signature.gives.map((part) => texts(part, outputs[part.name])) };
    } catch (refusal) {
      if (!(refusal instanceof CannotTell)) throw refusal;
      return { cannot_tell: refusal.message };
    }
  });
}"""

# The same in an engine that is driven by scripts with a callback.
CALLED_ON_WEBKIT = f"""const [asked, done] = arguments;
const called = {CALLED_ON_PHONE};
called(asked).then((answers) => done({{ answers }}), (error) => done({{ error: String(error) }}));"""


def asked_of_phone(name: str, sets: list[dict[str, Any]]) -> dict[str, Any]:
    """What CALLED_ON_PHONE is given."""
    return {"formula": name, "signature": signature_data()[name], "sets": sets}


def called_here(name: str, given: dict[str, Any]) -> dict[str, Any]:
    signature = signature_data()[name]
    try:
        outputs = call(function_of(name), signature, given)
    except CannotTell as refusal:
        return {"cannot_tell": str(refusal)}
    return {"outputs": outputs, "texts": [_texts(part, outputs[part["name"]]) for part in signature["gives"]]}


def _texts(part: dict[str, Any], value: Any) -> Any:
    if part["kind"] == "number":
        return output_amount(value, part)
    return value if part["kind"] == "word" else [[_texts(column, row[column["name"]]) for column in part["columns"]] for row in value]


def uses_libraries(name: str) -> bool:
    """Whether a formula, or anything that it calls, uses more than + − × ÷ √."""
    functions = {node.name: node for tree in formulas().modules.values() for node in tree.body if isinstance(node, ast.FunctionDef)}
    seen, waiting = set(), [name]
    while waiting:
        node = functions[waiting.pop()]
        seen.add(node.name)
        if any(isinstance(part, ast.Pow) for part in ast.walk(node)):
            return True
        called = {part.func.id for part in ast.walk(node) if isinstance(part, ast.Call) and isinstance(part.func, ast.Name)}
        if called & (FUNCTIONS.keys() - _EXACT):
            return True
        waiting += [one for one in called if one in functions and one not in seen]
    return False
