"""A WebKit of its own on a screen that nobody sees: the other engine that phones have."""

import os
import shutil
import subprocess
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from selenium import webdriver

DRIVER = "WebKitWebDriver"
NO_WEBKIT = "There is no WebKit here: install webkit2gtk-driver and xvfb."


def _shells() -> list[Path]:
    return sorted(Path("/usr/lib").glob("*/webkit2gtk-4*/MiniBrowser"))


def webkit_is_here() -> bool:
    """Whether driver, screen and browser are installed."""
    return bool(shutil.which(DRIVER) and shutil.which("Xvfb") and _shells())


@contextmanager
def webkit_driver() -> Iterator[webdriver.WebKitGTK]:
    """A running WebKit; it and its screen end with the block."""
    reading, writing = os.pipe()
    screen = subprocess.Popen(["Xvfb", "-displayfd", str(writing), "-nolisten", "tcp"], pass_fds=[writing], stderr=subprocess.DEVNULL)
    os.close(writing)
    with os.fdopen(reading) as told:
        display = told.readline().strip()
    options = webdriver.WebKitGTKOptions()
    options.binary_location = str(_shells()[-1])
    options.add_argument("--automation")
    # WebKit's sandbox needs namespaces that a container does not give.
    environment = os.environ | {"DISPLAY": f":{display}", "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1"}
    service = webdriver.WebKitGTKService(executable_path=shutil.which(DRIVER), env=environment)
    try:
        with warnings.catch_warnings():
            # Selenium warns of a call that its own WebKit driver makes.
            warnings.filterwarnings("ignore", "setting remote_server_addr", DeprecationWarning)
            driver = webdriver.WebKitGTK(options=options, service=service)
        yield driver
        driver.quit()
        service.process.wait()
    finally:
        screen.terminate()
        screen.wait()
