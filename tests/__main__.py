"""
Every check of the project: `python3 -m tests [--full] [pytest options]`.

Installs what the checks need, the first time; then code style, then the tests. `--full` runs the long
counts of the random tests.
"""

import os
import sys

_TESTS = os.path.dirname(os.path.abspath(__file__))
_ROOT = os.path.dirname(_TESTS)
# Started by path, Python looks for modules inside tests/ instead of beside it.
sys.path[:] = [_ROOT] + [place for place in sys.path if place not in (_TESTS, _ROOT)]

from builder.bootstrap.oldest_python import refusal  # noqa: E402

# More workers than this only make the browsers wait for each other.
_MOST_WORKERS = 4


def _start(words):
    from builder.bootstrap.enter import Stopped, enter

    try:
        enter(_ROOT, "tests", words, extra="test")
    except Stopped as stopped:
        return str(stopped)

    import subprocess

    import pytest

    from tests.browser import fetch_if_missing

    os.chdir(_ROOT)
    style = subprocess.call([sys.executable, "-m", "ruff", "check", "--quiet", "."])
    fetch_if_missing(os.environ)
    workers = str(min(os.cpu_count() or 1, _MOST_WORKERS))
    failed = pytest.main(["-n", workers, "--dist", "loadgroup"] + words)
    return int(failed) or style


if __name__ == "__main__":
    sys.exit(refusal(sys.version_info) or _start(sys.argv[1:]))
