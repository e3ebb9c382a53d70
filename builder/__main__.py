"""
Start from a clone, with nothing but Python: `python3 -m builder`, or `python3 PATH/builder`.

Without words it builds the demo job and serves it; with words it does what `pitslate` does.
"""

import os
import sys

_BUILDER = os.path.dirname(os.path.abspath(__file__))
_ROOT = os.path.dirname(_BUILDER)
# Started by path, Python looks for modules inside builder/ instead of beside it.
sys.path[:] = [_ROOT] + [place for place in sys.path if place not in (_BUILDER, _ROOT)]

from builder.bootstrap.oldest_python import refusal  # noqa: E402

_DEMO_JOB = os.path.join(_ROOT, "checklists", "demo", "job.yaml")


def _command(words):
    """The words for the command line: none, or `demo`, stand for issuing the demo job."""
    if not words or words[0] == "demo":
        return ["issue", _DEMO_JOB] + list(words[1:])
    return list(words)


def _start(words):
    from builder.bootstrap.enter import Stopped, enter

    try:
        enter(_ROOT, "builder", words)
    except Stopped as stopped:
        sys.exit(str(stopped))

    from builder.cli import main

    return main(_command(words))


if __name__ == "__main__":
    sys.exit(refusal(sys.version_info) or _start(sys.argv[1:]))
