"""The phone's store, as the tests of the record open it."""

from tests.record.conftest import app_modules, new_store

__all__ = ["app_modules", "new_store"]
