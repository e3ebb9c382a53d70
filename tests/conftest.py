"""What the tests share: the browser, the demo job built once and served, and folders served on loopback."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from builder.places import DEMO_JOB
from tests.browser import NO_BROWSER, launch_options
from tests.folder_server import FolderServer


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


@pytest.fixture
def webkit() -> Iterator:
    """A WebKit on a screen that nobody sees. Without one the test is skipped, but fails in CI."""
    from tests.webkit import NO_WEBKIT, webkit_driver, webkit_is_here

    if not os.environ.get("CI") and not webkit_is_here():
        pytest.skip(NO_WEBKIT)
    with webkit_driver() as driver:
        yield driver


@pytest.fixture(scope="session")
def serve_folder() -> Iterator[Callable[[Path], FolderServer]]:
    """Serves any folder on loopback; all end with the session."""
    servers = []

    def serve(folder: Path) -> FolderServer:
        servers.append(FolderServer(folder))
        return servers[-1]

    yield serve
    for server in servers:
        server.stop()


@pytest.fixture(scope="session")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo job, built once per worker. Not to be written to: copy it first."""
    from builder.build import build

    site = tmp_path_factory.mktemp("demo") / "site"
    build(DEMO_JOB, site)
    return site


@pytest.fixture(scope="session")
def demo_site(demo_folder: Path, serve_folder: Callable[[Path], FolderServer]) -> str:
    """The address of the demo job, served on loopback."""
    return serve_folder(demo_folder).url
