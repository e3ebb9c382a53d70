"""A phone for each test: its own browser store, a narrow screen, and no way off this machine."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from builder.build import build
from tests.folder_server import FolderServer
from tests.phone.hands import Phone

# A machine busy with the other workers' browsers needs longer than a phone; a wait ends as soon as it can.
expect.set_options(timeout=20_000)

YARD = Path(__file__).parent / "yard_job.yaml"


@pytest.fixture(scope="session")
def yard_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The yard job, built once per worker. Not to be written to."""
    folder = tmp_path_factory.mktemp("yard") / "site"
    build(YARD, folder)
    return folder


@pytest.fixture(scope="session")
def yard(yard_folder: Path, serve_folder: Callable[[Path], FolderServer]) -> str:
    """The address of the yard job."""
    return serve_folder(yard_folder).url


@pytest.fixture
def new_phone(browser) -> Iterator[Callable[..., Phone]]:
    """Takes a new phone out of its box; at the end none of them may have seen a fault or asked anyone else."""
    phones: list[Phone] = []

    def new(address: str, **screen) -> Phone:
        phones.append(Phone(browser, address, **screen))
        return phones[-1]

    yield new
    for phone in phones:
        phone.context.close()
    assert [] == [fault for phone in phones for fault in phone.faults]
    assert [] == [url for phone in phones for url in phone.asked if not url.startswith((phone.address, "blob:"))]


@pytest.fixture
def phone(new_phone: Callable[..., Phone], yard: str) -> Phone:
    """A phone with the yard job open and Ada Quill, supervisor, holding it."""
    phone = new_phone(yard)
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    return phone
