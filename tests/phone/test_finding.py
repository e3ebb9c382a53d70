"""Finding a sheet: by stage, by place, by what can be done now, on the plan, by a word."""

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from builder.check.job import KINDS
from builder.words import word_list
from tests.phone.hands import DRAW, OFF, Phone

WAYS = ["By stage", "By place", "Can do now", "Plan"]


@pytest.fixture
def demo_phone(new_phone, demo_site: str) -> Phone:
    """A phone with the demo job open and its leading hand holding it."""
    phone = new_phone(demo_site)
    phone.open()
    phone.introduce("Ilse Brandrup", "Pit two")
    return phone


@pytest.mark.parametrize("way", WAYS)
def test_every_way_leads_to_every_sheet_once(demo_phone: Phone, demo_folder: Path, way: str):
    """Whichever way is chosen, each sheet of the job is listed one time."""
    sheets = json.loads((demo_folder / "job.json").read_text())["sheets"]
    demo_phone.page.get_by_role("link", name=way, exact=True).click()
    shown = demo_phone.page.locator("main [data-part^=way-]:not([hidden])")
    expect(shown).to_have_count(1)
    unfold = "document.querySelectorAll('main details').forEach((one) => { if (!one.querySelector('.blocks')) one.open = true; })"
    demo_phone.page.evaluate(unfold)
    links = shown.locator("a:visible").evaluate_all("(all) => all.map((one) => one.getAttribute('href'))")
    at = [re.search(r"tasks/(.*)\.html#([^/]*)", link).groups() for link in links]
    assert sorted((sheet["task"], sheet["item"]) for sheet in sheets) == sorted(at)


def test_joints_stand_at_the_place_of_their_run(demo_phone: Phone):
    """By place, a run lists its own sheets and those of the joints at its ends."""
    demo_phone.page.get_by_role("link", name="By place").click()
    place = demo_phone.page.locator("[data-part=way-place] details", has_text="R1 Transformer to kiln board, conduit 1")
    place.locator("summary").click()
    expect(place.get_by_role("heading", name="J1 Conduit 1 on the transformer palms")).to_be_visible()
    expect(place.get_by_role("link", name="Lug the cable")).to_have_count(2)
    expect(place.locator("summary")).to_contain_text("0 of 12 sheets closed")
    expect(place).to_contain_text("In trench T1")


def test_every_kind_of_place_has_its_word():
    """Whatever a job is made of, its place has a heading."""
    assert set() == set(KINDS) - {"cable"} - set(word_list()["place"])


def test_now_lists_what_is_open_to_the_role_and_what_the_rest_waits_for(phone: Phone):
    """A step is open to anyone, a release to those of standing, and each wait is a link to where it ends."""
    phone.open("#now")
    [yours, begun, waiting] = phone.page.locator(".todo").all()
    expect(yours.get_by_role("link", name="L1 Off and dead")).to_contain_text("Open it.")
    expect(begun.get_by_role("link", name="R1 Draw the cable in")).to_be_visible()
    begun.get_by_text("The gate ahead waits for one thing").click()
    begun.get_by_role("link", name="Not in force: Proved dead.").click()
    expect(phone.page).to_have_url(phone.address + OFF + "/dead")
    phone.do("open-it")
    phone.open("#now")
    expect(yours.get_by_role("link", name="L1 Off and dead")).to_contain_text("Release: Proved dead.")
    phone.page.get_by_role("button", name="Change who").click()
    phone.dialog.get_by_text("Ben Tarn").click()
    phone.agree()
    expect(waiting).to_contain_text("Waits for a release by: supervisor (Ada Quill)")
    expect(yours.get_by_role("link")).to_have_count(0)


def test_plan_runs_from_first_to_last_and_each_gate_opens_its_sheet(demo_phone: Phone):
    """What a task comes after stands above it on the plan, and a gate leads to its sheet."""
    demo_phone.page.get_by_role("link", name="Plan", exact=True).click()
    rows = demo_phone.page.locator(".plan > li")
    titles = rows.locator("h2").all_inner_texts()
    assert titles.index("Find what is in the ground") < titles.index("Pull") < titles.index("Switch on, stage by stage")
    needed = 0
    for at, row in enumerate(rows.all()):
        after = row.locator(".note").all_text_contents()
        for title in after[0].removeprefix("After: ").split(" · ") if after else []:
            needed += 1
            assert title in titles[:at]
    assert 10 < needed
    live = rows.nth(titles.index("Switch on, stage by stage"))
    live.locator("summary").click()
    live.get_by_role("link", name="kiln-board Switch on, stage by stage: Not started").click()
    expect(demo_phone.page).to_have_url(re.compile(r"tasks/energisation/switch-on\.html#kiln-board/clear-to-switch-on$"))


def test_search_finds_sheets_and_wording_in_any_order(phone: Phone):
    """Words of a title, an item and a step's wording are found together; a hit leads to the step."""
    phone.open()
    field = phone.page.get_by_role("searchbox", name="Find a word")
    found = phone.page.locator("[data-part=found]")
    field.fill("feeder off")
    expect(found.get_by_role("link")).to_have_text(["L1 Off and dead"])
    field.fill("BEND r1")
    expect(found.get_by_role("status")).to_have_text("One found")
    expect(found).to_contain_text("See every bend.")
    field.fill("no such words")
    expect(found.get_by_role("status")).to_have_text("0 found")
    expect(phone.page.locator("[data-part=way-stage]")).to_be_hidden()
    field.fill("")
    expect(phone.page.locator("[data-part=way-stage]")).to_be_visible()
    field.fill("bend")
    found.get_by_role("link", name="R1").click()
    expect(phone.page).to_have_url(phone.address + DRAW + "/bends")
    expect(phone.step("bends")).to_be_focused()


def test_way_that_was_chosen_is_there_again(phone: Phone):
    """Back from a sheet the job page lists the sheets as they were listed before."""
    phone.open()
    phone.page.get_by_role("link", name="By place").click()
    expect(phone.page.get_by_role("link", name="By place")).to_have_attribute("aria-current", "true")
    phone.open(OFF)
    phone.page.get_by_role("link", name="Whole job").click()
    expect(phone.page.locator("[data-part=way-place]")).to_be_visible()


def test_choosing_a_way_reads_no_record_again(phone: Phone):
    """Where the sheets stand is worked out when the record changes, and not when another way is chosen."""
    phone.open()
    phone.page.evaluate("""() => {
      window.readings = 0;
      const { getAll } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.getAll = function (...given) { window.readings += 1; return getAll.apply(this, given); };
    }""")
    for way in WAYS[1:]:
        phone.page.get_by_role("link", name=way, exact=True).click()
        expect(phone.page.get_by_role("link", name=way, exact=True)).to_have_attribute("aria-current", "true")
    assert 0 == phone.page.evaluate("window.readings")
    phone.open(OFF)
    phone.do("open-it")
