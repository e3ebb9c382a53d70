"""Feet and pounds: read beside every metric quantity, typed where a tape has them, and kept as they were typed."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import expect

from builder.compile.believed import believable
from builder.compile.verdict import plausible
from builder.quantity import customary, from_si, to_si, unit, units
from tests.folder_server import FolderServer
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
    expect(phone.step("length-in-hand").locator("[data-part=refused]")).to_contain_text("between 1 and 2000 m (3.281 and 6562 ft)")


SIGNS = {unit(symbol).shown for symbol in units() if customary(symbol)}
# A longer unit first: kg/m is none of kg.
METRIC = re.compile(rf"[0-9][ \u00a0]({'|'.join(map(re.escape, sorted(SIGNS, key=len, reverse=True)))})(?![\w/·²³^]| \([^()]*\))")
SHOWN = """() => [...document.querySelectorAll("main *")].filter((one) => !["SCRIPT", "STYLE"].includes(one.tagName))
  .map((one) => (one.matches(".formula .right") ? one.textContent : [...one.childNodes].filter((node) => node.nodeType === 3).map(({ data }) => data).join("")))"""


def left_in_metric(phone: Phone) -> list[str]:
    """Every quantity on the page that stands in metric alone, in text or in columns of its own."""
    phone.unfold()
    texts = [text for text in phone.page.evaluate(SHOWN) if METRIC.search(text)]
    columns = phone.page.evaluate("""() => [...document.querySelectorAll(".terms > div")].map((row) => [...row.querySelectorAll(".unit-of")].map((one) => one.textContent))""")
    return texts + [signs[0] for signs in columns if len(signs) == 1 and signs[0] in SIGNS]


@pytest.mark.parametrize("sheet", [
    "tasks/cable-pulling/before-the-pull.html#R1", "tasks/trenching/open-trench.html#T1", "tasks/placing/ready-the-place.html#kiln-board", "tasks/termination/make-off.html#J1",
])
def test_every_quantity_of_a_sheet_is_there_in_feet_and_pounds(
    new_phone: Callable[..., Phone], demo_folder: Path, serve_folder: Callable[[Path], FolderServer], sheet: str,
) -> None:
    """Sentences, lines of formulas, inputs in their columns, the plot and its table."""
    phone = new_phone(serve_folder(demo_folder).url)
    phone.open()
    phone.introduce("Ilse Brandrup", "Pit one")
    phone.open(sheet)
    assert left_in_metric(phone), "the search finds what stands in metric"
    phone.open()
    phone.page.get_by_role("button", name="Read feet and pounds as well").click()
    expect(phone.page.get_by_role("button", name="Metric only")).to_be_visible()
    phone.open(sheet)
    assert [] == left_in_metric(phone)


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
