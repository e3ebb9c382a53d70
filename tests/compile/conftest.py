"""A page of the phone app with its generated modules, so that both languages answer the same question."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from tests.compile.page import write_page
from tests.compile.sample import MODULE
from tests.compile.vectors import vector_job


@pytest.fixture(scope="session")
def phone(browser: Any, serve_folder: Callable, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable]:
    """Runs a JavaScript function with one argument beside the app's modules, and gives what it returns."""
    folder = tmp_path_factory.mktemp("phone")
    write_page(folder, vector_job())
    (folder / "app" / "every_construct.mjs").write_text(MODULE, encoding="utf-8")
    page = browser.new_page()
    page.goto(serve_folder(folder).url)
    yield page.evaluate
    page.close()
