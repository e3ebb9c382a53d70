"""The same promises in WebKit, the other engine that phones have."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from tests.folder_server import FolderServer
from tests.phone.hands import DRAW

DRIVER = "WebKitWebDriver"
SECONDS = 20


@pytest.fixture
def webkit() -> Iterator[webdriver.WebKitGTK]:
    """A WebKit of its own on a screen that nobody sees. Without one the test is skipped, but fails in CI."""
    shells = sorted(Path("/usr/lib").glob("*/webkit2gtk-4*/MiniBrowser"))
    if not os.environ.get("CI") and not (shutil.which(DRIVER) and shutil.which("Xvfb") and shells):
        pytest.skip("There is no WebKit here: install webkit2gtk-driver and xvfb.")
    reading, writing = os.pipe()
    screen = subprocess.Popen(["Xvfb", "-displayfd", str(writing), "-nolisten", "tcp"], pass_fds=[writing], stderr=subprocess.DEVNULL)
    os.close(writing)
    with os.fdopen(reading) as told:
        display = told.readline().strip()
    options = webdriver.WebKitGTKOptions()
    options.binary_location = str(shells[-1])
    options.add_argument("--automation")
    # WebKit's sandbox needs namespaces that a container does not give.
    environment = os.environ | {"DISPLAY": f":{display}", "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1"}
    service = webdriver.WebKitGTKService(executable_path=shutil.which(DRIVER), env=environment)
    driver = webdriver.WebKitGTK(options=options, service=service)
    yield driver
    driver.quit()
    service.process.wait()
    screen.terminate()
    screen.wait()


# Selenium warns of a call that its own WebKit driver makes.
@pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning")
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
