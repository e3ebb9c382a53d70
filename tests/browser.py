"""
Which browser the phone tests drive: one already on this machine, else one that Playwright fetches.
"""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

# The variable that names a Chromium to use, whatever else is installed.
CHOSEN = "PITSLATE_CHROMIUM"

NO_BROWSER = (
    "There is no browser for the phone tests. Install Chromium, Chrome or Edge, "
    f"or set {CHOSEN} to the file that starts one."
)

_COMMANDS = [
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "msedge",
    "microsoft-edge",
    "microsoft-edge-stable",
]
_FILES = [
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
]
_WINDOWS_FOLDERS = ["PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"]
_WINDOWS_FILES = ["Google/Chrome/Application/chrome.exe", "Microsoft/Edge/Application/msedge.exe"]


def installed_browser(
    environ: Mapping[str, str],
    command: Callable[[str], str | None] = shutil.which,
    exists: Callable[[Path], bool] = Path.exists,
) -> str | None:
    """The file that starts an installed Chromium, Chrome or Edge; None when there is none."""
    if environ.get(CHOSEN):
        return environ[CHOSEN]
    for name in _COMMANDS:
        if found := command(name):
            return found
    return next((str(file) for file in _usual_files(environ) if exists(file)), None)


def _usual_files(environ: Mapping[str, str]) -> Iterable[Path]:
    yield from map(Path, _FILES)
    for folder in _WINDOWS_FOLDERS:
        if folder in environ:
            yield from (Path(environ[folder]) / file for file in _WINDOWS_FILES)


def fetch_if_missing(environ: Mapping[str, str]) -> None:
    """Let Playwright fetch a Chromium when none is installed; quick when it did so before."""
    if installed_browser(environ) is None:
        command = [sys.executable, "-m", "playwright", "install", "chromium"]
        if subprocess.call(command, stdout=subprocess.DEVNULL) != 0:
            print(NO_BROWSER, file=sys.stderr)


def launch_options(environ: Mapping[str, str]) -> dict:
    """How Playwright starts the browser: quietly, and with no traffic but the tests' own."""
    arguments = ["--disable-quic", "--disable-background-networking"]
    # Chromium refuses its sandbox to root, who runs the tests in a container.
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        arguments.append("--no-sandbox")
    return {"headless": True, "args": arguments, "executable_path": installed_browser(environ)}
