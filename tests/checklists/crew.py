"""Three phones that work a whole job between them: real signed entries, said as the sheets ask for them."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from builder.quantity import unit
from builder.record.chain import Entry
from builder.record.recompute import environment_for, shown, shown_on_pull
from tests.checklists.order_of_work import Stretch
from tests.checklists.worked_sheets import READINGS
from tests.record.phone import Phone, photo_map, photo_of, picture, record_text

# One stretch in so many meets a snag on its way.
_SNAG_EVERY = 9


class Crew:
    """
    A crew that shares the sheets of a job between its phones.

    holders   phone → the name of who holds it
    given     sheet → step → {text, unit} as typed, what is measured on a pull with it
    said      (sheet, step) → the entry that answered it last
    """

    def __init__(self, job: dict[str, Any], build: str):
        self.job = job
        self.people = {person["role"]: person["name"] for person in job["job"]["people"]}
        names = list(dict.fromkeys(person["name"] for person in job["job"]["people"]))
        self.phones = [Phone(f"{name}'s phone", job["job"]["name"], build) for name in names[:3]]
        self.holders = dict(zip(self.phones, names, strict=False))
        self.names = names
        self.sheets = {sheet["id"]: sheet for sheet in job["sheets"]}
        self.given: dict[str, dict[str, dict[str, Any]]] = defaultdict(dict)
        self.said: dict[tuple[str, str], Entry] = {}
        self.pictures: list[bytes] = []
        self.locks: dict[str, list[tuple[Entry, str]]] = defaultdict(list)
        self.stretches = 0
        self._environment = environment_for(job)

    def tell(self, phone: Phone, kind: str, sheet: str | None, step: str | None = None, who: str | None = None, **given: Any) -> Entry:
        """One entry, by who holds the phone unless it is about somebody else."""
        return phone.tell(kind, sheet=sheet, step=step, who=who or self.holders[phone], **given)

    def meet(self) -> None:
        """Every phone takes in what the others hold."""
        for phone in self.phones:
            phone.hear(*(other for other in self.phones if other is not phone))

    def record(self, phone: Phone) -> str:
        """The record file of one phone: all that it holds, and every photo."""
        brought = [entry for other in self.phones for entry in other.entries[:phone.seen.get(other.dev, -1) + 1]]
        return record_text([*brought, *phone.entries], phone, photos=photo_map(*self.pictures))

    def phone_of(self, sheet: str) -> Phone:
        """Who works a sheet."""
        return self.phones[list(self.sheets).index(sheet) % 3]

    def others(self, phone: Phone) -> list[Phone]:
        return [other for other in self.phones if other is not phone]

    def steps(self, sheet: str) -> list[dict[str, Any]]:
        return self.job["tasks"][self.sheets[sheet]["task"]]["steps"]

    def applies(self, sheet: str, step: dict[str, Any]) -> bool:
        told = self._environment(self.sheets[sheet], self.given[sheet]).step(step["name"])
        assert told["applies"] is not None, f"{sheet} {step['name']}: {told['applies_reason']}"
        return told["applies"]

    def work(self, stretches: Iterable[Stretch]) -> None:
        """Answers all that applies on each stretch, releases its hold, and closes the sheet at its far end."""
        for sheet, hold in stretches:
            self.answer(sheet, hold)
            self.finish(sheet, hold)

    def answer(self, sheet: str, hold: str | None) -> None:
        """All that applies between the hold before and this one."""
        phone = self.phone_of(sheet)
        steps = self.between(sheet, hold)
        for step in steps:
            if self.applies(sheet, step):
                self.answer_step(phone, sheet, step)
        self.stretches += 1
        if steps and self.stretches % _SNAG_EVERY == 0:
            self.find_and_mend(sheet, steps[0])

    def finish(self, sheet: str, hold: str | None) -> None:
        """Releases the hold of a stretch, or closes the sheet."""
        phone = self.phone_of(sheet)
        phone.hear(*self.others(phone))
        step = next((step for step in self.steps(sheet) if step["name"] == hold), None)
        if step is None:
            self.tell(phone, "close", sheet)
        elif self.applies(sheet, step):
            self.locks_first(phone, sheet, hold)
            self.release(phone, sheet, step)
            if self.job["tasks"][self.sheets[sheet]["task"]].get("pull_day", {}).get("after") == hold:
                self._watch_the_pull(phone, sheet)

    def between(self, sheet: str, hold: str | None) -> list[dict[str, Any]]:
        """Steps in front of a hold and behind the one before it."""
        stretch: list[dict[str, Any]] = []
        for step in self.steps(sheet):
            if step["name"] == hold:
                break
            stretch = [] if step["kind"] == "hold" else [*stretch, step]
        return stretch

    def answer_step(self, phone: Phone, sheet: str, step: dict[str, Any]) -> None:
        """One step done, looked at or read, with a photo where one is needed."""
        if step.get("photo") == "needed":
            self.take_photo(phone, sheet, step["name"])
        read = step["kind"] == "read"
        self.said[sheet, step["name"]] = self._read(phone, sheet, step) if read else self.tell(phone, "done", sheet, step["name"])

    def good(self, sheet: str, step: dict[str, Any]) -> str:
        """What a good crew reads here."""
        good = READINGS[self.sheets[sheet]["task"]][step["name"]]["good"]
        return good if isinstance(good, str) else good[self.sheets[sheet]["item"]]

    def _read(self, phone: Phone, sheet: str, step: dict[str, Any]) -> Entry:
        text, ucum = self.good(sheet, step), step["unit"] and unit(step["unit"]).ucum
        self.given[sheet][step["name"]] = {"text": text, "unit": ucum}
        says = shown(self._environment(self.sheets[sheet], self.given[sheet]), step)
        assert says["verdict"] in (None, "within"), f"{sheet} {step['name']} {text}: {says}"
        return self.tell(phone, "reading", sheet, step["name"], value=text, unit=ucum, shown=says)

    def take_photo(self, phone: Phone, sheet: str, step: str | None, about: Iterable[str] = ()) -> None:
        self.pictures.append(picture(len(self.pictures) + 1))
        self.tell(phone, "photo", sheet, step, about=list(about), photo=photo_of(self.pictures[-1]))

    def release(self, phone: Phone, sheet: str, step: dict[str, Any]) -> Entry:
        """The hold of a sheet, by somebody of its standing, signed where it asks for that."""
        who = self.people[step["released_by"]]
        release = self.tell(phone, "release", sheet, step["name"], value=step["released_by"], who=who)
        if step.get("signed"):
            self.tell(phone, "signed", sheet, step["name"], value="EW 4711", about=[release.id], drawn="M40 120L90 60L140 120", who=who)
        return release

    def find_snag(self, phone: Phone, sheet: str, step: str | None, say: str, waits_for: str) -> Entry:
        return self.tell(phone, "snag", sheet, step, value=say, waits_for=waits_for)

    def find_and_mend(self, sheet: str, step: dict[str, Any]) -> None:
        """A second phone finds something wrong, and a third closes it for the person that it waits for."""
        finder, mender = self.others(self.phone_of(sheet))
        waits_for = self.names[self.stretches % len(self.names)]
        snag = self.find_snag(finder, sheet, step["name"], "Not as it should be", waits_for)
        self.take_photo(finder, sheet, step["name"], [snag.id])
        mender.hear(finder)
        self.tell(mender, "snag-closed", sheet, step["name"], value="Made good", about=[snag.id], who=waits_for)

    def locks_first(self, phone: Phone, sheet: str, hold: str) -> None:
        """What a hold of a point's own sheet wants of its locks: they go on, or come off."""
        asked, item = self.sheets[sheet].get("locks", {}).get(hold), self.sheets[sheet]["item"]
        if self.sheets[sheet]["kind"] != "isolation" or not asked or item not in asked["points"]:
            return
        box = self.job["points"][item]["box"]
        if asked["want"] == "on" and not self.locks[item]:
            for place in filter(None, (item, box)):
                self._hang(phone, place, [self.people["licensed-worker"]] if place == item and box else self.names[:4])
        if asked["want"] == "off":
            for place in filter(None, (box, item)):
                self._take_off(phone, place)

    def _hang(self, phone: Phone, place: str, people: Iterable[str]) -> None:
        for who in people:
            if not any(who == owner for _, owner in self.locks[place]):
                number = f"{place} {len(self.locks[place]) + 1}"
                self.locks[place].append((self.tell(phone, "lock-on", f"locks/{place}", value=number, who=who), who))

    def _take_off(self, phone: Phone, place: str) -> None:
        """Everybody takes their own lock off; where four hang, one owner has gone home and three names take it off."""
        locks = self.locks.pop(place, [])
        for number, (lock, owner) in enumerate(locks):
            if number < 3:
                self.tell(phone, "lock-off", f"locks/{place}", about=[lock.id], who=owner)
                continue
            # Who is signed on is not away.
            self.tell(phone, "left", "site", who=owner)
            supervisor = self.people["supervisor"]
            looked, takes_off = [supervisor, *(name for name in self.names if name not in (owner, supervisor))][:2]
            absent = self.tell(phone, "absent", f"locks/{place}", value="Rang, radioed, walked the site", about=[lock.id], who=looked)
            self.tell(phone, "lock-off", f"locks/{place}", about=[lock.id, absent.id], who=takes_off)

    def _watch_the_pull(self, phone: Phone, sheet: str) -> None:
        """Two stations are read, somebody else calls stop, and the phone at the winch says go on."""
        pull_day, given = self.job["tasks"][self.sheets[sheet]["task"]]["pull_day"], self.given[sheet]
        ucum = unit(pull_day["tension"]["unit"]).ucum
        for station, text in enumerate(("0.1", "0.2")):
            given[f"station-{station}"] = {"text": text, "unit": ucum, "known": station - 1 if station else None, "differ": False}
            says = shown_on_pull(self._environment(self.sheets[sheet], given), pull_day)
            self.tell(phone, "measured", sheet, f"station-{station}", value=text, unit=ucum, shown=says)
        watcher, _ = self.others(phone)
        watcher.hear(phone)
        self.tell(watcher, "stop", sheet, value="Knock on the rope")
        phone.hear(watcher)
        self.tell(phone, "go", sheet, value="Roller set back")

    def sign_on(self) -> None:
        """Everybody comes on site and is briefed."""
        for who in self.names:
            self.tell(self.phones[0], "arrived", "site", value="EW 4711", who=who)
            self.tell(self.phones[0], "briefed", "site", value="Trench, pull and lock-out of the day", who=who)

    def sign_off(self) -> None:
        """Nobody is left behind."""
        for who in self.names:
            self.tell(self.phones[0], "left", "site", who=who)
