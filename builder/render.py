"""The bound job as a static site: one page per task, the app's modules, the job's data, the worker."""

import hashlib
import json
from collections.abc import Mapping
from functools import cache
from pathlib import PurePosixPath
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markdown_it import MarkdownIt
from markupsafe import Markup

from builder.join import joined
from builder.places import ASSETS, TEMPLATES
from builder.policy import CONTENT_POLICY
from builder.quantity import unit
from builder.words import word_list

_SHIPPED = {"app": ("*.js",), "icons": ("*.png", "*.svg")}
# The collected board is a page by itself, with a style of its own.
_NOT_ON_THE_PHONE = {"board.css"}


def site_files(data: dict[str, Any], modules: Mapping[str, str]) -> dict[str, bytes]:
    """
    Every file of the site by its path.

    Inputs
      data     job.json as bound
      modules  the ES modules made for this job: path → text
    The same input gives the same bytes: the build stamp is a hash of what goes in, never of when.
    """
    words = word_list(data["job"]["language"])
    files = _shipped_assets()
    files["style/app.css"] = _style()
    files["app/app.js"] = _app(modules)
    files["job.json"] = _json(data)
    files["words.json"] = _json(words)
    stamp = _stamp(files)
    files["build.json"] = _json({"build": stamp, "job": data["job"]["name"], "title": data["job"]["title"]})
    files |= _pages(data, words, stamp)
    precache = [[path, hashlib.sha256(content).hexdigest()] for path, content in sorted(files.items())]
    worker = _templates().get_template("service-worker.js.j2")
    files["service-worker.js"] = worker.render(build=stamp, precache=json.dumps(precache, indent=0)).encode()
    return files


def _pages(data: dict[str, Any], words: dict[str, Any], stamp: str) -> dict[str, bytes]:
    templates = _templates()
    names = words.get("names", {}) | data.get("names", {})

    def called(choice: str) -> str:
        return names.get(choice) or choice.replace("-", " ")

    shared = {"job": data, "words": words, "called": called, "build": stamp, "policy": CONTENT_POLICY}
    files = {
        "index.html": templates.get_template("index.html.j2").render(**shared, root=""),
        "manifest.webmanifest": templates.get_template("manifest.webmanifest.j2").render(**shared, root=""),
    }
    files["site.html"] = templates.get_template("site.html.j2").render(**shared, root="")
    if data["points"]:
        files["locks.html"] = templates.get_template("locks.html.j2").render(**shared, root="")
    by_task: dict[str, list[dict]] = {key: [] for key in data["tasks"]}
    for sheet in data["sheets"]:
        by_task[sheet["task"]].append(sheet)
    page, pull = templates.get_template("task.html.j2"), templates.get_template("pull.html.j2")
    for key, task in data["tasks"].items():
        files[f"tasks/{key}.html"] = page.render(**shared, root="../../", task=task, sheets=by_task[key])
        if "pull_day" in task:
            files[f"pull-day/{key}.html"] = pull.render(**shared, root="../../", task=task, sheets=by_task[key])
    return {path: text.encode() for path, text in files.items()}


def _shipped_assets() -> dict[str, bytes]:
    files = {}
    for folder, patterns in _SHIPPED.items():
        for pattern in patterns:
            for path in sorted((ASSETS / folder).glob(pattern)):
                files[f"{folder}/{path.name}"] = path.read_bytes()
    return files


def _style() -> bytes:
    """The phone's style sheets as one, the shared one first."""
    sheets = sorted((ASSETS / "style").glob("*.css"), key=lambda path: (path.name != "app.css", path.name))
    return b"\n".join(path.read_bytes() for path in sheets if path.name not in _NOT_ON_THE_PHONE)


def _app(generated: Mapping[str, str]) -> bytes:
    """The app's own modules and those made for this job, joined."""
    modules = {path.stem: path.read_text(encoding="utf-8") for path in sorted((ASSETS / "app").glob("*.mjs"))}
    return joined(modules | {PurePosixPath(path).stem: text for path, text in generated.items()}, "start").encode()


def _stamp(files: Mapping[str, bytes]) -> str:
    """Twelve hex of the hash of everything that decides the site, templates included."""
    whole = hashlib.sha256()
    sources = dict(files) | {f"templates/{path.name}": path.read_bytes() for path in sorted(TEMPLATES.glob("*.j2"))}
    for path, content in sorted(sources.items()):
        whole.update(f"{path}\0{len(content)}\0".encode())
        whole.update(content)
    return whole.hexdigest()[:12]


def _json(data: Any) -> bytes:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"), sort_keys=True, allow_nan=False).encode()


@cache
def _templates() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True, keep_trailing_newline=True,
    )
    environment.filters["markdown"] = markdown
    environment.filters["symbol"] = shown_unit
    return environment


@cache
def _markdown() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False, "linkify": False}).disable(["image", "link", "autolink"])


@cache
def markdown(text: str) -> Markup:
    """A step's words as safe HTML: emphasis, code and lists; no raw HTML, no links, no pictures."""
    return Markup(_markdown().render(text))


@cache
def shown_unit(symbol: str | None) -> str:
    """A unit as people read it: `ohm` as Ω."""
    return unit(symbol).shown if symbol else ""
