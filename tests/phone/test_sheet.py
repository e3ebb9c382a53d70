"""A sheet in hand: every kind of step, what is refused, what is taken back, and what a hold holds."""

import re

import pytest
from playwright.sync_api import expect

from tests.phone.hands import DRAW, OFF, Phone


def test_sheet_works_through_every_kind_of_step(phone: Phone):
    """A tap, a look, a number, a choice and words each become one entry with the person's name."""
    phone.work_up_to_ready()
    kinds = [("done", ""), ("done", ""), ("reading", "40"), ("reading", "start"), ("reading", "D 17")]
    assert kinds == [(entry["kind"], entry["value"]) for entry in phone.entries()[1:]]
    assert {"Ada Quill"} == {entry["who"] for entry in phone.entries()}


def test_reading_carries_its_unit_and_what_the_screen_said(phone: Phone):
    """A reading's entry holds the text as typed, its UCUM unit and the verdict and workings shown."""
    phone.work_up_to_ready()
    reading = phone.entries()[3]
    assert ("40", "m", "within") == (reading["value"], reading["unit"], reading["shown"]["verdict"])
    assert {"length": "35.00 m"} == reading["shown"]["working"]["needed"]


@pytest.mark.parametrize("text", ["", "forty", "1e9", "1000000000", "-3", "0,5", "12 m", "Infinity", "0x10"])
def test_absurd_reading_is_refused_at_its_field(phone: Phone, text: str):
    """What can't be a length is refused with the range that can, and nothing is recorded."""
    phone.open(DRAW)
    phone.read("length-in-hand", text)
    expect(phone.step("length-in-hand").locator("[data-part=refused]")).to_contain_text("2000 m")
    expect(phone.step("length-in-hand").locator("[name=reading]")).to_have_attribute("aria-invalid", "true")
    assert 1 == len(phone.entries())


def test_refused_reading_leaves_the_earlier_one_standing(phone: Phone):
    """An absurd correction changes nothing of the answer that stood."""
    phone.open(DRAW)
    phone.read("length-in-hand", "40,5")
    expect(phone.step("length-in-hand").locator(".given")).to_contain_text("40,5 m")
    phone.more("length-in-hand", "Enter again")
    phone.read("length-in-hand", "1e9")
    expect(phone.step("length-in-hand").locator("[data-part=refused]")).not_to_be_empty()
    expect(phone.step("length-in-hand").locator(".given")).to_contain_text("40,5 m")
    assert 2 == len(phone.entries())


def test_reading_outside_its_limit_is_told_by_word_and_shape(phone: Phone):
    """A cable too short is `Outside`, with how much is missing, and the conduit is not laid past it."""
    phone.open(DRAW)
    phone.read("length-in-hand", "30")
    verdict = phone.step("length-in-hand").locator(".verdict")
    expect(verdict).to_contain_text("Outside")
    expect(verdict).to_contain_text("35.00 m")
    expect(phone.step("length-in-hand")).not_to_have_attribute("data-laid", "")


def test_entering_again_keeps_the_first_answer_in_sight(phone: Phone):
    """The corrected reading stands; the first is struck through and still there."""
    phone.open(DRAW)
    phone.read("length-in-hand", "30")
    phone.more("length-in-hand", "Enter again")
    phone.read("length-in-hand", "40")
    expect(phone.step("length-in-hand").locator(".given")).to_contain_text("40 m")
    expect(phone.step("length-in-hand").locator(".earlier s")).to_have_text("30 m")


def test_taking_back_asks_why_and_opens_the_step(phone: Phone):
    """An answer taken back stays visible with its reason, and the step is open again."""
    phone.open(DRAW)
    phone.do("clear")
    phone.more("clear", "Take back")
    phone.dialog.locator("[data-part=ask-yes]").click()
    expect(phone.dialog.locator("[data-part=ask-refused]")).to_have_text("Say why in a few words.")
    phone.dialog.get_by_label("Why").fill("Wrong run")
    phone.agree()
    expect(phone.step("clear")).to_have_attribute("data-state", "open")
    expect(phone.step("clear").locator(".earlier")).to_contain_text("Wrong run")
    expect(phone.step("clear").get_by_role("button", name="Done", exact=True)).to_be_visible()


def test_step_is_set_aside_with_reason_and_name_but_a_hold_never(phone: Phone):
    """A step may be no part of this job; a hold offers no such thing."""
    phone.open(DRAW)
    phone.more("bends", "Not on this job")
    phone.dialog.get_by_label("Why").fill("Straight tray")
    phone.dialog.get_by_text("Ben Tarn").click()
    phone.agree()
    expect(phone.step("bends")).to_have_attribute("data-state", "aside")
    expect(phone.step("bends")).to_contain_text("Straight tray")
    expect(phone.step("bends")).to_contain_text("Ben Tarn")
    expect(phone.step("ready").get_by_role("button", name="Not on this job")).to_have_count(0)
    expect(phone.step("ready")).to_contain_text("One step before this gate was set aside")
    expect(phone.step("ready")).to_contain_text("Straight tray")


def test_reading_with_a_limit_is_never_set_aside(phone: Phone):
    """A limit can't be got round by setting its reading aside."""
    phone.open(DRAW)
    phone.step("length-in-hand").locator("details.more summary").click()
    expect(phone.step("length-in-hand").get_by_role("button", name="Snag here")).to_be_visible()
    expect(phone.step("length-in-hand").get_by_role("button", name="Not on this job")).to_have_count(0)


def test_working_shows_formula_numbers_inputs_and_source(phone: Phone):
    """Behind a result stand its formula, the same with numbers, where each number comes from, and the source."""
    phone.open(DRAW)
    working = phone.step("length-in-hand").locator("[data-working=needed]")
    expect(working.locator("summary")).to_contain_text("35.00 m")
    working.locator("summary").click()
    expect(working.locator(".formula")).to_contain_text("L = r · (1 + s) + a + b")
    expect(working.locator(".formula")).to_contain_text("30 m")
    expect(working.locator(".terms")).to_contain_text("job file")
    expect(working).to_contain_text("Source")


def test_pull_along_the_route_is_drawn_from_both_ends(phone: Phone):
    """The plot has one line for each feeding end and says both end pulls in words."""
    phone.open(DRAW)
    pull = phone.step("length-in-hand").locator("[data-working=pull]")
    pull.locator("summary").click()
    expect(pull.locator("svg[role=img] :is(.chosen, .other)")).to_have_count(2)
    lines = pull.locator("svg[role=img] :is(.chosen, .other)").evaluate_all("(all) => all.map((one) => one.getAttribute('d'))")
    # Three stations and the drum's own hold-back, as places inside the drawing.
    assert [4, 4] == [len(re.findall(r"[ML][\d.]+ [\d.]+(?=L|$)", line)) for line in lines]
    label = pull.get_by_role("img").get_attribute("aria-label")
    assert "Fed from the start" in label and "fed from the end" in label


def test_step_that_does_not_apply_is_folded_away_and_can_be_seen(phone: Phone):
    """A step for rollers is not in the way on a tray, and a button brings it back."""
    phone.open(DRAW)
    expect(phone.step("on-rollers")).to_be_hidden()
    phone.page.get_by_role("button", name="Show the one step that does not apply here").click()
    expect(phone.step("on-rollers")).to_contain_text("Does not apply here")


def test_shut_gate_lists_what_is_in_the_way_with_links_that_clear_it(phone: Phone):
    """Each line of a shut gate leads to the step that blocks it, on this sheet or another."""
    phone.open(DRAW)
    gate = phone.step("ready")
    expect(gate.locator(".gate-state")).to_have_text("Gate shut")
    links = gate.locator(".blocks a")
    expect(links).to_have_count(6)
    expect(gate.locator("form")).to_be_hidden()
    links.last.click()
    expect(phone.page).to_have_url(phone.address + OFF + "/dead")
    expect(phone.step("dead")).to_be_focused()


def test_nothing_beyond_a_shut_gate_can_be_answered(phone: Phone):
    """Behind the gate there is only a string line: no form, no button."""
    phone.open(DRAW)
    expect(phone.step("pull-it")).to_have_attribute("data-state", "shut")
    expect(phone.step("pull-it").get_by_role("button")).to_have_count(0)


def test_hold_is_released_by_somebody_of_standing_and_the_gate_opens(phone: Phone):
    """A crew member can't release; the supervisor can, and the steps beyond open."""
    phone.open(OFF)
    phone.do("open-it")
    phone.release("dead", "Ada Quill")
    phone.work_up_to_ready()
    gate = phone.step("ready")
    expect(gate.locator(".gate-state")).to_have_text("Nothing in the way")
    gate.get_by_role("button", name="Release this hold").click()
    phone.dialog.get_by_text("Ben Tarn").click()
    phone.dialog.locator("[data-part=ask-yes]").click()
    expect(phone.dialog.locator("[data-part=ask-refused]")).to_contain_text("Ben Tarn is crew")
    phone.dialog.get_by_text("Ada Quill").click()
    phone.agree()
    expect(gate).to_have_attribute("data-state", "open")
    expect(gate).to_contain_text("Released, as supervisor")
    phone.do("pull-it")


def test_release_lapses_when_an_earlier_answer_is_taken_back(phone: Phone):
    """What was released on an answer is shut again without it, and asks for another look afterwards."""
    phone.open(OFF)
    phone.do("open-it")
    phone.release("dead", "Ada Quill")
    phone.more("open-it", "Take back")
    phone.dialog.get_by_label("Why").fill("Wrong switch")
    phone.agree()
    expect(phone.step("dead").locator(".gate-state")).to_have_text("Released, but not in force")
    expect(phone.step("dead").locator("form")).to_be_hidden()
    phone.do("open-it")
    phone.release("dead", "Ada Quill")
    expect(phone.step("dead")).to_have_attribute("data-state", "open")


def test_sheet_is_closed_by_name_and_can_no_longer_be_worked(phone: Phone):
    """When everything is answered the bar closes the sheet, and its forms are gone."""
    phone.open(OFF)
    phone.do("open-it")
    phone.release("dead", "Ada Quill")
    phone.page.get_by_role("button", name="Close the sheet").click()
    phone.agree()
    expect(phone.page.locator("[data-part=far-end]")).to_contain_text("Ada Quill")
    expect(phone.step("open-it").locator("details.more")).to_be_hidden()
    assert "close" == phone.entries()[-1]["kind"]


def test_bar_answers_only_a_step_in_plain_sight(phone: Phone):
    """With the next step off the screen the bar goes there first and records nothing."""
    phone.open(DRAW)
    phone.page.evaluate("scrollTo({ top: document.body.scrollHeight, behavior: 'instant' })")
    bar = phone.page.locator("[data-part=next]")
    expect(bar).to_contain_text("Next step")
    bar.click()
    expect(bar).to_contain_text("Done")
    assert 1 == len(phone.entries())
    phone.page.wait_for_timeout(700)
    bar.click()
    expect(phone.step("clear")).to_have_attribute("data-state", "answered")


def test_double_tap_on_the_bar_answers_one_step(phone: Phone):
    """A second tap right after the first does not answer the step that moved up."""
    phone.open(DRAW)
    phone.step("clear").locator("form").scroll_into_view_if_needed()
    bar = phone.page.locator("[data-part=next]")
    expect(bar).to_contain_text("Done")
    bar.dblclick()
    expect(phone.step("clear")).to_have_attribute("data-state", "answered")
    assert ["clear"] == [entry["step"] for entry in phone.entries()[1:]]


def test_slow_reading_of_the_store_never_hides_a_later_answer(phone: Phone):
    """When two answers follow each other fast and the first reading back is slow, both stay in sight."""
    phone.open(DRAW)
    phone.page.evaluate("""() => {
      const { getAll } = IDBObjectStore.prototype;
      let first = true;
      IDBObjectStore.prototype.getAll = function (...given) {
        if (this.name === "chain" && first) {
          first = false;
          const finish = this.transaction.oncomplete;
          this.transaction.oncomplete = (event) => setTimeout(() => finish(event), 1500);
        }
        return getAll.apply(this, given);
      };
    }""")
    phone.step("clear").locator("form .act").click()
    phone.step("bends").locator("form .act").click()
    expect(phone.step("bends")).to_have_attribute("data-state", "answered")
    phone.page.wait_for_timeout(2000)
    expect(phone.step("bends")).to_have_attribute("data-state", "answered")
    expect(phone.step("clear")).to_have_attribute("data-state", "answered")


def test_failure_to_save_leaves_the_answer_on_the_screen(phone: Phone):
    """When the store refuses, the words say so, the typed reading stays, and nothing is shown as saved."""
    phone.open(DRAW)
    phone.page.evaluate("""() => {
      IDBObjectStore.prototype.add = () => { throw new DOMException("full", "QuotaExceededError"); };
    }""")
    phone.read("length-in-hand", "40")
    expect(phone.step("length-in-hand").locator("[data-part=refused]")).to_contain_text("Not saved")
    expect(phone.step("length-in-hand").locator("[name=reading]")).to_have_value("40")
    expect(phone.step("length-in-hand")).to_have_attribute("data-state", "open")


def test_snag_blocks_the_hold_until_a_named_person_closes_it(phone: Phone):
    """A snag on a step stands in the way of the hold; closing it needs words and a name."""
    phone.open(OFF)
    phone.do("open-it")
    phone.more("open-it", "Snag here")
    phone.dialog.get_by_label("Say what you found").fill("Handle cracked <b>here</b>")
    phone.agree()
    expect(phone.step("dead").locator(".blocks a")).to_contain_text("Handle cracked <b>here</b>")
    phone.step("open-it").get_by_role("button", name="Close this snag").click()
    phone.dialog.get_by_label("What was done about it").fill("New handle")
    phone.dialog.get_by_text("Ben Tarn").click()
    phone.agree()
    expect(phone.step("open-it").locator(".snag")).to_contain_text("Closed: New handle Ben Tarn")
    expect(phone.step("dead").locator(".gate-state")).to_have_text("Nothing in the way")


def test_snag_on_the_sheet_shows_on_the_whole_job(phone: Phone):
    """A snag raised from the bar is listed on the job page with a link to its sheet."""
    phone.open(OFF)
    phone.page.get_by_role("button", name="Snag", exact=True).click()
    phone.dialog.get_by_label("Say what you found").fill("No light in here")
    phone.agree()
    phone.page.get_by_role("link", name="Whole job").click()
    snags = phone.page.locator("[data-part=snags]")
    expect(snags).to_contain_text("No light in here")
    snags.get_by_role("link").click()
    expect(phone.page).to_have_url(phone.address + OFF)
