"""A job in Spanish is Spanish on every screen, and stands on the narrowest phone."""

import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import expect

from builder.build import build
from builder.load.document import read_document
from builder.places import CHECKLISTS, DEMO_JOB, ROOT
from builder.words import say, word_list
from tests.folder_server import FolderServer
from tests.phone.at_the_winch import record_before_the_pull
from tests.phone.hands import Phone
from tests.phone.test_axe import _reported

READINGS = yaml.safe_load((ROOT / "tests/checklists/readings.yaml").read_text(encoding="utf-8"))
BEFORE, RUN = "cable-pulling/before-the-pull", "R3"
PULL_DAY = f"pull-day/cable-pulling/pull.html#{RUN}"
SCREENS = ["", "#place", "#now", "#plan", "locks.html", "site.html", PULL_DAY, f"tasks/{BEFORE}.html#{RUN}"]

# What is seen, and what is only heard.
TEXTS = """() => document.body.innerText + "\\n" + [...document.querySelectorAll("[aria-label], [placeholder], [alt], [title]")]
  .flatMap((one) => ["aria-label", "placeholder", "alt", "title"].map((name) => one.getAttribute(name) ?? "")).join("\\n")"""


def _texts(data: Any) -> Iterator[str]:
    """Every text that a file says to the crew."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from _texts(value)


def _english() -> set[str]:
    """What no Spanish page may say: each sentence of both words and libraries, in the pieces that stand between what is filled in."""
    sentences = {text for name, section in word_list().items() if name != "names" for text in _texts(section)}
    for path in CHECKLISTS.glob("*.yaml"):
        library = read_document(path).data
        parts = [*library.get("cautions", {}).values()] if "library" in library else []
        for task in library["tasks"] if "library" in library else []:
            parts += [task, *task.get("workings", {}).values(), *task["steps"], *task.get("pull_day", {}).get("radio", {}).values()]
        sentences |= {part[key] for part in parts for key in ("title", "say", "why") if isinstance(part.get(key), str)}
    pieces = {piece.strip(" .:;,") for text in sentences for piece in re.split(r"\{[^}]*\}", text)}
    return {piece for piece in pieces if " " in piece and len(piece) > 8}


ENGLISH = _english()


@pytest.fixture(scope="session")
def spanish_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo job in Spanish, built once per worker. Not to be written to."""
    place = tmp_path_factory.mktemp("spanish")
    shutil.copytree(DEMO_JOB.parent, place / "job")
    job = place / "job" / DEMO_JOB.name
    job.write_text(job.read_text(encoding="utf-8").replace("\npractice:", "\nlanguage: es\npractice:", 1), encoding="utf-8")
    build(job, place / "site")
    return place / "site"


@pytest.fixture(params=["light", "dark"])
def crew(request, new_phone: Callable[..., Phone], spanish_folder: Path, serve_folder: Callable[[Path], FolderServer]) -> Phone:
    """A small phone with the job open, by day and by night, in Ilse Brandrup's hand."""
    phone = new_phone(serve_folder(spanish_folder).url, color_scheme=request.param)
    phone.page.set_viewport_size({"width": 320, "height": 640})
    phone.open()
    phone.page.locator("[data-part=next]").click()
    phone.dialog.get_by_text("Ilse Brandrup").click()
    phone.dialog.get_by_label("Cómo se llama este teléfono").fill("Teléfono de zanja")
    phone.agree()
    expect(phone.page.locator("[data-part=crew]")).to_contain_text("Ilse Brandrup")
    return phone


def _spanish_and_narrow(phone: Phone) -> None:
    """Nothing of the page is English, and none of it runs off the side."""
    where = phone.page.url.removeprefix(phone.address)
    phone.unfold()
    told = phone.page.evaluate(TEXTS)
    assert "es" == phone.page.locator("html").get_attribute("lang")
    assert (where, []) == (where, sorted(piece for piece in ENGLISH if re.search(rf"\b{re.escape(piece)}\b", told)))
    assert phone.page.evaluate("document.documentElement.scrollWidth <= innerWidth"), where


def test_every_page_of_a_spanish_job_is_spanish(crew: Phone, spanish_folder: Path) -> None:
    """Each page, opened for the first item that it serves, says no English sentence and doesn't scroll sideways."""
    for path in sorted(str(path.relative_to(spanish_folder)) for path in spanish_folder.rglob("*.html")):
        crew.page.goto(crew.address + path)
        first = crew.page.locator("[data-part=items] a").first
        if first.count():
            crew.page.goto(f"{crew.address}{path}{first.get_attribute('href')}")
        expect(crew.page.locator("[data-part=crew]").first).to_contain_text("Ilse Brandrup")
        _spanish_and_narrow(crew)


def _work(phone: Phone) -> None:
    """Answers every step of the sheet that is open, with a comma for the decimals."""
    for step in phone.page.locator("li.step").all():
        expect(phone.page.locator("form[aria-busy]")).to_have_count(0)
        if not step.is_visible() or not step.locator("form .act, form button").first.is_visible():
            continue
        name = step.get_attribute("data-step")
        if step.get_attribute("data-kind") != "read":
            phone.do(name)
            continue
        good = READINGS[BEFORE][name]["good"]
        text = good if isinstance(good, str) else good[RUN]
        if step.locator("[name=reading]").count():
            phone.read(name, re.sub(r"(?<=\d)\.(?=\d)", ",", text))
        else:
            phone.choose(name, text)
        expect(step).to_have_attribute("data-state", "answered")


def test_crew_works_a_spanish_job_without_meeting_english(crew: Phone) -> None:
    """Readings with a decimal comma, workings, a refusal, a hold and the boards speak Spanish and fit 320 pixels."""
    crew.open(f"tasks/{BEFORE}.html#{RUN}")
    crew.read("length-in-hand", "1e9")
    expect(crew.step("length-in-hand")).to_contain_text("con coma o punto para los decimales")
    crew.open(f"tasks/{BEFORE}.html#{RUN}")
    _work(crew)
    expect(crew.step("length-in-hand")).to_contain_text(say("step.within", "es"))
    _spanish_and_narrow(crew)

    crew.open("tasks/lock-out/keep-it-locked.html#kiln-feeder")
    gate = crew.step("watch-begins")
    gate.get_by_role("button", name=say("hold.release", "es")).click()
    _spanish_and_narrow(crew)
    crew.dialog.get_by_text("Ilse Brandrup").click()
    crew.agree()
    expect(gate).to_contain_text(say("hold.open", "es"))
    _spanish_and_narrow(crew)

    crew.open("locks.html")
    crew.page.get_by_role("button", name=say("locks.put_on", "es")).first.click()
    crew.dialog.get_by_label(say("locks.number", "es")).fill("17")
    _spanish_and_narrow(crew)
    crew.agree()
    crew.open("site.html")
    crew.page.locator("[data-part=arrive]").click()
    _spanish_and_narrow(crew)
    crew.dialog.get_by_role("button", name=say("page.cancel", "es"), exact=True).click()


def test_pull_and_all_screens_of_a_spanish_job_are_spanish(crew: Phone, spanish_folder: Path, tmp_path: Path) -> None:
    """A pull that goes and stops, the sending, and every main screen after it speak Spanish, fit 320 pixels and pass every rule."""
    crew.load_record(record_before_the_pull(spanish_folder, RUN, tmp_path))
    crew.page.goto(crew.address + PULL_DAY)
    crew.page.locator("#pull-value").fill("0,05")
    crew.page.locator("[data-part=reading] .act").click()
    expect(crew.page.locator("[data-part=call] .word")).to_have_attribute("aria-label", "Tire")
    crew.page.locator("#pull-value").fill("9")
    crew.page.locator("[data-part=reading] .act").click()
    expect(crew.page.locator("[data-part=call] .word")).to_have_attribute("aria-label", "Alto")

    crew.open()
    with crew.page.expect_download():
        crew.page.get_by_role("button", name=say("send.send", "es")).click()
    for path in SCREENS:
        crew.page.goto("about:blank")
        crew.page.goto(crew.address + path)
        expect(crew.page.locator("[data-part=crew]").first).to_contain_text("Ilse Brandrup")
        _spanish_and_narrow(crew)
        assert (path, []) == (path, _reported(crew))
