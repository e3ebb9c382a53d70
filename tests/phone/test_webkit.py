"""The same promises in WebKit, the other engine that phones have."""

from pathlib import Path

from selenium import webdriver
from selenium.common.exceptions import NoSuchElementException, StaleElementReferenceException
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from tests.folder_server import FolderServer
from tests.phone.hands import DRAW, OFF

SECONDS = 20
# A camera's picture, handed to the field that asks for one.
CAMERA = """
  const canvas = Object.assign(document.createElement("canvas"), { width: 3200, height: 2400 });
  canvas.getContext("2d").fillRect(200, 200, 900, 700);
  const bytes = Uint8Array.from(atob(canvas.toDataURL("image/jpeg").split(",")[1]), (letter) => letter.charCodeAt(0));
  const given = new DataTransfer();
  given.items.add(new File([bytes], "1.jpg", { type: "image/jpeg" }));
  const field = document.querySelector(arguments[0]);
  field.files = given.files;
  field.dispatchEvent(new Event("change"));
"""
WIDTH = "return document.querySelector('#step-clear .thumb img')?.naturalWidth ?? 0"


class Hands:
    """What a pair of hands does in WebKit."""

    def __init__(self, driver: webdriver.WebKitGTK):
        self.driver = driver
        self.wait = WebDriverWait(driver, SECONDS, ignored_exceptions=[StaleElementReferenceException, NoSuchElementException])

    def shows(self, selector: str, words: str) -> bool:
        return self.wait.until(lambda _: words in self.driver.find_element(By.CSS_SELECTOR, selector).text)

    def press(self, selector: str) -> None:
        button = self.wait.until(lambda _: self.driver.find_element(By.CSS_SELECTOR, selector))
        self.driver.execute_script("arguments[0].click()", button)

    def write(self, selector: str, text: str) -> None:
        self.driver.find_element(By.CSS_SELECTOR, selector).send_keys(text)

    def state(self, step: str, state: str) -> bool:
        return self.wait.until(lambda _: self.driver.find_element(By.ID, f"step-{step}").get_attribute("data-state") == state)

    def introduce(self) -> None:
        """Ada Quill, supervisor, says that it is her."""
        self.shows("[data-part=next]", "Who is using this phone?")
        self.press("[data-part=next]")
        self.press("dialog input[name=person]")
        self.write("dialog form > label input.field", "Pit one")
        self.press("[data-part=ask-yes]")
        self.shows("[data-part=crew]", "Ada Quill")


def test_webkit_installs_opens_without_signal_and_saves_a_reading_and_a_photo(webkit: webdriver.WebKitGTK, yard_folder: Path):
    """One visit, then the server is gone: a sheet opens, takes a reading and a photo, and has them after being opened again."""
    server = FolderServer(yard_folder)
    hands = Hands(webkit)
    webkit.get(server.url)
    hands.shows("[data-part=phone]", "Every page opens without signal.")
    server.stop()
    webkit.get(server.url + DRAW)
    hands.shows("[data-part=plate]", "R1")
    hands.introduce()
    hands.write("#step-length-in-hand [name=reading]", "40,5")
    hands.press("#step-length-in-hand form .act")
    hands.shows("#step-length-in-hand .given", "40,5 m")
    hands.shows("#step-length-in-hand .verdict", "Within")
    webkit.execute_script(CAMERA, "#step-clear input[type=file]")
    hands.press("[data-part=ask-yes]")
    hands.wait.until(lambda _: webkit.execute_script(WIDTH))
    webkit.get("about:blank")
    webkit.get(server.url + DRAW)
    assert hands.shows("#step-length-in-hand .given", "40,5 m")
    assert 1600 == hands.wait.until(lambda _: webkit.execute_script(WIDTH))


def test_webkit_works_a_sheet_past_its_hold_and_has_it_in_a_new_page(webkit: webdriver.WebKitGTK, yard_folder: Path):
    """Without signal: a step, a release and the closing; the page is closed, and in a new one all of it is there."""
    server = FolderServer(yard_folder)
    hands = Hands(webkit)
    webkit.get(server.url)
    hands.shows("[data-part=phone]", "Every page opens without signal.")
    server.stop()
    webkit.get(server.url + OFF)
    hands.introduce()
    hands.press("#step-open-it form .act")
    hands.state("open-it", "answered")
    hands.press("#step-dead form .act")
    hands.press("[data-part=ask-yes]")
    hands.state("dead", "open")
    hands.shows("[data-part=next]", "Close the sheet")
    hands.press("[data-part=next]")
    hands.press("[data-part=ask-yes]")
    hands.shows("[data-part=far-end]", "Closed")
    # A driven WebKit keeps nothing beyond its session, so here a page is closed; test_webkit_kills.py kills one that is not.
    first = webkit.current_window_handle
    webkit.switch_to.new_window("tab")
    second = webkit.current_window_handle
    webkit.switch_to.window(first)
    webkit.close()
    webkit.switch_to.window(second)
    webkit.get(server.url + OFF)
    hands.shows("[data-part=far-end]", "Closed")
    assert hands.state("dead", "open")
