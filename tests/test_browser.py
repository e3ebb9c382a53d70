"""Which browser the phone tests drive."""

from pathlib import Path

from tests.browser import CHOSEN, installed_browser


def nowhere(_: object) -> None:
    """Finds nothing."""
    return


def test_chosen_browser_comes_before_every_other():
    """The variable overrules what is installed."""
    assert installed_browser({CHOSEN: "/opt/mine"}, command=lambda name: f"/usr/bin/{name}") == "/opt/mine"


def test_installed_command_is_found():
    """Whatever Linux calls it."""
    found = installed_browser({}, command={"google-chrome": "/usr/bin/google-chrome"}.get)
    assert found == "/usr/bin/google-chrome"


def test_browser_of_windows_is_found_in_its_usual_folder():
    """Edge comes with Windows, in a folder that no command search looks into."""
    edge = Path("C:/Programs") / "Microsoft/Edge/Application/msedge.exe"
    found = installed_browser({"PROGRAMFILES(X86)": "C:/Programs"}, command=nowhere, exists=lambda file: file == edge)
    assert found == str(edge)


def test_no_browser_is_no_guess():
    """None is said, so that Playwright's own is taken."""
    assert installed_browser({}, command=nowhere, exists=nowhere) is None
