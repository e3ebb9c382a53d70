"""The compiled modules: every construct runs as it does in Python, and the text is always the same."""

import ast
import json
import re
from collections.abc import Callable

import pytest

from builder.compile import arithmetic
from builder.compile.catalogue import WRITING, formulas
from builder.compile.constructs import FUNCTIONS
from builder.compile.javascript import expressions_module, formulas_module
from builder.compile.modules import acceptances, expression_texts, generated_modules
from builder.compile.subset import functions_of
from builder.formulas.mathematics import CannotTell
from tests.compile import every_construct
from tests.compile.answers import differences
from tests.compile.sample import SAMPLE, SOURCE
from tests.compile.vectors import vector_job

NAMES = [name for name in functions_of(SAMPLE) if not name.startswith("_")]
INPUTS = [[x, y] for x in (0.0, 1.0, 2.5, 7.0, 9.75) for y in (0.0, 1.0, 2.0, 4.5)]
JOB = vector_job()

RUN_ON_PHONE = """async ({name, inputs}) => {
  const { functions } = await import("/app/every_construct.mjs");
  const { CannotTell } = await import("/app/mathematics.mjs");
  return inputs.map(([x, y]) => {
    try {
      return functions[name](x, y);
    } catch (refusal) {
      if (!(refusal instanceof CannotTell)) throw refusal;
      return { cannot_tell: refusal.message };
    }
  });
}"""


def run_here(name: str, x: float, y: float) -> object:
    try:
        return getattr(every_construct, name)(x, y)
    except CannotTell as refusal:
        return {"cannot_tell": str(refusal)}
    except arithmetic.NO_NUMBER:
        return {"cannot_tell": arithmetic.NO_ANSWER}


@pytest.mark.parametrize("name", NAMES)
def test_construct_runs_alike_in_the_browser(name: str, phone: Callable) -> None:
    """Arithmetic, conditions, loops, texts, early returns and refusals come out as in Python."""
    there = phone(RUN_ON_PHONE, {"name": name, "inputs": INPUTS})
    here = [run_here(name, x, y) for x, y in INPUTS]
    assert [] == differences(here, there, 1e-12 if name in ("library", "arithmetic") else 0.0)


def test_every_function_of_the_subset_is_called_by_the_sample() -> None:
    """No function that formulas may call goes untried."""
    assert set() == {name for name in FUNCTIONS if not re.search(rf"\b{name}\(", SOURCE)}


def test_modules_are_the_same_text_whatever_the_order() -> None:
    """Sets and the order of a job's tasks leave no trace in what is built."""
    turned = JOB | {"tasks": dict(reversed(JOB["tasks"].items()))}
    assert generated_modules(JOB) == generated_modules(turned)


def test_expressions_of_a_job_are_each_written_once() -> None:
    """Conditions, acceptances and inputs of workings are found, and one text stands once."""
    texts = expression_texts(JOB)
    assert {"length_in_hand >= needed.length", "run.lubricated", "run.tail_start"} <= texts
    module = expressions_module([*texts, *texts], acceptances(JOB))
    assert len(texts) == module.count("\n  \"")


def test_only_an_acceptance_carries_its_limits() -> None:
    """A condition and an input are worked out and never shown as a limit."""
    module = expressions_module(expression_texts(JOB), acceptances(JOB))
    with_limits = {json.loads(text) for text in re.findall(r'^  (".*"): \{ value: .*, limits: \[', module, re.M)}
    assert acceptances(JOB) == with_limits


def test_made_modules_make_no_code_out_of_text() -> None:
    """Nothing in a generated module turns text into code, and it imports the runtime only."""
    for text in generated_modules(JOB).values():
        assert None is re.search(r"\beval\b|\bFunction\b|\bimport\(|document|innerHTML", text)
        assert set(re.findall(r'from "(.*?)"', text)) <= {"./mathematics.mjs"}


def test_function_names_its_line_of_the_author() -> None:
    """A failure in made code leads back to the formula's own line."""
    text = formulas_module(formulas().modules, formulas().signatures.keys())
    for stage, tree in formulas().modules.items():
        for node in tree.body:
            if isinstance(node, ast.FunctionDef) and stage not in WRITING:
                assert f"// {stage}.py:{node.lineno}\nfunction {stage}${node.name}(" in text


def test_job_gets_the_formulas_it_uses_and_what_they_rest_on() -> None:
    """A phone carries no formula that no sheet of its job asks for."""
    text = formulas_module(formulas().modules, {"sidewall_pressure"})
    assert {"route$sidewall_pressure", "bundle$bend_share"} == set(re.findall(r"^function (\S+?)\(", text, re.M))
    assert "export const functions = {\n  sidewall_pressure: route$sidewall_pressure,\n};\n" in text
