"""The command line: check, build, issue, collect."""

import argparse
import sys
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from builder.load.problems import BadInput, path_shown
from builder.places import DEMO_JOB, SITE_OUT

GOOD, WRONG, WRONG_COMMAND, OURS, STOPPED = 0, 1, 2, 3, 130


def _port(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 6 and 0 < int(text) < 65_536):
        raise argparse.ArgumentTypeError(f"`{text}` is no port: a port is a whole number from 1 to 65535")
    return int(text)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="pitslate", description="Task libraries and a job file in, an offline field app out.")
    parser.add_argument("--debug", action="store_true", help="show the whole trace of a fault of ours")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    check = commands.add_parser("check", help="check a job, its libraries, tables and overlays")
    check.add_argument("job", type=Path, nargs="?", default=DEMO_JOB, help="the job file (the demo if left out)")

    build = commands.add_parser("build", help="check, then build the site")
    build.add_argument("job", type=Path, nargs="?", default=DEMO_JOB, help="the job file (the demo if left out)")
    build.add_argument("--out", type=Path, default=SITE_OUT, help="where the site goes (site_out)")

    issue = commands.add_parser("issue", help="build, then serve the site to a browser here or to phones nearby")
    issue.add_argument("job", type=Path, nargs="?", default=DEMO_JOB, help="the job file (the demo if left out)")
    issue.add_argument("--out", type=Path, default=SITE_OUT, help="where the site goes (site_out)")
    issue.add_argument("--port", type=_port, default=8080, help="the port for this computer's own browser (8080)")
    issue.add_argument("--phones", type=_port, metavar="PORT", help="the https port for phones nearby (8443)")
    issue.add_argument("--address", help="which of this computer's addresses phones use")
    issue.add_argument("--only-here", action="store_true", help="serve this computer only, no phones")

    collect = commands.add_parser("collect", help="verify, merge and recompute records that came back")
    collect.add_argument("records", type=Path, nargs="+", help="record files from phones, or folders of them")
    collect.add_argument("--site", type=Path, default=SITE_OUT, help="the built site that the sheets came from (site_out)")
    collect.add_argument("--store", default=None, help="where records are kept: a SQLAlchemy address (records/records.db)")
    collect.add_argument("--out", type=Path, default=Path("records"), help="where the board page goes (records)")
    return parser


def main(words: Sequence[str] | None = None) -> int:
    """Run one command; gives the exit code: 0 good, 1 the input is wrong, 2 the command is wrong, 3 our fault, 130 stopped."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    options = _parser().parse_args(words)
    try:
        return _COMMANDS[options.command](options)
    except BadInput as bad:
        print(bad.report(), file=sys.stderr)
        return WRONG
    except KeyboardInterrupt:
        return STOPPED
    except OSError as refused:
        if options.debug:
            raise
        where = f"{path_shown(Path(refused.filename))}: " if refused.filename else ""
        print(f"{where}{(refused.strerror or str(refused)).lower()}", file=sys.stderr)
        return WRONG_COMMAND
    except Exception as fault:
        if options.debug:
            raise
        print(f"Pitslate failed, and it is not your file's fault: {type(fault).__name__}: {fault}", file=sys.stderr)
        print("Run it again with --debug before the command and send us what it prints.", file=sys.stderr)
        return OURS


def _check(options: argparse.Namespace) -> int:
    from builder.check.everything import checked_job

    data = checked_job(options.job)
    for name in (left := _untranslated(data)):
        print(f"not in {data['job']['language']}: {name}")
    lacking = f" {len(left)} steps and cautions are not in the job's language." if left else ""
    print(f"{data['job']['title']}: {_counted(data)}. No errors.{lacking}")
    return GOOD


def _counted(data: dict) -> str:
    steps = sum(len(data["tasks"][sheet["task"]]["steps"]) for sheet in data["sheets"])
    return f"{len(data['tasks'])} tasks, {len(data['sheets'])} sheets, {steps} steps"


def _untranslated(data: dict) -> list[str]:
    """Steps and cautions that the job's language has no words for, each named once."""
    left = [f"{key}/{step['name']}" for key, task in data["tasks"].items() for step in task["steps"] if "lang" in step]
    cautions = [(key, one) for key, task in data["tasks"].items() for shown in (task, *task["steps"]) for one in shown["cautions"]]
    return left + list(dict.fromkeys(f"{key.split('/')[0]}: caution {one['name']}" for key, one in cautions if "lang" in one))


def _build(options: argparse.Namespace) -> int:
    from builder.build import NotOurs, build

    try:
        counts = build(options.job, options.out)
    except NotOurs as refused:
        print(refused, file=sys.stderr)
        return WRONG_COMMAND
    print(f"Built {options.out}: {counts['tasks']} tasks, {counts['sheets']} sheets, {counts['steps']} steps "
          f"in {counts['files']} files, {counts['bytes'] / 1000:.0f} kB.")
    return GOOD


def _issue(options: argparse.Namespace) -> int:
    from builder.issue import PHONES_PORT, issue, this_computer

    if code := _build(options):
        return code
    computer = this_computer()
    asked = options.phones or options.address
    if not options.only_here and not asked and not computer.addresses:
        print("This computer is on no local network, so there is no address for phones.")
    phones = None if options.only_here or not (asked or computer.addresses) else options.phones or PHONES_PORT
    return issue(options.out, port=options.port, phones=phones, address=options.address, computer=computer)


def _collect(options: argparse.Namespace) -> int:
    from builder.record.collect import collect

    return collect(options.records, options.site, options.store, options.out, clock=lambda: datetime.now(UTC))


_COMMANDS = {"check": _check, "build": _build, "issue": _issue, "collect": _collect}


if __name__ == "__main__":
    sys.exit(main())
