"""Modules joined into one: what runs apart runs joined, and what can't be joined for sure is refused."""

import re

import pytest

from builder.join import CannotJoin, joined
from builder.places import ASSETS

APART = {
    "start": 'import { sum, twice as doubled } from "./sums.mjs";\nimport * as words from "./words.mjs";\n'
             "window.said = words.say(doubled(sum(1, 2))) + words.Plain.of(`a  b ${sum(2, 2)}`);\n",
    "sums": "/** Adds. */\nexport function sum(one, other) { return one + other; }\nfunction times2(n) { return n * 2; }\n"
            "export { times2 as twice };\n",
    "words": 'export { sum } from "./sums.mjs";\nexport const say = (n) => `said ${n}; `;\n'
             "export class Plain { #kept = 1; static of(text) { return text + new Plain().#kept; } }\n",
}


def test_joined_modules_do_what_they_did_apart(browser) -> None:
    """Renamed, passed on and listed names all arrive; texts keep their spaces."""
    page = browser.new_page()
    page.add_script_tag(content=joined(APART, "start"))
    assert "said 6; a  b 41" == page.evaluate("window.said")
    page.close()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"sums": 'import { say } from "./words.mjs";\nexport const sum = 1;\nexport const twice = 2;\n'}, "in a circle: start → sums → words → sums"),
        ({"sums": "export default function () {}\n"}, "sums.mjs: `export` in a form that can't be joined"),
        ({"sums": 'import sum from "./words.mjs";\n'}, "sums.mjs: `import` in a form that can't be joined"),
        ({"start": 'import { x } from "./nowhere.mjs";\n'}, "start.mjs needs nowhere.mjs, which is not there"),
        ({"start": "export const x = 1;\n"}, "start.mjs starts the app and gives nothing to others"),
        ({"sums": "\n\nexport const sum = (a) => `x ${[a].map((b) => `y  ${b}`)}`;\n"}, "sums.mjs:3: a template inside another's"),
    ],
)
def test_what_cannot_be_joined_for_sure_is_refused(change: dict[str, str], said: str) -> None:
    """A circle, an unknown form, a missing module and a template in a template each stop the build."""
    with pytest.raises(CannotJoin, match=re.escape(said)):
        joined(APART | change, "start")


def test_no_module_of_the_app_is_left_behind() -> None:
    """Every module in the folder is needed by the app's start, or by what that needs."""
    modules = {path.stem: path.read_text(encoding="utf-8") for path in (ASSETS / "app").glob("*.mjs")}
    made = dict.fromkeys(("formulas", "expressions", "units"), "")
    reached = set(re.findall(r"const \$([\w$]+)=\(\(\)=>", joined(modules | made, "start")))
    assert {name.replace("-", "_") for name in modules} - {"start"} == reached - set(made)
