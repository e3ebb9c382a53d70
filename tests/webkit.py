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
def screen() -> Iterator[str]:
    """A screen that nobody sees, by its name; it ends with the block."""
    reading, writing = os.pipe()
    shown = subprocess.Popen(["Xvfb", "-displayfd", str(writing), "-nolisten", "tcp"], pass_fds=[writing], stderr=subprocess.DEVNULL)
    os.close(writing)
    try:
        with os.fdopen(reading) as told:
            display = told.readline().strip()
        yield f":{display}"
    finally:
        shown.terminate()
        shown.wait()


def _environment(display: str) -> dict[str, str]:
    # WebKit's sandbox needs namespaces that a container does not give.
    return os.environ | {"DISPLAY": display, "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1"}


def killable_webkit(address: str, display: str, home: Path) -> subprocess.Popen:
    """
    A WebKit that keeps its stores below `home`, opened at an address, with its processes in a group of their own.

    One that is driven keeps nothing beyond its session, and a driver ends the session when a process dies: this one
    has no driver, and what happens in it the page has to tell.
    """
    home.mkdir(exist_ok=True)
    kept = {"HOME": str(home)} | {f"XDG_{what}_HOME": str(home / what.lower()) for what in ("DATA", "CACHE", "CONFIG")}
    return subprocess.Popen([_shells()[-1], address], env=_environment(display) | kept, start_new_session=True,
                            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


@contextmanager
def webkit_driver() -> Iterator[webdriver.WebKitGTK]:
    """A running WebKit; it and its screen end with the block."""
    options = webdriver.WebKitGTKOptions()
    options.binary_location = str(_shells()[-1])
    options.add_argument("--automation")
    with screen() as display:
        service = webdriver.WebKitGTKService(executable_path=shutil.which(DRIVER), env=_environment(display))
        with warnings.catch_warnings():
            # Selenium warns of a call that its own WebKit driver makes.
            warnings.filterwarnings("ignore", "setting remote_server_addr", DeprecationWarning)
            driver = webdriver.WebKitGTK(options=options, service=service)
        yield driver
        driver.quit()
        service.process.wait()
