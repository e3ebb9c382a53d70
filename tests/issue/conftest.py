"""A computer on loopback, with a clock that stands still, to issue from."""

from collections.abc import Iterator
from contextlib import ExitStack
from datetime import UTC, datetime
from pathlib import Path

import pytest

from builder.issue.address import listen
from builder.issue.computer import Computer
from builder.issue.serve import Server, serving
from builder.issue.shelf import Pages

NOW = datetime(2026, 3, 2, 6, 30, tzinfo=UTC)


@pytest.fixture
def computer(tmp_path: Path) -> Computer:
    """A computer whose only network is loopback."""
    return Computer("Site-Laptop", ["127.0.0.1", "127.0.0.2"], tmp_path / "own", clock=lambda: datetime.now(UTC))


@pytest.fixture
def serve() -> Iterator:
    """Serves pages on a free loopback port for the length of a test; gives the server."""
    with ExitStack() as servers:

        def start(pages: dict[str, bytes], tls=None) -> Server:
            server = Server(listen("127.0.0.1", 0), Pages(pages), {"127.0.0.1"}, tls)
            return servers.enter_context(serving(server))

        yield start
