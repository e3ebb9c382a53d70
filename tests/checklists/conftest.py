"""The demo job, for whoever changes it."""

from copy import deepcopy
from typing import Any

import pytest

from builder.check.everything import checked_job
from builder.places import DEMO_JOB


@pytest.fixture
def job() -> dict[str, Any]:
    """The demo job, checked and bound, to be changed."""
    return deepcopy(checked_job(DEMO_JOB))
