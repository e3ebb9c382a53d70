"""What collect says: one line for each file, what needs a look, a summary, and where the board is."""

from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path

from builder.record.merge import Verdict

_MOST_LINES = 10
_WORDS = ("new", "known", "early", "forked", "broken", "foreign")
_FINE = {"new", "known"}
# What is kept and never counted; a file of nothing else brought nothing.
_NEVER_COUNTED = {"broken", "foreign"}


class Report:
    """Lines for a supervisor's terminal."""

    def __init__(self, say: Callable[[str], None]):
        self._say = say
        self.width = 0
        self.flagged = False
        self.files: Counter[str] = Counter()
        self.entries: Counter[str] = Counter()

    def file(
        self, name: str, verdict: str, notes: Sequence[str], faults: Sequence[str], verdicts: Sequence[Verdict], photos: int = 0,
    ) -> bool:
        """
        One file: accepted, damaged or refused, notes on it, what is wrong with it, its entries' verdicts, and
        how many photos it brought.

        A whole file with nothing in it that can count is refused too. Gives whether there was nothing to flag.
        """
        counts = Counter(one.verdict for one in verdicts)
        if verdict == "accepted" and counts.keys() <= _NEVER_COUNTED and not photos:
            verdict = "refused"
        self.files[verdict] += 1
        self.entries += counts
        wrong = [one for one in verdicts if one.verdict not in _FINE]
        fine = verdict == "accepted" and not faults and not wrong
        self.flagged |= not fine
        brought = [f"{counts[word]} {word}" for word in _WORDS if counts[word]]
        told = ", ".join(brought + ([f"{photos} {'photo' if photos == 1 else 'photos'}"] if photos else [])) or "no entries"
        told = {"accepted": told, "damaged": f"damaged: {told}", "refused": f"refused: {told}" if counts else "refused"}[verdict]
        self._line(f"{name:<{self.width}}  {told}")
        self._lines([*notes, *faults, *_reasons(wrong)])
        return fine

    def known(self, name: str, entries: int) -> None:
        """One file that was accepted before, byte for byte."""
        self.files["accepted"] += 1
        self.entries["known"] += entries
        self._line(f"{name:<{self.width}}  {entries} known, collected before")

    def missing(self, lines: Sequence[str]) -> None:
        """Photos that the record names and that have not come, or came spoiled."""
        if not lines:
            return
        self.flag(f"{len(lines)} {'photo is' if len(lines) == 1 else 'photos are'} missing. Ask the phone to send its record again, "
                  "with every file of it:")
        self._lines(lines)

    def flag(self, say: str) -> None:
        """Something that needs a look."""
        self.flagged = True
        self._line(say)

    def close(self, differences: Sequence[str], sheets: int, earlier: int, left: Sequence[str], board: Path) -> None:
        """The summary: what does not agree now, on how many sheets that was asked, how much did not agree before, what is open."""
        self.flagged |= bool(differences) or earlier > 0
        files = sum(self.files.values())
        told = ", ".join(f"{self.files[word]} {word}" for word in ("accepted", "damaged", "refused") if self.files[word])
        self._line("")
        self._line(f"{files} {'file' if files == 1 else 'files'}: {told or 'none'}. "
                   + (", ".join(f"{self.entries[word]} {word}" for word in _WORDS if self.entries[word]) or "No entries") + ".")
        count = len(differences)
        agreed = "everything agrees" if not count else f"{count} {'reading does' if count == 1 else 'readings do'} not agree"
        if sheets:
            self._line(f"Worked out again on {sheets} {'sheet' if sheets == 1 else 'sheets'}: {agreed}.")
        else:
            self._line("No new readings, so nothing was worked out again.")
        self._lines(differences)
        if earlier:
            self._line(f"From before, {earlier} {'reading' if earlier == 1 else 'readings'} still "
                       f"{'does' if earlier == 1 else 'do'} not agree; the board names {'it' if earlier == 1 else 'them'}.")
        self._line(f"Still open: {', '.join(left)}." if left else "Nothing is open.")
        self._line(f"Board: {board}")

    def _lines(self, lines: Sequence[str]) -> None:
        for line in lines[:_MOST_LINES]:
            self._line(f"    {line}")
        if len(lines) > _MOST_LINES:
            self._line(f"    … and {len(lines) - _MOST_LINES} more; the board names them all.")

    def _line(self, line: str) -> None:
        # What a file calls itself must not steer the terminal.
        self._say("".join(letter if letter.isprintable() else "�" for letter in line))


def _reasons(wrong: Sequence[Verdict]) -> list[str]:
    counted = Counter((one.verdict, one.reason) for one in wrong)
    return [f"{count} {verdict}: {reason}" for (verdict, reason), count in counted.items()]
