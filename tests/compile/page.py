"""A folder with the phone app's modules and those made for a job, for a page that asks them."""

import json
import shutil
from pathlib import Path

from builder.compile.catalogue import formulas, writing_functions
from builder.compile.javascript import formulas_module
from builder.compile.modules import generated_modules
from builder.places import ASSETS
from builder.words import word_list


def write_page(folder: Path, job: dict) -> None:
    """An empty page with all modules of the app beside it, and every formula; nothing runs by itself but that it learns its words."""
    (folder / "index.html").write_text('<!doctype html><title>Both sides</title><script type=module src="teach.mjs"></script>', encoding="utf-8")
    (folder / "teach.mjs").write_text(f'import {{ useWords }} from "./app/words.mjs";\nuseWords({json.dumps(word_list())});\n', encoding="utf-8")
    shutil.copytree(ASSETS / "app", folder / "app")
    every = formulas()
    made = generated_modules(job) | {"app/formulas.mjs": formulas_module(every.modules, {*every.signatures, *writing_functions(every.modules)})}
    for path, text in made.items():
        (folder / path).write_text(text, encoding="utf-8")
