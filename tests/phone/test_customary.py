"""Feet and pounds: read beside every metric quantity, typed where a tape has them, and kept as they were typed."""

import json

import pytest
from playwright.sync_api import expect

from builder.compile.verdict import plausible
from builder.quantity import customary, from_si, to_si, unit, units
from builder.record.recompute import believable
from tests.phone.hands import DRAW, Phone

STEP = {"name": "length", "unit": "m", "plausible": [1, 2000], "one_of": [], "text": False}


def test_feet_are_shown_typed_and_judged(phone: Phone) -> None:
    """A reading in feet stands as it was typed, is judged in metres, and says so beside the feet."""
    phone.open()
    phone.page.get_by_role("button", name="Read feet and pounds as well").click()
    expect(phone.page.get_by_role("button", name="Metric only")).to_be_visible()
    phone.open(DRAW)
    step = phone.step("length-in-hand")
    expect(step.locator(".unit")).to_have_text("ft")
    phone.read("length-in-hand", "160")
    expect(step.locator(".given")).to_contain_text("160 ft")
    expect(step.locator(".verdict")).to_contain_text("48.768 m (160 ft)")
    kept = phone.page.evaluate("""async () => {
      const [{ name }] = (await indexedDB.databases()).filter((one) => one.name.startsWith("pitslate"));
      const opened = await new Promise((done) => { const asked = indexedDB.open(name); asked.onsuccess = () => done(asked.result); });
      const all = opened.transaction("chain").objectStore("chain").getAll();
      return new Promise((done) => { all.onsuccess = () => { done(all.result.map((one) => one.payload)); opened.close(); }; });
    }""")
    reading = next(one for one in map(json.loads, kept) if one["kind"] == "reading")
    assert ("160", "[ft_i]", "within") == (reading["value"], reading["unit"], reading["shown"]["verdict"])


def test_out_of_range_in_feet_is_refused_in_both(phone: Phone) -> None:
    """What can't be right is asked again, with the range in both."""
    phone.open()
    phone.page.get_by_role("button", name="Read feet and pounds as well").click()
    phone.open(DRAW)
    phone.read("length-in-hand", "90000")
    expect(phone.step("length-in-hand").locator("[data-part=refused]")).to_contain_text("2000 m (6562 ft)")


@pytest.mark.parametrize("symbol", [symbol for symbol in units() if customary(symbol)])
def test_each_customary_unit_is_another_way_of_writing_its_metric_one(symbol: str) -> None:
    """Same dimension, there and back again."""
    other = unit(customary(symbol))
    assert unit(symbol).dimension == other.dimension
    assert 12.5 == pytest.approx(from_si(to_si(12.5, other), other))


def test_the_desk_believes_what_the_phone_believes() -> None:
    """Feet for metres at the desk too, and no third unit."""
    task = {"steps": [STEP]}
    read = believable(task, STEP, "160", "[ft_i]")
    assert (48.768, "48.768") == (pytest.approx(read["si"]), read["text"])
    assert "reason" in believable(task, STEP, "90000", "[ft_i]")
    assert "reason" in believable(task, STEP, "wide", "[ft_i]")
    assert "reason" in believable(task, STEP, "160", "[yd_i]")
    assert plausible(task, "length", "160") == believable(task, STEP, "160", "m")
