"""Photos, signatures and the site: targets for gloves, contrast for sun and night, and nothing for axe-core to say."""

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.phone.hands import Phone
from tests.phone.test_axe import OPTIONS
from tests.phone.test_look import CONTRAST, TARGETS
from tests.phone.test_photos import DIG, jpeg, take, weir  # noqa: F401 - the same job
from tests.phone.test_site import arrive, brief


@pytest.fixture(params=[("light", 1), ("dark", 1), ("light", 2)], ids=lambda look: f"{look[0]}-{look[1]}x")
def narrow(request, new_phone, weir: str) -> Phone:  # noqa: F811
    """A phone of 320 px, by day, by night, and with text of twice the size."""
    scheme, size = request.param
    phone = new_phone(weir, width=320, color_scheme=scheme)
    phone.page.add_init_script(f"""addEventListener("DOMContentLoaded", () => {{
      document.documentElement.style.fontSize = "{size * 100}%";
    }});""")
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    return phone


def screens(phone: Phone) -> Iterator[str]:
    """Each screen of this, one after the other."""
    phone.open(DIG)
    phone.do("fence")
    phone.do("service")
    yield "a step that lacks its photo"
    take(phone, "fence", jpeg(phone), "North side")
    phone.step("service").locator("input[type=file]").first.set_input_files(jpeg(phone, 2))
    expect(phone.dialog).to_be_visible()
    yield "a photo to be kept"
    phone.agree()
    phone.page.get_by_role("button", name="Snag", exact=True).click()
    yield "a snag, and whom it waits for"
    phone.dialog.get_by_role("textbox").fill("Water in the pit")
    phone.dialog.get_by_label("Who it waits for").select_option("Ben Tarn")
    phone.agree()
    expect(phone.page.locator(".snag .waits")).to_have_text("Waits for Ben Tarn")
    yield "an open snag"
    phone.page.get_by_role("button", name="Close this snag").click()
    phone.dialog.get_by_role("textbox").fill("Pumped out")
    phone.agree()
    phone.step("fence").locator(".thumb").click()
    yield "a photo opened"
    phone.agree()
    phone.step("may-dig").get_by_role("button", name="Release this hold").click()
    yield "a release to be signed"
    phone.agree()
    expect(phone.step("may-dig")).to_contain_text("Signed: Ada Quill")
    yield "a signed release"
    phone.open("site.html")
    yield "an empty site"
    arrive(phone, "Ada Quill", "EW 4711")
    arrive(phone, "Ben Tarn")
    brief(phone, "Ada Quill", "Open trench")
    expect(phone.page.locator(".briefing")).to_be_visible()
    yield "a site with a briefing"


def test_evidence_can_be_worked_with_gloves_and_read_by_all(narrow: Phone) -> None:
    """On every screen: 48 px and 12 apart, 7:1, nothing off the side, and axe-core finds nothing."""
    found = {}
    for name in screens(narrow):
        controls = narrow.page.evaluate(TARGETS)
        small = [one for one in controls if min(one["width"], one["height"]) < 48 or one["gap"] < 12]
        faint = [one for one in narrow.page.evaluate(CONTRAST) if one["ratio"] < 7]
        wide = narrow.page.evaluate("document.documentElement.scrollWidth > innerWidth")
        axe = [one["id"] for one in Axe().run(narrow.page, options=OPTIONS).response["violations"]]
        if small or faint or wide or axe:
            found[name] = (small, faint, wide, axe)
    assert {} == found
