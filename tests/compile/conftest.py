"""A page of the phone app with its generated modules, so that both languages answer the same question."""

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from builder.compile.modules import generated_modules
from builder.places import ASSETS, SHARED

VECTORS = SHARED / "vectors"
_PAGE = "<!doctype html><title>Both sides</title>"


def read_vectors(name: str) -> Any:
    """A file of shared vectors."""
    return json.loads((VECTORS / f"{name}.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def vector_job() -> dict:
    """The small job that the expression vectors ask about."""
    return read_vectors("expressions")["job"]


@pytest.fixture(scope="session")
def phone(browser: Any, serve_folder: Callable, tmp_path_factory: pytest.TempPathFactory, vector_job: dict) -> Iterator[Callable]:
    """Runs a JavaScript function with one argument beside the app's modules, and gives what it returns."""
    folder = tmp_path_factory.mktemp("phone")
    (folder / "index.html").write_text(_PAGE, encoding="utf-8")
    shutil.copytree(ASSETS / "app", folder / "app")
    write_modules(folder, vector_job)
    page = browser.new_page()
    page.goto(serve_folder(folder).url)
    yield page.evaluate
    page.close()


def write_modules(folder: Path, job: dict) -> None:
    """The modules that are made for a job."""
    for path, text in generated_modules(job).items():
        (folder / path).write_text(text, encoding="utf-8")
