"""A page with the app's record modules, and the same questions asked of it and of Python."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from builder.places import ASSETS, SHARED
from builder.words import word_list


@pytest.fixture(scope="session")
def in_page(browser: Any, serve_folder: Callable) -> Iterator[Callable[[str, Any], Any]]:
    """Asks one of the functions of in_page.mjs, in a real page."""
    context = browser.new_context(bypass_csp=True)
    page = context.new_page()
    page.goto(serve_folder(ASSETS / "app").url + "stamp.mjs")
    teach_words(page)
    page.add_script_tag(type="module", content=(Path(__file__).parent / "in_page.mjs").read_text(encoding="utf-8"))
    page.wait_for_function("globalThis.vectors")
    yield lambda name, given: page.evaluate("([name, given]) => vectors[name](given)", [name, given])
    context.close()


def teach_words(page: Any) -> None:
    """Gives a page of bare modules the words that a page of the app reads from its site."""
    page.evaluate("(list) => import('/words.mjs').then(({ useWords }) => useWords(list))", word_list())


def vectors(name: str) -> dict[str, Any]:
    """A file of shared vectors."""
    return json.loads((SHARED / "vectors" / name).read_text(encoding="utf-8"))


def open_store_page(context: Any, address: str) -> Any:
    """A page that has the functions of store_in_page.mjs."""
    page = context.new_page()
    page.goto(f"{address}stamp.mjs")
    teach_words(page)
    page.add_script_tag(type="module", content=(Path(__file__).parent / "store_in_page.mjs").read_text(encoding="utf-8"))
    page.wait_for_function("globalThis.store")
    return page


@pytest.fixture(scope="session")
def app_modules(serve_folder: Callable) -> str:
    """The address of the app's modules."""
    return serve_folder(ASSETS / "app").url


@pytest.fixture
def new_store(browser: Any, app_modules: str) -> Iterator[Callable[[], Callable]]:
    """Takes a phone with an empty store out of its box; gives what asks one of its functions."""
    contexts = []

    def new() -> Callable[..., Any]:
        contexts.append(browser.new_context(bypass_csp=True))
        page = open_store_page(contexts[-1], app_modules)
        return lambda name, *given: page.evaluate("([name, given]) => store[name](...given)", [name, given])

    yield new
    for context in contexts:
        context.close()
