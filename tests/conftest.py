"""What the tests share: the browser, the demo job built once and served, and folders served on loopback."""

import os
from collections.abc import Iterator

import pytest

from tests.browser import NO_BROWSER, launch_options


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--full", action="store_true", help="run the long counts of the random tests")


@pytest.fixture(scope="session")
def full(request: pytest.FixtureRequest) -> bool:
    """Whether the long counts are asked for."""
    return request.config.getoption("--full")


@pytest.fixture(scope="session")
def browser() -> Iterator:
    """A headless Chromium, one per worker. Without one the phone tests are skipped, but fail in CI."""
    from playwright.sync_api import Error, sync_playwright

    with sync_playwright() as playwright:
        try:
            chromium = playwright.chromium.launch(**launch_options(os.environ))
        except Error as error:
            if os.environ.get("CI"):
                raise
            pytest.skip(f"{NO_BROWSER} ({error.message.splitlines()[0]})")
        yield chromium
        chromium.close()
