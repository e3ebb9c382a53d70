"""Worked without a finger, heard without a screen, seen without colour."""

import re

import pytest
from playwright.sync_api import expect

from tests.phone.hands import DRAW, OFF, Phone

# What a reader may set for text without losing any of it.
SPACING = "* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important; } p { margin-bottom: 2em !important; }"
FOCUS = """() => {
  const node = document.activeElement;
  if (!node || node === document.body) return null;
  const shown = [node, ...(node.closest(".gauge, .person") ? [node.closest(".gauge") ?? node.nextElementSibling] : [])];
  const ring = shown.some((one) => { const style = getComputedStyle(one); return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2; });
  const box = (node.closest(".gauge, .person") ?? node).getBoundingClientRect();
  const bar = document.querySelector("dialog") ? null : document.querySelector(".bar").getBoundingClientRect();
  const covered = bar !== null && !node.closest(".bar") && box.top >= bar.top;
  return { ring, covered, text: (node.innerText || node.getAttribute("name") || node.id).slice(0, 40) };
}"""


class Keys:
    """A keyboard, and after every key a look at where the focus is."""

    def __init__(self, phone: Phone):
        self.phone = phone
        self.seen: list[dict | None] = []

    def press(self, key: str) -> None:
        self.phone.page.keyboard.press(key)
        self.look()

    def look(self) -> None:
        """The focus is somewhere, has a ring, and is not under the bar."""
        focus = self.phone.page.evaluate(FOCUS)
        if focus is not None and focus["covered"]:
            # The page glides to where the focus goes; what counts is where it comes to rest.
            self.phone.page.wait_for_timeout(1500)
            focus = self.phone.page.evaluate(FOCUS)
        assert focus is not None, f"focus lost after {self.seen[-3:]}"
        assert focus["ring"], focus
        assert not focus["covered"], focus
        self.seen.append(focus)

    def tab_to(self, name: str, most: int = 40) -> None:
        """Goes on with Tab until the focus is on what is called so."""
        wanted = self.phone.page.locator(":focus")
        for _ in range(most):
            self.press("Tab")
            if wanted.evaluate("(node) => (node.labels?.[0]?.innerText ?? node.innerText).trim()") == name:
                return
        raise AssertionError(f"no {name!r} within {most} tabs: {self.seen[-most:]}")


def test_whole_sheets_are_worked_by_keyboard_alone(phone: Phone):
    """From Tab, Enter and typing: taps, a choice, numbers, words, a release and the closing; focus is never lost."""
    phone.open(OFF)
    keys = Keys(phone)
    keys.tab_to("Done")
    phone.page.keyboard.press("Enter")
    expect(phone.step("open-it")).to_have_attribute("data-state", "answered")
    keys.look()
    keys.tab_to("Release this hold")
    _enter_and_agree(phone, keys)
    expect(phone.step("dead")).to_have_attribute("data-state", "open")
    phone.open(DRAW)
    keys.tab_to("Done")
    _enter(phone, keys, "clear")
    keys.tab_to("Looked, and it is so")
    _enter(phone, keys, "bends")
    keys.tab_to("Reading in m")
    phone.page.keyboard.type("40")
    _enter(phone, keys, "length-in-hand")
    keys.tab_to("start")
    _enter(phone, keys, "feed-end")
    keys.tab_to("In words")
    phone.page.keyboard.type("D 17")
    _enter(phone, keys, "drum-number")
    keys.tab_to("Release this hold")
    _enter_and_agree(phone, keys)
    expect(phone.step("ready")).to_have_attribute("data-state", "open")
    keys.tab_to("Done")
    _enter(phone, keys, "pull-it")
    keys.tab_to("Close the sheet")
    _enter_and_agree(phone, keys)
    expect(phone.page.locator("[data-part=far-end]")).to_contain_text("Closed")
    assert ["release", "close"] == [entry["kind"] for entry in phone.entries() if entry["kind"] in ("release", "close")][-2:]


def _enter(phone: Phone, keys: Keys, step: str) -> None:
    phone.page.keyboard.press("Enter")
    expect(phone.step(step)).to_have_attribute("data-state", "answered")
    keys.look()


def _enter_and_agree(phone: Phone, keys: Keys) -> None:
    phone.page.keyboard.press("Enter")
    expect(phone.dialog).to_have_count(1)
    keys.look()
    yes = phone.dialog.locator("[data-part=ask-yes]").inner_text()
    if phone.page.locator(":focus").inner_text() != yes:
        keys.tab_to(yes)
    phone.page.keyboard.press("Enter")
    expect(phone.dialog).to_have_count(0)
    keys.look()


def test_focus_stays_when_the_record_is_read_again(phone: Phone):
    """Another page's entry draws the sheet anew; a button that had the focus has it still."""
    phone.open(DRAW)
    phone.do("clear")
    phone.step("clear").get_by_role("button", name="Undo").focus()
    phone.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    phone.page.wait_for_timeout(500)
    expect(phone.step("clear").get_by_role("button", name="Undo")).to_be_focused()


def test_sheet_reads_as_a_list_of_named_steps(phone: Phone):
    """A screen reader hears the task, the item, each step by its words with its answer, and the gate with what blocks it."""
    phone.open(DRAW)
    phone.do("clear")
    expect(phone.page.get_by_role("main")).to_match_aria_snapshot("""
    - main:
      - list:
        - listitem /Clear the route/:
          - paragraph: /Done Ada Quill/
          - button "Undo"
        - listitem "See every bend.":
          - button "Looked, and it is so"
        - listitem "Measure the cable in hand.":
          - text: Reading in m
          - textbox "Reading in m"
          - button "Save reading"
        - listitem "Say which end feeds.":
          - group "Say which end feeds.":
            - button "start"
            - button "end"
        - listitem "Read the drum's number."
        - listitem "Ready to pull.":
          - paragraph: Gate shut
          - list:
            - listitem:
              - link /Not answered/
        - listitem "Pull it in.": Not yet, the gate before it is shut.
    """)
    expect(phone.page.get_by_role("region", name="What is next")).to_match_aria_snapshot("""
    - region "What is next":
      - button "Snag"
      - button /See every bend/
    """)


def test_job_page_says_which_way_is_chosen(phone: Phone):
    """The ways are links in a navigation of their own, and the chosen one is current."""
    phone.open("#plan")
    expect(phone.page.get_by_role("region", name="Find a sheet")).to_match_aria_snapshot("""
    - region "Find a sheet":
      - navigation "Sheets":
        - list:
          - listitem:
            - link "By stage"
          - listitem:
            - link "By place"
          - listitem:
            - link "Can do now"
          - listitem:
            - link "Plan"
      - searchbox "Find a word"
    """)
    expect(phone.page.locator(".ways [aria-current=true]")).to_have_text("Plan")


def test_changes_are_announced(phone: Phone):
    """Saving, undoing, opening a gate, what a reading's limit says and choosing a way are said aloud."""
    spoken = phone.page.locator("[data-part=spoken]")
    phone.open(OFF)
    phone.do("open-it")
    expect(spoken).to_have_text("Saved on this phone.")
    phone.step("open-it").get_by_role("button", name="Undo").click()
    expect(spoken).to_contain_text("Undone")
    phone.do("open-it")
    phone.release("dead", "Ada Quill")
    expect(spoken).to_contain_text("Gate open")
    phone.open(DRAW)
    phone.read("length-in-hand", "30")
    expect(spoken).to_have_text(re.compile(r"Saved on this phone\. Outside\. .*30 m"))
    phone.open()
    phone.page.get_by_role("link", name="By place").click()
    expect(spoken).to_have_text("By place")


@pytest.mark.parametrize("path", ["", "#place", "#now", "#plan", OFF, DRAW])
def test_text_may_be_spaced_out_at_320_pixels_and_none_is_lost(new_phone, yard: str, path: str):
    """With wide letters, words, lines and paragraphs nothing is cut off, covered, or off to the side."""
    phone = new_phone(yard, width=320)
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    phone.open(path)
    phone.page.evaluate("""(css) => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(css);
      document.adoptedStyleSheets = [sheet];
      document.querySelectorAll("details").forEach((one) => { one.open = true; });
    }""", SPACING)
    assert phone.page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    cut = phone.page.evaluate("""() => [...document.querySelectorAll("body *")].filter((one) => {
      const style = getComputedStyle(one);
      const text = [...one.childNodes].some((child) => child.nodeType === 3 && child.data.trim());
      return text && one.checkVisibility() && !one.closest(".unseen, .about") && style.overflow !== "visible"
        && (one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1);
    }).map((one) => one.outerHTML.slice(0, 120))""")
    assert [] == cut


def test_forced_colours_leave_every_mark_and_edge(phone: Phone):
    """With the phone's own few colours, marks, conduit, gate and chosen way are still drawn, in those colours only."""
    phone.open(DRAW)
    phone.do("clear")
    phone.read("length-in-hand", "30")
    expect(phone.step("length-in-hand").locator(".verdict")).to_be_visible()
    phone.page.emulate_media(forced_colors="active")
    drawn = phone.page.evaluate("""() => {
      const named = ["Canvas", "CanvasText", "Highlight", "HighlightText", "ButtonText", "GrayText", "LinkText"].map((name) => {
        const probe = document.body.appendChild(document.createElement("i"));
        probe.style.color = name;
        probe.style.forcedColorAdjust = "none";
        const { color } = getComputedStyle(probe);
        probe.remove();
        return color;
      });
      const look = (selector, property, pseudo) => getComputedStyle(document.querySelector(selector), pseudo)[property];
      return { named, marks: {
        shape: look("#step-clear .mark .shape", "fill"), glyph: look("#step-clear .mark .glyph-done", "stroke"),
        ground: look("body", "color"), laid: look("#step-clear", "backgroundColor", "::after"),
        ink: look("html", "--ink") } };
    }""")
    marks = drawn["marks"]
    assert set() == {marks["shape"], marks["glyph"], marks["ground"], marks["laid"]} - set(drawn["named"])
    assert marks["shape"] != marks["glyph"]
    assert "rgba(0, 0, 0, 0)" != marks["laid"]


def test_no_state_is_told_by_colour_alone(phone: Phone):
    """In grey, an open step, a done one, one outside and one set aside differ in shape, and each says so in words."""
    phone.open(DRAW)
    phone.do("clear")
    phone.more("bends", "Not on this job")
    phone.dialog.get_by_label("Why").fill("Straight tray")
    phone.agree()
    phone.read("length-in-hand", "30")
    expect(phone.step("length-in-hand")).to_contain_text("Outside")
    shapes = {}
    for step in ("clear", "bends", "length-in-hand", "feed-end"):
        glyphs = phone.step(step).locator(".mark .glyph").evaluate_all(
            "(all) => all.filter((one) => getComputedStyle(one).display !== 'none').map((one) => one.getAttribute('class'))")
        shapes[step] = tuple(glyphs)
    assert 4 == len(set(shapes.values()))
    expect(phone.step("clear")).to_contain_text("Done")
    expect(phone.step("bends")).to_contain_text("Not on this job")
