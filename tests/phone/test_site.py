"""Who is on site: arrive, sign on to the briefing, leave; and what it says when nobody has."""

import pytest
from playwright.sync_api import expect

from tests.phone.hands import Phone

SITE = "site.html"


@pytest.fixture
def site(phone: Phone) -> Phone:
    """The yard's page of who is on site."""
    phone.open(SITE)
    return phone


def arrive(phone: Phone, name: str, licence: str = "") -> None:
    phone.page.locator("[data-part=arrive]").click()
    phone.dialog.get_by_label("Licence number").fill(licence)
    phone.dialog.get_by_text(name).click()
    phone.agree()


def brief(phone: Phone, name: str, words: str) -> None:
    phone.page.get_by_role("button", name="Give a briefing").click()
    phone.dialog.get_by_label("Today's hazards").fill(words)
    phone.dialog.get_by_text(name).click()
    phone.agree()


def test_an_empty_site_says_that_nobody_signed_on_and_what_that_is_worth(site: Phone) -> None:
    """Plain words for nobody and for no briefing, here and on the job's page."""
    expect(site.page.locator("[data-part=tally]")).to_have_text("Nobody has signed on. That says nothing about who is here.")
    expect(site.page.locator("[data-part=briefings]")).to_contain_text("nobody has signed on to one")
    expect(site.page.locator("[data-part=day]")).to_contain_text("Nothing yet today.")
    site.open()
    expect(site.page.locator("[data-part=site-tally]")).to_contain_text("Nobody has signed on.")


def test_people_arrive_sign_on_to_the_briefing_and_leave(site: Phone) -> None:
    """Names, licence numbers and times stand in the list; who has not signed on is named until they do."""
    arrive(site, "Ada Quill", "EW 4711")
    arrive(site, "Ben Tarn")
    brief(site, "Ada Quill", "Live 11 kV in the next bay. <b>Stay out.</b>")
    expect(site.page.locator("[data-part=tally]")).to_have_text("2 people on site. One has not signed on to the briefing.")
    expect(site.page.locator("[data-part=here] li", has_text="Ben Tarn")).to_contain_text("Not signed on")
    expect(site.page.locator("[data-part=here] li", has_text="Ada Quill")).to_contain_text("licence EW 4711")
    expect(site.page.locator(".hazards")).to_have_text("Live 11 kV in the next bay. <b>Stay out.</b>")
    site.page.locator(".briefing").get_by_role("button", name="Sign on").click()
    site.dialog.get_by_text("Ben Tarn").click()
    site.agree()
    expect(site.page.locator("[data-part=tally]")).to_contain_text("All have signed on")
    site.page.locator("[data-part=leave]").click()
    site.dialog.get_by_text("Ben Tarn").click()
    site.agree()
    expect(site.page.locator("[data-part=here] li")).to_have_count(1)
    expect(site.page.locator("[data-part=day] li")).to_have_count(5)
    assert [("arrived", "Ada Quill"), ("arrived", "Ben Tarn"), ("briefed", "Ada Quill"), ("briefed", "Ben Tarn"), ("left", "Ben Tarn")] \
        == [(entry["kind"], entry["who"]) for entry in site.entries()[1:]]


def test_a_new_briefing_asks_everybody_again(site: Phone) -> None:
    """Signed on to the first is not signed on to the second; both stay in sight, the newer one on top."""
    arrive(site, "Ada Quill")
    brief(site, "Ada Quill", "Trench is open.")
    brief(site, "Ben Tarn", "Trench is open, and the crane is here.")
    expect(site.page.locator("[data-part=here] li")).to_contain_text("Not signed on")
    expect(site.page.locator(".hazards")).to_have_text(["Trench is open, and the crane is here.", "Trench is open."])
    expect(site.page.locator("[data-part=next]")).to_have_text("Sign on")


def test_nobody_is_counted_twice(site: Phone) -> None:
    """Arrived or signed on already: it is said, and nothing is entered."""
    arrive(site, "Ada Quill")
    site.page.locator("[data-part=arrive]").click()
    site.dialog.get_by_text("Ada Quill").click()
    site.dialog.locator("[data-part=ask-yes]").click()
    expect(site.dialog.locator("[data-part=ask-refused]")).to_have_text("Ada Quill is on site already.")
    assert 2 == len(site.entries())


def test_a_briefing_without_hazards_is_none(site: Phone) -> None:
    """What was briefed has to be said in words."""
    site.page.get_by_role("button", name="Give a briefing").click()
    site.dialog.locator("[data-part=ask-yes]").click()
    expect(site.dialog.locator("[data-part=ask-refused]")).to_have_text("Say the hazards in words.")
