"""Collect records: verify, bring together, work everything out again, and show where the job stands."""

import hashlib
import shutil
from collections import Counter, defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from sqlalchemy.exc import SQLAlchemyError

from builder.record.address import UNUSABLE, beside, what_is_wrong, without_password
from builder.record.album import Album
from builder.record.answers import Answers
from builder.record.board import write_board
from builder.record.builds import Builds, NoSite
from builder.record.clocks import doubtful
from builder.record.entry_kinds import WITH_UNIT
from builder.record.evidence import photo_words
from builder.record.heads import called, not_in_file, older, phone_names
from builder.record.in_words import sheet_words, step_words
from builder.record.incoming import Incoming, incoming
from builder.record.merge import Standing, merge, standing
from builder.record.payload import Fields
from builder.record.recompute import Difference, Recomputing
from builder.record.report import Report
from builder.record.store import Shelf, Store

GOOD, FLAGGED, WRONG_COMMAND = 0, 1, 2


def collect(
    paths: Sequence[Path], site: Path, store_url: str | None, out: Path, clock: Callable[[], datetime],
    say: Callable[[str], None] = print,
) -> int:
    """
    Collect record files into the store and write the board page.

    Inputs
      paths      record files, and folders of them
      site       the built site that the sheets came from
      store_url  a SQLAlchemy address; None: a SQLite file in `out`
      out        where the board goes, and files that could not be accepted
      clock      this moment, with its offset
      say        where each line of the report goes
    Gives 0 when everything was accepted, 1 when something was refused or flagged, 2 when nothing could be
    collected as it was asked for.
    """
    url = store_url or f"sqlite:///{out / 'records.db'}"
    try:
        out.mkdir(parents=True, exist_ok=True)
        builds = Builds(site, beside(url, out))
        store = Store(url)
    except NoSite as fault:
        say(str(fault))
        return WRONG_COMMAND
    except OSError as fault:
        say(f"Nothing was collected, because `{fault.filename or out}` can't be written: {fault.strerror}.")
        return WRONG_COMMAND
    except (*UNUSABLE, SQLAlchemyError) as fault:
        return _no_store(url, fault, say)
    files, empty = _files(paths)
    try:
        if not files:
            say("There is nothing to collect: "
                + (f"no record files (.json or .txt) in {_listed(empty)}." if empty else "no record files were named."))
            return WRONG_COMMAND
        with store.open(builds.name) as shelf:
            return _Collecting(shelf, builds, out, clock(), Report(say), Album(out / "photos")).run(files, empty)
    except SQLAlchemyError as fault:
        return _no_store(url, fault, say)
    finally:
        store.close()


def _no_store(url: str, fault: Exception, say: Callable[[str], None]) -> int:
    say(f"The store `{without_password(url)}` can't be used, and nothing was collected: {what_is_wrong(fault)}")
    say("Write an address such as sqlite:///records/records.db, check that its folder is there, "
        "and that no other collect is running.")
    return WRONG_COMMAND


@dataclass
class _Collecting:
    """One call of collect."""

    shelf: Shelf
    builds: Builds
    out: Path
    now: datetime
    report: Report
    album: Album
    touched: set[str] = field(default_factory=set)
    fresh: set[str] = field(default_factory=set)

    def run(self, paths: Sequence[Path], empty: Sequence[Path]) -> int:
        self.report.width = max((len(path.name) for path in paths), default=0)
        had = self.shelf.files()
        digests = {path: _digest(path) for path in paths}
        files = incoming([path for path in paths if digests[path] not in had], self.builds.name)
        whole: dict[str, int] = {}
        for path in paths:
            if digests[path] in had:
                # The very same bytes were accepted before: every entry in them is known.
                self.report.known(path.name, had[digests[path]])
                continue
            one = next(files)
            if self._take(one):
                whole[digests[path]] = len(one.examined)
        if empty:
            self.report.flag(f"No record files (.json or .txt) in {_listed(empty)}.")
        self.shelf.remember_files(whole)
        said = self.shelf.said()
        stands = standing(said)
        told = Answers(self.builds.current, said)
        sheets, found = self._work_out_again(told)
        self._flag(said, stands)
        kept = (*self.shelf.aside(), *self.shelf.waiting())
        differences = self.shelf.differences()
        missing = self.album.missing(said)
        self.report.missing([photo_words(self.builds.current, entry) for entry in missing])
        board, left = write_board(self.out, self.builds, told, stands, differences, kept, missing, self.now)
        self.report.close([self._told(one) for one in found], len(sheets), len(differences) - len(found), left, board)
        return FLAGGED if self.report.flagged else GOOD

    def _take(self, one: Incoming) -> bool:
        """Merge a file into the store, and report it; gives whether all of it was accepted."""
        if one.file is None:
            return self.report.file(one.path.name, "refused", [one.refused, *self._keep_aside(one.path)], [], [])
        devices = {each.fields["dev"] for each in one.examined if each.fields}
        before = self.shelf.held(devices)
        merged = merge(before, [each.entry for each in one.examined], self.builds.name, one.examined)
        self.shelf.keep(before, merged.held, merged.said)
        had = {entry.id for entry in before.entries}
        for fields in merged.said:
            if fields["id"] not in had:
                self.fresh.add(fields["id"])
                self.touched.add(fields["sheet"])
        # A file of nothing but photos says nothing of heads.
        notes = older(one.file, merged.said, self.shelf.heads()) if one.examined else []
        self.album.keep(one.photos)
        self.shelf.remember({fields["dev"]: (fields["seq"], fields["id"]) for fields in merged.said})
        verdict = "accepted" if one.file.whole else "damaged"
        if not one.file.whole:
            notes = [one.file.reason, *self._keep_aside(one.path), *notes]
        faults = [*not_in_file(one.file, merged.said), *one.spoiled]
        return self.report.file(one.path.name, verdict, notes, faults, merged.verdicts, len(one.photos))

    def _keep_aside(self, path: Path) -> list[str]:
        """A file that can't be accepted whole is kept as it came, under a name that its content gives it."""
        kept = self.out / "kept-aside" / f"{_digest(path)[:12]}-{path.name}"
        try:
            kept.parent.mkdir(exist_ok=True)
            if not kept.exists():
                shutil.copyfile(path, kept)
        except OSError:
            return []
        return [f"Kept as it came: {kept}"]

    def _told(self, one: Difference) -> str:
        job = self.builds.current
        return f"{sheet_words(job, one.sheet)}, {step_words(job, one.sheet, one.step)}: {one.say}"

    def _work_out_again(self, told: Answers) -> tuple[set[str], list[Difference]]:
        """
        Every reading on the sheets that something was added to, with the job of its own build.

        Gives the sheets on which there was a reading that could be worked out, and what does not agree.
        """
        self.touched.discard(None)
        builds: dict[str, set[str]] = defaultdict(set)
        for sheet in self.touched:
            for entry in told.by_sheet.get(sheet, []):
                if entry["kind"] in WITH_UNIT:
                    builds[entry["build"]].add(sheet)
        worked: set[str] = set()
        differences: list[Difference] = []
        for build, sheets in sorted(builds.items()):
            job = self.builds.job(build)
            if job is None:
                continue
            worked |= sheets
            recomputing = Recomputing(job, told if job is self.builds.current else Answers(job, list(told.by_id.values())))
            differences += [found for sheet in sorted(sheets) for found in recomputing.differences(sheet, build)]
        self.shelf.replace_differences(self.touched, differences)
        return worked, differences

    def _flag(self, said: Sequence[Fields], stands: Standing) -> None:
        """What is odd about the entries that came in with this call."""
        fresh = [entry for entry in said if entry["id"] in self.fresh]
        unknown = Counter(entry["build"] for entry in fresh if self.builds.job(entry["build"]) is None)
        for build, count in sorted(unknown.items()):
            self.report.flag(
                f"Build {build} is not known here: {count} entries made under it are kept, "
                "and their workings can't be worked out again."
            )
        names = phone_names(said)
        doubts = doubtful(said, self.now)
        for dev in sorted({entry["dev"] for entry in fresh}):
            odd = [entry for entry in fresh if entry["dev"] == dev and entry["id"] in doubts]
            if odd:
                more = f" ({len(odd) - 1} more like it)" if len(odd) > 1 else ""
                self.report.flag(f"{called(dev, names)}: the clock is doubtful at entry {odd[0]['seq']}: "
                                 f"{doubts[odd[0]['id']]}{more}")
            if dev in stands.forks:
                self.report.flag(f"{called(dev, names)}: two different records come from this phone, "
                                 f"from entry {stands.forks[dev]} on. Both are kept; look at both.")


def _digest(path: Path) -> str:
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""


def _files(paths: Sequence[Path]) -> tuple[list[Path], list[Path]]:
    """Files as given, with the record files of folders; and the folders that have none."""
    files: list[Path] = []
    empty: list[Path] = []
    for path in map(Path, paths):
        if path.is_dir():
            inner = sorted(one for one in path.iterdir() if one.suffix in (".json", ".txt"))
            files += inner
            empty += [] if inner else [path]
        else:
            files.append(path)
    return files, empty


def _listed(folders: Sequence[Path]) -> str:
    return ", ".join(str(folder) for folder in folders)
