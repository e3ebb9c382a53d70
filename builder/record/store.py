"""Where collected records are kept: any database that SQLAlchemy reaches, a SQLite file unless told otherwise."""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from itertools import islice
from typing import Any

from sqlalchemy import (
    Column,
    Connection,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    create_engine,
    delete,
    event,
    insert,
    select,
    update,
)

from builder.record.chain import Entry
from builder.record.entry_kinds import SOME_CARRY
from builder.record.merge import Aside, Held, said_of
from builder.record.payload import Fields
from builder.record.recompute import Difference

_TABLES = MetaData()
_ENTRIES = Table(
    "entries", _TABLES,
    Column("job", String(200), primary_key=True),
    Column("dev", String(32), primary_key=True),
    Column("seq", Integer, primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("sig", String(86), nullable=False),
    Column("payload", Text, nullable=False),
)
_WAITING = Table(
    "waiting", _TABLES,
    Column("job", String(200), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("sig", String(86), primary_key=True),
    Column("payload", Text, nullable=False),
)
_ASIDE = Table(
    "aside", _TABLES,
    Column("job", String(200), primary_key=True),
    Column("digest", String(64), primary_key=True),
    Column("id", Text, nullable=False),
    Column("sig", Text, nullable=False),
    Column("payload", Text, nullable=False),
    Column("verdict", String(8), nullable=False),
    Column("reason", Text, nullable=False),
)
_HEADS = Table(
    "heads", _TABLES,
    Column("job", String(200), primary_key=True),
    Column("dev", String(32), primary_key=True),
    Column("seq", Integer, nullable=False),
    Column("id", String(64), nullable=False),
)
_FILES = Table(
    "files", _TABLES,
    Column("job", String(200), primary_key=True),
    Column("digest", String(64), primary_key=True),
    Column("entries", Integer, nullable=False),
)
_DIFFERENCES = Table(
    "differences", _TABLES,
    Column("job", String(200), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("sheet", Text, nullable=False),
    Column("step", Text, nullable=False),
    Column("say", Text, nullable=False),
)
_MANY = 500
# What answers, progress and workings are made of, of an entry's fields; and the texts among it that repeat.
_SPOKEN = ("id", "dev", "seq", "prev", "seen", "at", "who", "build", "kind", "sheet", "step", "value", "unit", "shown", "about",
           *SOME_CARRY)
_REPEATED = ("dev", "at", "who", "build", "kind", "sheet", "step", "value", "unit")


class Store:
    """Everything that was ever collected. Nothing in it is taken away; only differences are worked out anew."""

    def __init__(self, url: str):
        self.engine = create_engine(url)
        if self.engine.dialect.name == "sqlite":
            event.listen(self.engine, "connect", _as_one_transaction)
            event.listen(self.engine, "begin", lambda connection: connection.exec_driver_sql("BEGIN IMMEDIATE"))
        _TABLES.create_all(self.engine)

    @contextmanager
    def open(self, job: str) -> Iterator["Shelf"]:
        """The records of one job, in one transaction: all of what is done is kept, or nothing."""
        with self.engine.begin() as connection:
            yield Shelf(connection, job)

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()


def _as_one_transaction(connection: Any, _: Any) -> None:
    # The driver would begin late and commit early by itself.
    connection.isolation_level = None


class Shelf:
    """The records of one job while its transaction is open."""

    def __init__(self, connection: Connection, job: str):
        self.connection, self.job = connection, job

    def held(self, devices: Iterable[str]) -> Held:
        """What is held of these devices, and whatever waits."""
        entries = [
            Entry(*row) for some in _lots(devices, _MANY)
            for row in self._rows(_ENTRIES, "payload id sig", _ENTRIES.c.dev.in_(some))
        ]
        return Held(entries, self.waiting())

    def waiting(self) -> list[Entry]:
        """Entries whose device's key has not come yet."""
        return [Entry(*row) for row in self._rows(_WAITING, "payload id sig")]

    def aside(self) -> list[Aside]:
        """Entries kept, never counted."""
        rows = self._rows(_ASIDE, "payload id sig verdict reason", order="digest")
        return [Aside(Entry(*row[:3]), *row[3:]) for row in rows]

    def said(self) -> list[Fields]:
        """Every accepted entry, opened and in order. What repeats from entry to entry is held once."""
        once: dict[str, str] = {}
        before: Fields = {"id": None, "seen": {}}
        said = []
        for row in self._rows(_ENTRIES, "payload id sig", order="dev seq id"):
            opened = said_of(Entry(*row))
            fields = {key: opened[key] for key in _SPOKEN if key in opened}
            for key in _REPEATED:
                fields[key] = once.setdefault(fields[key], fields[key])
            fields["prev"] = before["id"] if fields["prev"] == before["id"] else fields["prev"]
            fields["seen"] = before["seen"] if fields["seen"] == before["seen"] else fields["seen"]
            said.append(fields)
            before = fields
        return said

    def keep(self, before: Held, after: Held, said: Sequence[Fields]) -> None:
        """Write what a merge added."""
        had = {entry.id: entry.sig for entry in before.entries}
        self._insert(_ENTRIES, (
            {"dev": fields["dev"], "seq": fields["seq"], **entry._asdict()}
            for entry, fields in zip(after.entries, said, strict=True) if entry.id not in had
        ))
        for entry in after.entries:
            if had.get(entry.id, entry.sig) != entry.sig:
                self.connection.execute(
                    update(_ENTRIES).where(_ENTRIES.c.job == self.job, _ENTRIES.c.id == entry.id).values(sig=entry.sig)
                )
        waited, waits = set(before.waiting), set(after.waiting)
        for entry in waited - waits:
            self.connection.execute(delete(_WAITING).where(
                _WAITING.c.job == self.job, _WAITING.c.id == entry.id, _WAITING.c.sig == entry.sig
            ))
        self._insert(_WAITING, (entry._asdict() for entry in waits - waited))
        aside = {_digest(one.entry): one for one in after.aside}
        for some in _lots(list(aside), _MANY):
            for (digest,) in self._rows(_ASIDE, "digest", _ASIDE.c.digest.in_(some)):
                del aside[digest]
        self._insert(_ASIDE, (
            {"digest": digest, "verdict": one.verdict, "reason": one.reason, **_writable(one.entry)}
            for digest, one in aside.items()
        ))

    def files(self) -> dict[str, int]:
        """SHA-256 of each file that was accepted whole, and how many entries it holds."""
        return {row.digest: row.entries for row in self._rows(_FILES, "digest entries")}

    def remember_files(self, files: dict[str, int]) -> None:
        """Remember files of which everything is held."""
        self._insert(_FILES, ({"digest": digest, "entries": entries} for digest, entries in files.items()))

    def heads(self) -> dict[str, tuple[int, str]]:
        """Device → highest number ever seen, and its id."""
        return {dev: (seq, head) for dev, seq, head in self._rows(_HEADS, "dev seq id")}

    def remember(self, heads: dict[str, tuple[int, str]]) -> None:
        """Remember heads; one is never replaced by a lower one."""
        before = self.heads()
        for dev, (seq, head) in heads.items():
            if dev in before and before[dev][0] < seq:
                self.connection.execute(
                    update(_HEADS).where(_HEADS.c.job == self.job, _HEADS.c.dev == dev).values(seq=seq, id=head)
                )
        self._insert(_HEADS, (
            {"dev": dev, "seq": seq, "id": head} for dev, (seq, head) in heads.items() if dev not in before
        ))

    def differences(self) -> list[Difference]:
        """What did not agree when it was worked out again."""
        return [Difference(*row) for row in self._rows(_DIFFERENCES, "id sheet step say", order="sheet step id")]

    def replace_differences(self, sheets: Iterable[str], differences: Iterable[Difference]) -> None:
        """Put what was worked out anew for these sheets in place of what was found before."""
        for some in _lots(sheets, _MANY):
            self.connection.execute(
                delete(_DIFFERENCES).where(_DIFFERENCES.c.job == self.job, _DIFFERENCES.c.sheet.in_(some))
            )
        self._insert(_DIFFERENCES, (difference._asdict() for difference in differences))

    def _rows(self, table: Table, columns: str, *clauses: Any, order: str = "") -> Iterator[Any]:
        query = select(*(table.c[name] for name in columns.split())).where(table.c.job == self.job, *clauses)
        yield from self.connection.execute(query.order_by(*(table.c[name] for name in order.split())))

    def _insert(self, table: Table, rows: Iterable[dict[str, Any]]) -> None:
        for some in _lots(rows, 10 * _MANY):
            self.connection.execute(insert(table), [{"job": self.job, **row} for row in some])


def _lots(things: Iterable, size: int) -> Iterator[list]:
    rest = iter(things)
    while lot := list(islice(rest, size)):
        yield lot


def _writable(entry: Entry) -> dict[str, str]:
    """Texts that any database can hold: half a character, or none, is written as its number."""
    return {key: text.encode(errors="backslashreplace").decode().replace("\0", "\\x00") for key, text in entry._asdict().items()}


def _digest(entry: Entry) -> str:
    return hashlib.sha256("\0".join(_writable(entry).values()).encode()).hexdigest()
