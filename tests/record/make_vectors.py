"""
Writes shared/vectors/chain.json and merge.json: `python -m tests.record.make_vectors`.

Entries are signed with keys that belong to these tests alone, the same bytes each time. What has to come out is
written here by hand.
"""

import json
from collections.abc import Callable
from typing import Any

from builder.places import SHARED
from builder.record.chain import Entry
from builder.record.payload import payload_text
from builder.record.verify import NO_KEY
from tests.record.phone import JOB, Phone

UNUSUAL = "Its text is not written the way entries are written."
OTHER_TEXT = "Its text is not the text its id was made from."
MISFIT = "Its signature does not fit its text and its phone's key."
NO_SIGNATURE = "Its signature is not in the form of one."
NEW, KNOWN = ("new", ""), ("known", "")
PHOTO = {"sha256": "ab" * 32, "bytes": 183214, "width": 1600, "height": 1200}
STEP = {"sheet": "pulling/before/R1", "step": "length"}


def ana() -> Phone:
    """A phone with six entries, one of each common kind."""
    phone = Phone("Ana's phone")
    phone.tell("reading", **STEP, value="46,2", unit="m", shown={"verdict": "within", "working": {"needed": {"length": "45 m"}}})
    phone.tell("done", sheet="pulling/before/R1", step="clear-route")
    phone.tell("snag", sheet="pulling/before/R1", value="Mandrel stuck at bend 2 – 90° \"left\"\n\\")
    phone.tell("aside", sheet="pulling/before/R1", step="lubricate", value="dry pull agreed")
    phone.tell("release", sheet="pulling/before/R1", step="ready", value="supervisor", who="Øyvind 李 🧤")
    return phone


def beside_the_answers() -> Phone:
    """A phone with entries of every kind that answers no step."""
    phone, here = Phone("Cleo's phone"), "pulling/before/R1"
    snag = phone.tell("snag", sheet=here, step="length", value="Short by a metre", waits_for="supervisor")
    phone.tell("photo", sheet=here, step="length", about=[snag.id], photo=PHOTO)
    phone.tell("note", sheet=here, value="Rain since ten")
    phone.tell("signed", sheet=here, step="ready", value="EW 4711", drawn="M12 140L30 60L48 140M60 100L90 100")
    phone.tell("signed", sheet=here, step="ready")
    phone.tell("measured", sheet=here, step="station-3", value="1,85", unit="kN")
    phone.tell("stop", sheet=here)
    phone.tell("go", sheet=here, value="Rope clear of the guard")
    phone.tell("arrived", sheet="site", value="EW 4711")
    phone.tell("briefed", sheet="site", value="Rope under load, wet ramp")
    lock = phone.tell("lock-on", sheet="locks/hv-switch", value="14")
    absent = phone.tell("absent", sheet="locks/hv-switch", value="Rang twice, gone home", about=[lock.id])
    phone.tell("lock-off", sheet="locks/hv-switch", about=[lock.id, absent.id])
    phone.tell("left", sheet="site")
    return phone


def misshapen() -> list[tuple[str, str, str, str]]:
    """Title, payload text, verdict and reason of entries whose signature is right and whose text is not."""
    phone = Phone("Ana's phone")
    good = phone.fields("reading", **STEP, value="46", unit="m")
    text = payload_text(good)

    def form(key: str, value: Any) -> tuple[str, str, str, str]:
        return f"{key}: {value!r}"[:60], payload_text(good | {key: value}), "broken", f"Its `{key}` is not in the form version 1 asks for."

    def odd(title: str, written: str) -> tuple[str, str, str, str]:
        return title, written, "broken", UNUSUAL

    return [
        odd("not JSON", "length 46 m"),
        odd("nothing", ""),
        odd("a list", "[1]"),
        odd("cut short", text[:-1]),
        odd("a key that stands twice", text.replace('"value":"46"', '"value":"40","value":"46"')),
        odd("a key that stands twice, deeper", text.replace('"seen":{}', '"seen":{"DEV":1,"DEV":2}'.replace("DEV", "a" * 32))),
        odd("keys in another order", text.replace('"v":1,', "").replace('"about":[]', '"about":[],"v":1')),
        odd("a key more", text.replace('"about":[]', '"about":[],"extra":1')),
        odd("a key less", text.replace(',"about":[]', "")),
        odd("blanks between", text.replace('","', '", "')),
        odd("blank at the end", text + " "),
        odd("a letter written as its number", text.replace("Ana", "\\u0041na")),
        odd("half a character, written as its number", text.replace("Ana", "\\ud800")),
        odd("number that is none", text.replace('"seq":1', '"seq":NaN')),
        odd("endless number", text.replace('"seq":1', '"seq":Infinity')),
        odd("number beyond what is held exactly, written otherwise", text.replace('"seq":1', '"seq":1e99')),
        odd("minus nothing", text.replace('"seq":1', '"seq":-0')),
        odd("seq with a point", text.replace('"seq":1', '"seq":1.0')),
        odd("nested a thousand deep", text.replace('"seen":{}', '"seen":' + '{"a":' * 1000 + "1" + "}" * 1000)),
        odd("nested twenty deep", text.replace('"seen":{}', '"seen":' + "[" * 20 + "]" * 20)),
        ("longer than an entry may be", payload_text(good | {"value": "4" * 65536}), "broken", "It is longer than 64 KiB."),
        ("a version from later", text.replace('"v":1', '"v":2'), "foreign", "It was written by a version that is not known here."),
        ("a kind from later", payload_text(good | {"kind": "soil-sample"}), "foreign", "Its kind `soil-sample` is not known here."),
        ("another job", payload_text(good | {"job": "quarry"}), "foreign", "It belongs to job `quarry`."),
        ("version as text", text.replace('"v":1', '"v":"1"'), "broken", "Its `v` is not in the form version 1 asks for."),
        form("dev", "A" * 32), form("seq", 2**53), form("seq", -1), form("seq", True), form("prev", None), form("prev", "z" * 64),
        form("seen", []), form("seen", {phone.dev: 3}), form("seen", {"x": 1}), form("seen", {"a" * 32: -1}), form("seen", {"a" * 32: 2**53}),
        form("at", "yesterday"), form("at", "2026-03-04T10:00:00Z"), form("at", "2026-03-04T10:00:00+10:00 "), form("who", ""), form("who", 7),
        form("build", "0123456789AB"), form("sheet", None), form("step", None), form("value", ""), form("value", 46),
        form("unit", ""), form("shown", {}), form("shown", {"verdict": "fine", "working": {}}),
        form("shown", {"verdict": "within", "working": {"needed": {"length": 45}}}),
        form("shown", {"verdict": "within", "working": {"__proto__": {}}}), form("about", {}), form("about", ["a" * 64]),
        ("a reading's number 0", payload_text(good | {"seq": 0, "prev": None, "key": phone.key, "continues": None}), "broken",
         "Its `seq` is not in the form version 1 asks for."),
        ("a settle of one", payload_text(good | {"kind": "settle", "unit": None, "value": "a" * 64, "about": ["a" * 64]}), "broken",
         "Its `about` is not in the form version 1 asks for."),
        ("a settle that chooses what it does not name", payload_text(good | {"kind": "settle", "unit": None, "value": "c" * 64, "about": ["a" * 64, "b" * 64]}),
         "broken", "Its `about` is not in the form version 1 asks for."),
        ("a withdrawal of nothing", payload_text(good | {"kind": "withdraw", "unit": None}), "broken", "Its `about` is not in the form version 1 asks for."),
        ("a hold set aside without a reason", payload_text(good | {"kind": "aside", "unit": None, "value": ""}), "broken",
         "Its `value` is not in the form version 1 asks for."),
        ("a unit on a note", payload_text(good | {"kind": "note"}), "broken", "Its `unit` is not in the form version 1 asks for."),
        ("a measurement without a unit", payload_text(good | {"kind": "measured", "unit": None}), "broken", "Its `unit` is not in the form version 1 asks for."),
        ("a lock on a step", payload_text(good | {"kind": "lock-on", "unit": None}), "broken", "Its `step` is not in the form version 1 asks for."),
        ("a lock without a number", payload_text(good | {"kind": "lock-on", "unit": None, "step": None, "value": ""}), "broken",
         "Its `value` is not in the form version 1 asks for."),
        ("no lock taken off", payload_text(good | {"kind": "lock-off", "unit": None, "step": None}), "broken", "Its `about` is not in the form version 1 asks for."),
        ("a snag that waits for nobody in particular, without saying so", payload_text(good | {"kind": "snag", "unit": None}).replace(',"waits_for":null', ""),
         "broken", UNUSUAL),
        ("a reading that waits", text.replace('"about":[]', '"about":[],"waits_for":null'), "broken", UNUSUAL),
        *(("a photo with " + title, payload_text(good | {"kind": "photo", "unit": None, "photo": photo}), "broken",
           "Its `photo` is not in the form version 1 asks for.") for title, photo in (
            ("no name", {**PHOTO, "sha256": "x"}), ("no size", {**PHOTO, "bytes": 0}), ("a part more", {**PHOTO, "place": "pit"}), ("nothing", None))),
        *(("a signature " + title, payload_text(good | {"kind": "signed", "unit": None, "drawn": drawn}), "broken",
           "Its `drawn` is not in the form version 1 asks for.") for title, drawn in (
            ("that is a word", "Ana"), ("that runs away", "M12 140L3000 60"), ("with more than a path", 'M1 1"/><script>'),
            ("too long to be one", "M1 1" + "L100 100" * 1200))),
        ("a unit on what is done", payload_text(good | {"kind": "done"}), "broken", "Its `unit` is not in the form version 1 asks for."),
    ]


def chain_vectors() -> dict[str, Any]:
    """Payload texts with their ids and signatures, good and bad."""
    phone = ana()
    entries = [
        entry._asdict() | {"title": f"entry {number}", "key": phone.key, "verdict": None, "reason": "", "signed": True}
        for number, entry in enumerate(phone.entries)
    ]
    beside = beside_the_answers()
    entries += [
        entry._asdict() | {"title": f"{json.loads(entry.payload)['kind']} {number}", "key": beside.key, "verdict": None, "reason": "", "signed": True}
        for number, entry in enumerate(beside.entries)
    ]
    other = Phone("Bo's phone")
    entries.append(phone.entries[1]._asdict() | {"title": "another phone's key", "key": other.key, "verdict": None, "reason": "", "signed": False})
    for title, payload, verdict, reason in misshapen():
        entries.append(phone.sign(payload)._asdict() | {"title": title, "key": phone.key, "verdict": verdict, "reason": reason})
    return {"job": JOB, "entries": entries}


def merge_cases() -> list[dict[str, Any]]:
    """Rounds of entries that come in, and what the last round's verdicts are."""
    phone, bo = ana(), Phone("Bo's phone")
    bo.hear(phone)
    bo.tell("done", sheet="pulling/before/R1", step="clear-route")
    bo.tell("reading", **STEP, value="46", unit="m")
    a, b = phone.entries, bo.entries
    cases: list[dict[str, Any]] = []

    def case(title: str, *rounds: list[Entry], gives: list[tuple[str, str]], holds: int, waits: int = 0, aside: int = 0) -> None:
        cases.append({
            "title": title, "rounds": [[entry._asdict() for entry in incoming] for incoming in rounds],
            "gives": [list(one) for one in gives], "holds": holds, "waits": waits, "aside": aside,
        })

    def early(text: str) -> tuple[str, str]:
        return "early", text

    def broken(reason: str) -> tuple[str, str]:
        return "broken", reason

    case("nothing comes in", [], gives=[], holds=0)
    case("one whole chain", a, gives=[NEW] * 6, holds=6)
    case("the same again", a, a, gives=[KNOWN] * 6, holds=6)
    case("the same entry twice in one file", [a[0], a[0]], gives=[NEW, KNOWN], holds=1)
    case("two phones", a, b, gives=[NEW] * 3, holds=9)
    case("backwards", a[::-1], gives=[NEW] * 6, holds=6)
    case("a longer copy after a shorter", a[:3], a, gives=[KNOWN] * 3 + [NEW] * 3, holds=6)
    case("an older copy after a newer", a, a[:3], gives=[KNOWN] * 3, holds=6)
    case("a gap of one", [*a[:2], *a[3:]], gives=[NEW] * 2 + [early("Entry 2 of this phone is missing.")] * 3, holds=5)
    case("a gap of three", [a[0], *a[4:]], gives=[NEW] + [early("Entries 1 to 3 of this phone are missing.")] * 2, holds=3)
    case("a gap that is filled", [*a[:2], *a[3:]], [a[2]], gives=[NEW], holds=6)
    case("two gaps", [a[0], a[2], a[4]], gives=[NEW, early("Entry 1 of this phone is missing."), early("Entry 3 of this phone is missing.")], holds=3)
    case("the key has not come", a[1:3], gives=[early(NO_KEY)] * 2, holds=0, waits=2)
    case("the key comes later", a[1:3], [a[0]], gives=[NEW], holds=3)
    case("the key comes last in the same file", [a[2], a[1], a[0]], gives=[NEW] * 3, holds=3)

    # Forged, or damaged on the way.
    changed = a[1].payload.replace("46,2", "64,2")
    case("a value changed", [a[0], Entry(changed, a[1].id, a[1].sig)], gives=[NEW, broken(OTHER_TEXT)], holds=1, aside=1)
    case("a value and its id changed", [a[0], phone.sign(changed)._replace(sig=a[1].sig)], gives=[NEW, broken(MISFIT)], holds=1, aside=1)
    case("a signature of another entry", [a[0], a[1]._replace(sig=a[2].sig)], gives=[NEW, broken(MISFIT)], holds=1, aside=1)
    case("a signature too short", [a[0], a[1]._replace(sig=a[1].sig[:-1])], gives=[NEW, broken(NO_SIGNATURE)], holds=1, aside=1)
    spare = a[1].sig[:-1] + chr(ord(a[1].sig[-1]) + 1)
    case("spare bits in a signature", [a[0], a[1]._replace(sig=spare)], gives=[NEW, broken(NO_SIGNATURE)], holds=1, aside=1)
    case("a signature of zeros", [a[0], a[1]._replace(sig="A" * 86)], gives=[NEW, broken(MISFIT)], holds=1, aside=1)
    case("a wrong copy after the right one", a[:2], [a[1]._replace(sig=a[2].sig)], gives=[broken(MISFIT)], holds=2, aside=1)
    case("the right copy after a wrong one", [a[0], a[1]._replace(sig=a[2].sig)], [a[1]], gives=[NEW], holds=2, aside=1)
    case("nothing where an entry belongs", [a[0], Entry('{"hello": 1}', "", "")], gives=[NEW, broken(OTHER_TEXT)], holds=1, aside=1)
    signed_by_other = bo.sign(a[1].payload)
    case("signed by another phone", [a[0], signed_by_other], gives=[NEW, broken(MISFIT)], holds=1, aside=1)
    stolen_name = phone.sign(payload_text(bo.fields("device", seq=0, prev=None, value="Ana's phone", key=phone.key, continues=None)))
    case("a name that the key does not give", [stolen_name], gives=[broken("Its device name is not the one its key gives.")], holds=0, aside=1)
    case("a first entry that its key did not sign", [a[0]._replace(sig=b[0].sig), a[1]], gives=[broken(MISFIT), early(NO_KEY)], holds=0, waits=1, aside=1)
    no_point = payload_text(json.loads(a[0].payload) | {"key": "A" * 87})
    case("a key that is no point, under its own name", [_under_own_name(phone, no_point)], gives=[broken(MISFIT)], holds=0, aside=1)
    case("another job's entries", Phone("Ana's phone", job="quarry").entries, gives=[("foreign", "It belongs to job `quarry`.")], holds=0, aside=1)
    later = phone.sign(a[1].payload.replace('"v":1', '"v":2'))
    case("an entry from later", [a[0], later], gives=[NEW, ("foreign", "It was written by a version that is not known here.")], holds=1, aside=1)

    # One key, two chains: a copied phone, or an older copy of one brought back.
    twin = ana()
    twin.entries = twin.entries[:4]
    twin.tell("done", sheet="pulling/before/R1", step="hitch")
    twin.tell("done", sheet="pulling/before/R1", step="winch")
    twice = [("forked", f"This phone wrote number {number} more than once.") for number in (4, 5)]
    case("two chains of one phone", a, twin.entries, gives=[KNOWN] * 4 + twice, holds=8)
    case("two chains of one phone in one file", [*a, *twin.entries[4:]], gives=[NEW] * 4 + [twice[0], twice[1]] * 2, holds=8)
    case("the second chain again", [*a, *twin.entries], twin.entries, gives=[KNOWN] * 6, holds=8)
    case("the end of a second chain alone", a[:5], [twin.entries[5]], gives=[("forked", "The entry before it is not the one held as number 4.")], holds=6)
    case("renumbered and signed again", [a[0], phone.sign(a[2].payload.replace('"seq":2', '"seq":1'))],
         gives=[NEW, ("forked", "The entry before it is not the one held as number 0.")], holds=2)
    spliced = phone.sign(a[3].payload.replace(a[2].id, a[1].id))
    case("an entry cut out and signed again", [a[0], a[1], spliced], gives=[NEW, NEW, early("Entry 2 of this phone is missing.")], holds=3)
    return cases


def _under_own_name(phone: Phone, payload: str) -> Entry:
    """An entry 0 whose device name is right for a key that is none."""
    from builder.record.chain import device_of, from_base64url

    fields = json.loads(payload)
    return phone.sign(payload_text(fields | {"dev": device_of(from_base64url(fields["key"]))}))


def _write(name: str, made: Callable[[], Any]) -> None:
    path = SHARED / "vectors" / name
    path.write_text(json.dumps(made(), ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    _write("chain.json", chain_vectors)
    _write("merge.json", lambda: {"job": JOB, "cases": merge_cases()})
