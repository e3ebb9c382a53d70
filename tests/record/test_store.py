"""The phone's store in a real browser: what is saved, brought in, doubled and lost."""

import json
from collections.abc import Callable

import pytest

from builder.record.merge import Held, merge
from builder.record.record_file import parse_record
from tests.record.phone import Phone, record_text

JOB = "yard"


def test_a_record_signed_on_the_phone_holds_at_the_desk(new_store: Callable) -> None:
    """Every entry that the browser signed is accepted by Python, under the file name of its phone and day."""
    given = new_store()("told", JOB, ["Edge at the pit", "Ein Biß “quoted” \\ \n\t\u2028 🧤"])
    file = parse_record(given["text"].encode(), JOB)
    merged = merge(Held(), file.entries, JOB)
    assert ["new"] * 3 == [one.verdict for one in merged.verdicts]
    assert {given["dev"]: (2, merged.said[-1]["id"])} == file.heads
    assert given["file"].startswith("pitslate-yard-ana-s-phone-20")
    assert given["file"].endswith(".json")


def test_a_record_signed_at_the_desk_holds_on_the_phone(new_store: Callable) -> None:
    """Every entry that Python signed is accepted by the browser, and there after a restart."""
    phone = Phone("Bo's phone")
    phone.tell("snag", sheet="S", value="Ein Biß “quoted” \\ \n\t\u2028 🧤")
    ask = new_store()
    assert ["new", "new"] == ask("read", JOB, record_text(phone.entries, phone))["verdicts"]
    assert [[phone.dev, 0, "Bo's phone"], [phone.dev, 1, "Ein Biß “quoted” \\ \n\t\u2028 🧤"]] == ask("read", JOB)["after"]


def test_an_answer_knows_of_what_was_brought(new_store: Callable) -> None:
    """`seen` names the newest number held without a gap, of each other phone."""
    phone = Phone("Bo's phone")
    for number in range(4):
        phone.tell("snag", sheet="S", value=f"Snag {number}")
    ask = new_store()
    remarks = ask("read", JOB, record_text([*phone.entries[:2], phone.entries[4]], phone))["remarks"]
    assert ["Bo's phone: Entries 2 to 3 of this phone are missing."] == remarks
    text = ask("told", JOB, ["after"])["text"]
    seen = json.loads(json.loads(text)["entries"][-1]["payload"])["seen"] if text else None
    own = [json.loads(entry["payload"]) for entry in json.loads(text)["entries"]]
    assert {phone.dev: 1} == next(entry["seen"] for entry in own if entry["value"] == "after"), seen


def test_waiting_entries_travel_on_and_count_once_their_key_comes(new_store: Callable) -> None:
    """Entries without their entry 0 are kept, sent on, and accepted when it comes."""
    phone = Phone("Bo's phone")
    phone.tell("snag", sheet="S", value="Edge")
    ask = new_store()
    assert ["early"] == ask("read", JOB, record_text(phone.entries[1:], phone))["verdicts"]
    assert phone.entries[1].id in ask("told", JOB, [])["text"]
    came = ask("read", JOB, record_text(phone.entries[:1], phone))
    assert [phone.dev, 1, "Edge"] in came["after"]


def test_an_older_file_is_told(new_store: Callable) -> None:
    """A phone's file that ends earlier than before is named."""
    phone = Phone("Bo's phone")
    phone.tell("snag", sheet="S", value="Edge")
    ask = new_store()
    ask("read", JOB, record_text(phone.entries, phone))
    remarks = ask("read", JOB, record_text(phone.entries[:1], phone))["remarks"]
    assert ["Bo's phone: this file is older than what came before. It ends at entry 0, and entry 1 had come."] == remarks


def test_a_digest_gives_what_the_entries_give(new_store: Callable) -> None:
    """Read by a digest or one by one is the same: after more was said, brought in, or lost."""
    phone = Phone("Bo's phone")
    phone.tell("snag", sheet="S", value="Edge at the pit", waits_for=None)
    outcomes = new_store()("digested", JOB, 320, record_text(phone.entries, phone))
    assert [[True, True, 321], [True, True, 322], [True, True, 324], [True, True, 323]] == outcomes


@pytest.mark.parametrize("locked", [True, False], ids=["with locks", "without locks"])
def test_pages_of_one_phone_never_take_the_same_number(new_store: Callable, locked: bool) -> None:
    """Three pages writing at once give one chain without gaps or doubles."""
    given = new_store()("together", JOB, 3, 8, locked)
    assert list(range(1, 25)) == sorted(given["seqs"])
    assert ["new"] * 25 == given["verdicts"]


def test_saving_asks_for_the_disk(new_store: Callable) -> None:
    """Every writing transaction asks to be on the disk before it is complete."""
    assert ["strict"] == new_store()("strictness", JOB)


def test_a_phone_that_lost_entries_says_so_and_goes_on_as_a_new_one(new_store: Callable) -> None:
    """Its own chain can't be taken up again without writing a number twice."""
    ask = new_store()
    lost = ask("told", JOB, ["one", "two", "three"])
    ask("lose", JOB, 2, False)
    assert "this phone has lost entries of its own record." in ask("read", JOB)["lost"]
    given = ask("goOn", JOB)
    assert given["refusal"].startswith("Not saved: this phone has lost entries")
    assert (lost["dev"], {lost["dev"]: 1}, None) == (given["continues"], given["seen"], given["lost"])
    assert ["new"] * 4 == given["verdicts"]
    back = ask("read", JOB, lost["text"])
    assert ["two", "three"] == [value for dev, seq, value in back["after"] if dev == lost["dev"]][2:]


def test_a_phone_brought_back_from_an_older_copy_finds_out(new_store: Callable) -> None:
    """When its own later entries come back from another phone, it stops writing with that key."""
    ask = new_store()
    later = ask("told", JOB, ["one", "two"])["text"]
    ask("lose", JOB, 1, True)
    assert ask("read", JOB)["lost"] is None
    ask("told", JOB, ["another two"])
    came = ask("read", JOB, later)
    assert "forked" in came["verdicts"]
    assert "writes with this phone's key" in came["lost"]
    assert ["one", "another two", "two"] == sorted((value for _, seq, value in came["after"] if seq), key=["one", "another two", "two"].index)
