"""The modules of the phone app that are made for each job."""

from collections.abc import Mapping
from typing import Any

from builder.compile.catalogue import formulas, writing_functions
from builder.compile.javascript import expressions_module, formulas_module, units_module
from builder.compile.pull_readings import pull_conditions


def generated_modules(job: Mapping[str, Any]) -> dict[str, str]:
    """Formulas that a bound job uses, its expressions, and the units, as path in the site → text."""
    modules = formulas().modules
    used = {working["formula"] for task in job["tasks"].values() for working in task["workings"].values()}
    return {
        "app/formulas.mjs": formulas_module(modules, used | writing_functions(modules)),
        "app/expressions.mjs": expressions_module(expression_texts(job), acceptances(job)),
        "app/units.mjs": units_module(),
    }


def expression_texts(job: Mapping[str, Any]) -> set[str]:
    """Every distinct expression that a sheet of the job may ask for."""
    texts: set[str] = set()
    for task in job["tasks"].values():
        texts.update(text for working in task["workings"].values() for text in working["with"].values())
        texts.update(pull_conditions(task))
        texts.update(step["when"] for step in task["steps"] if step.get("when"))
    return texts | acceptances(job)


def acceptances(job: Mapping[str, Any]) -> set[str]:
    """Every distinct expression that judges a reading."""
    return {step["accept"] for task in job["tasks"].values() for step in task["steps"] if step.get("accept")}
