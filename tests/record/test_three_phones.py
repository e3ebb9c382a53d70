"""Three phones that hand their records on with no signal: whatever the order, all end at the same."""

import copy
import itertools
from collections.abc import Callable

from tests.record.conftest import vectors
from tests.record.phone import BUILD, JOB, Phone, photo_map, photo_of, picture, record_text

P = {"sheet": "P", "step": "clear"}
LENGTH = {"sheet": "P", "step": "length"}


def three_phones() -> list[tuple[Phone, list[bytes]]]:
    """
    Ana, Bo and Cy work at one sheet and on one site.

    Ana and Bo read one length differently, neither knowing of the other; Cy, who heard of Bo's, reads the same. Bo's
    snag is closed by Ana, who had heard of it. Each took a photo, and Cy's was left behind.
    """
    ana, bo, cy = Phone("Ana's phone"), Phone("Bo's phone"), Phone("Cy's phone")
    snag = bo.tell("snag", **P, value="Edge at the pit", waits_for="Ana Lind", who="Bo Rand")
    bo.tell("photo", **P, value="edge", about=[snag.id], photo=photo_of(picture(1)), who="Bo Rand")
    ana.tell("arrived", sheet="site", value="EW 4711")
    ana.tell("reading", **LENGTH, value="46", unit="m")
    ana.tell("photo", **P, value="", photo=photo_of(picture(2)))
    bo.tell("reading", **LENGTH, value="47", unit="m", who="Bo Rand")
    cy.hear(bo)
    cy.tell("reading", **LENGTH, value="47", unit="m", who="Cy Marsh")
    cy.tell("photo", **P, value="", photo=photo_of(picture(3)), who="Cy Marsh")
    cy.tell("left", sheet="site", who="Ana Lind")
    ana.hear(bo)
    ana.tell("snag-closed", **P, value="Edge cut back", about=[snag.id])
    ana.tell("done", **P)
    return [(ana, [picture(2)]), (bo, [picture(1)]), (cy, [])]


def test_three_phones_merged_in_every_order_give_the_same(new_store: Callable) -> None:
    """Sheets, conflict, snag, photos, zone and the file that leaves: alike in all six orders, and twice over."""
    job = copy.deepcopy(vectors("progress.json")["job"]) | {"points": {}}
    job["job"]["name"] = JOB
    texts = [record_text(phone.entries, phone, photos=photo_map(*pictures)) if pictures else record_text(phone.entries, phone)
             for phone, pictures in three_phones()]
    orders = [list(order) for order in itertools.permutations(range(3))]
    first, *others = new_store()("everyOrder", JOB, job, texts, [*orders, [0, 1, 2, 2, 1, 0]])
    assert [first] * 6 == others
    sheet = next(state for state in first["sheets"] if state["sheet"] == "P")
    assert "conflict" == sheet["steps"]["length"]["state"]
    assert {"46", "47"} == {head["value"] for head in sheet["steps"]["length"]["heads"]}
    assert "Edge cut back" == sheet["snags"][0]["closed"]["value"]
    assert (2, 1, 3) == (len(first["photos"]), first["missing"], len(sheet["photos"]))
    assert ["Ana Lind"] == [entry["who"] for entry in first["zone"]]
    assert BUILD in first["text"]
