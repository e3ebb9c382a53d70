"""A working opened on a phone, and the same on paper."""

import re

from playwright.sync_api import expect

from tests.phone.hands import DRAW, Phone


def _opened(phone: Phone, name: str):
    working = phone.step("length-in-hand").locator(f"[data-working={name}]")
    working.locator("> summary").click()
    return working


def test_working_reads_symbols_numbers_result_limit_margin_and_what_it_stands_on(phone: Phone):
    """The sum stands in three lines, the limit with its margin in per cent under it, and one word says what it stands on."""
    phone.open(DRAW)
    phone.read("length-in-hand", "40")
    working = _opened(phone, "needed")
    expect(working.locator("summary .stands")).to_have_text("this job's data")
    assert ["= r · (1 + s) + a + b", "= 30 m · (1 + 10 %) + 1 m + 1 m", "= 35.00 m"] == [
        " ".join(line.split()) for line in working.locator(".formula .right").all_inner_texts()]
    limit = working.locator(".limits div")
    expect(limit).to_have_attribute("data-met", "true")
    expect(limit).to_contain_text("Length in hand 40 m: at least 35.00 m")
    expect(limit.locator("dd")).to_have_text("14 % in hand")


def test_working_that_is_held_against_a_limit_shows_its_own_margin(phone: Phone):
    """A pull against what is allowed, with a share that is rounded down."""
    phone.open(DRAW)
    phone.read("length-in-hand", "34")
    pull = _opened(phone, "pull")
    expect(pull.locator(".limits dt")).to_have_text("Pull along the route 963 N: at most 3000 N")
    expect(pull.locator(".limits dd")).to_have_text("67 % in hand")
    expect(_opened(phone, "needed").locator(".limits dd")).to_have_text("short by 3 %")


def test_plot_has_its_limit_its_axes_and_the_better_end(phone: Phone):
    """The limit line is drawn and named, the axes are in kN and m, and words and a table tell the same."""
    phone.open(DRAW)
    pull = _opened(phone, "pull")
    expect(pull.locator("figcaption")).to_have_text("Least pull when fed from the end: 963 N at the start.")
    expect(pull.locator("path.limit")).to_have_count(1)
    expect(pull.locator("path.bend").first).to_be_attached()
    texts = pull.locator("svg[role=img] text").all_text_contents()
    assert {"allowed 3 kN", "kN", "m", "start", "end", "0", "20"} <= set(texts)
    pull.get_by_text("The same as a table").click()
    assert ["straight", "20", "510", "963"] == pull.locator("tbody tr").first.locator("th, td").all_inner_texts()


def test_what_can_stay_folded_is_folded(phone: Phone):
    """Brakes that are not needed are in nobody's way, and one tap shows them."""
    phone.open(DRAW)
    pull = _opened(phone, "pull")
    expect(pull.get_by_text("braking from start")).to_be_hidden()
    pull.get_by_text("Where it holds and comes from").click()
    expect(pull.get_by_text("braking from start")).to_be_visible()


def test_printed_sheet_opens_every_working_and_shuts_it_again(phone: Phone):
    """On paper each working stands with its sum, its source and its plot, though nobody opened it on the screen."""
    phone.open(DRAW)
    phone.page.emulate_media(media="print")
    phone.page.evaluate("dispatchEvent(new Event('beforeprint'))")
    step = phone.step("length-in-hand")
    expect(step.locator("[data-working=needed] .formula")).to_contain_text("= 35.00 m")
    expect(step.locator("[data-working=needed]")).to_contain_text(re.compile("Source.*lengths added up"))
    expect(step.locator("svg[role=img]")).to_be_visible()
    phone.page.evaluate("dispatchEvent(new Event('afterprint'))")
    expect(step.locator("details.working[open]")).to_have_count(0)
