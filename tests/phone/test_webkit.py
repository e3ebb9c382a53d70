"""The same promises in WebKit, the other engine that phones have."""

from pathlib import Path

from selenium import webdriver
from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from tests.folder_server import FolderServer
from tests.phone.hands import DRAW

SECONDS = 20


def test_webkit_installs_opens_without_signal_and_saves_a_reading(webkit: webdriver.WebKitGTK, yard_folder: Path):
    """One visit, then the server is gone: a sheet opens, takes a reading, and has it after being opened again."""
    server = FolderServer(yard_folder)
    wait = WebDriverWait(webkit, SECONDS, ignored_exceptions=[StaleElementReferenceException])

    def shows(selector: str, words: str) -> bool:
        return wait.until(lambda _: words in webkit.find_element(By.CSS_SELECTOR, selector).text)

    def press(selector: str) -> None:
        button = wait.until(lambda _: webkit.find_element(By.CSS_SELECTOR, selector))
        webkit.execute_script("arguments[0].click()", button)

    webkit.get(server.url)
    shows("[data-part=phone]", "Every page opens without signal.")
    server.stop()
    webkit.get(server.url + DRAW)
    shows("[data-part=plate]", "R1")
    shows("[data-part=next]", "Who is using this phone?")
    press("[data-part=next]")
    press("dialog input[name=person]")
    webkit.find_element(By.CSS_SELECTOR, "dialog form > label input.field").send_keys("Pit one")
    press("[data-part=ask-yes]")
    shows("[data-part=crew]", "Ada Quill")
    webkit.find_element(By.CSS_SELECTOR, "#step-length-in-hand [name=reading]").send_keys("40,5")
    press("#step-length-in-hand form .act")
    shows("#step-length-in-hand .given", "40,5 m")
    shows("#step-length-in-hand .verdict", "Within")
    webkit.get("about:blank")
    webkit.get(server.url + DRAW)
    assert shows("#step-length-in-hand .given", "40,5 m")
