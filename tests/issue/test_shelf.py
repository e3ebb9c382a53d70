"""What a server may hand out, and that nothing outside the site ever is."""

from pathlib import Path

import pytest

from builder.issue.shelf import Folder, Pages


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A small site, with a secret beside it."""
    folder = tmp_path / "site"
    (folder / "tasks").mkdir(parents=True)
    (folder / "index.html").write_text("job")
    (folder / "tasks" / "pull the cable.html").write_text("task")
    (folder / ".hidden").write_text("secret")
    (tmp_path / "secret.txt").write_text("secret")
    return folder


def test_folder_gives_its_files_by_their_paths(site):
    """A page is found by its path, percent signs and query included; `/` is the job page."""
    shelf = Folder(site)
    assert shelf.find("/").body == b"job"
    assert shelf.find("/index.html?from=home").body == b"job"
    assert shelf.find("/tasks/pull%20the%20cable.html").body == b"task"


@pytest.mark.parametrize(
    "path",
    [
        "/../secret.txt",
        "/..%2fsecret.txt",
        "/%2e%2e/secret.txt",
        "/tasks/../../secret.txt",
        "/tasks/..%5c..%5csecret.txt",
        "//secret.txt",
        "/./index.html",
        "/.hidden",
        "/C:/secret.txt",
        "/index.html%00.txt",
        "/%ff",
        "secret.txt",
        "",
        "/tasks",
        "/tasks/",
        "/missing.html",
        "/index.html/",
        "/" + "a" * 5000,
    ],
)
def test_folder_gives_nothing_for_any_other_path(site, path):
    """Paths that climb out, name hidden files, list a folder or are no paths find nothing."""
    assert Folder(site).find(path) is None


def test_folder_follows_no_link_out_of_itself(site, tmp_path):
    """A link that leads out of the site finds nothing."""
    try:
        (site / "way-out.txt").symlink_to(tmp_path / "secret.txt")
    except OSError:
        (site / "way-out.txt").unlink(missing_ok=True)  # Windows lets only some users make links
    assert Folder(site).find("/way-out.txt") is None


def test_folder_sees_a_site_that_was_swapped_in_later(site):
    """A rebuilt site is served at once, by the server that already runs."""
    shelf = Folder(site)
    assert shelf.find("/index.html").body == b"job"
    site.rename(site.with_name("old"))
    assert shelf.find("/index.html") is None
    site.mkdir()
    (site / "index.html").write_text("rebuilt")
    assert shelf.find("/index.html").body == b"rebuilt"


@pytest.mark.parametrize(
    ("name", "media_type"),
    [
        ("page.html", "text/html; charset=utf-8"),
        ("chain.mjs", "text/javascript; charset=utf-8"),
        ("service-worker.js", "text/javascript; charset=utf-8"),
        ("app.css", "text/css; charset=utf-8"),
        ("job.json", "application/json"),
        ("manifest.webmanifest", "application/manifest+json"),
        ("mark.svg", "image/svg+xml"),
        ("mark.PNG", "image/png"),
        ("pitslate-root.crt", "application/x-x509-ca-cert"),
        ("strange.xyz", "application/octet-stream"),
    ],
)
def test_type_follows_from_the_ending_alone(name, media_type):
    """Types come from our own list, not from the system's, which differs between computers."""
    assert Pages({name: b""}).find(f"/{name}").type == media_type
