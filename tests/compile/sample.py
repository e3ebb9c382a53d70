"""The sample of every construct, checked and compiled as a formula file is."""

from pathlib import Path

from builder.compile.javascript import formulas_module
from builder.compile.subset import functions_of, parse_formulas
from tests.compile import every_construct

SOURCE = Path(every_construct.__file__).read_text(encoding="utf-8")
SAMPLE = parse_formulas(SOURCE, {})
MODULE = formulas_module({"sample": SAMPLE}, functions_of(SAMPLE))
