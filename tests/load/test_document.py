"""Reading YAML: what is typed is what is meant, and every fault is named with its place."""

import re
from pathlib import Path

import pytest
import yaml

from builder.load import document as reading
from builder.load.document import Place, read_document
from builder.load.problems import BadInput, nearest

BOOK = Path(__file__).with_name("bad_yaml.txt").read_text(encoding="utf-8")
CASES = [
    pytest.param(body, said.strip(), id=title.strip())
    for title, body, said in re.findall(r"^== (.*)\n((?:.*\n)*?)-- (.*)$", BOOK, re.M)
]


def _written(folder: Path, text: str | bytes) -> Path:
    path = folder / "given.yaml"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


@pytest.mark.parametrize(("body", "said"), CASES)
def test_bad_yaml_is_named_with_its_place(body: str, said: str, tmp_path: Path) -> None:
    """Each fault of form is reported at its line and column."""
    with pytest.raises(BadInput) as bad:
        read_document(_written(tmp_path, body))
    first = bad.value.problems[0].shown().splitlines()[0]
    assert said in first, first


@pytest.mark.parametrize("typed", ["no", "yes", "on", "off", "NO", "010", "0x1F", "12:30", "1_000", "1e3", "2026-01-02", ".5"])
def test_words_that_yaml_would_bend_stay_text(typed: str, tmp_path: Path) -> None:
    """What YAML 1.1 turns into booleans, octals, times and dates is kept as typed."""
    assert {"a": typed} == read_document(_written(tmp_path, f"a: {typed}\n")).data


@pytest.mark.parametrize(("typed", "meant"), [("7", 7), ("-7", -7), ("0.5", 0.5), ("true", True), ("null", None), ("~", None), ("'7'", "7")])
def test_plain_numbers_and_truths_are_read(typed: str, meant: object, tmp_path: Path) -> None:
    """Decimal numbers, true, false and null are the only plain scalars that are not text."""
    found = read_document(_written(tmp_path, f"a: {typed}\n")).data["a"]
    assert (meant, type(meant)) == (found, type(found))


def test_every_value_knows_its_line_and_column(tmp_path: Path) -> None:
    """Places count from 1 and point at the value, keys at the key."""
    document = read_document(_written(tmp_path, "a: 1\nb:\n  - {c: hello}\n"))
    assert Place(3, 9, 5) == document.place(("b", 0, "c"))
    assert Place(3, 6, 1) == document.place(("b", 0, "c"), of_key=True)
    assert Place(2, 1, 1) == document.place(("b", 7, "x"), of_key=True)


def test_a_byte_that_is_not_utf8_is_named_with_its_place(tmp_path: Path) -> None:
    """Latin-1 is refused at the byte, with what to do."""
    with pytest.raises(BadInput) as bad:
        read_document(_written(tmp_path, "a: 1\nb: caf\u00e9\n".encode("latin-1")))
    assert ":2:7: error FILE-02: this byte is not UTF-8 text" in bad.value.report()


def test_a_control_character_is_named_with_its_place(tmp_path: Path) -> None:
    """A character that nobody can see is counted in characters, not in bytes."""
    with pytest.raises(BadInput) as bad:
        read_document(_written(tmp_path, "a: 1\nb: caf\u00e9 \x01\n"))
    assert ":2:9: error YAML-01: the character U+0001 stands here" in bad.value.report()


@pytest.mark.parametrize("loader", ["CSafeLoader", "SafeLoader"])
@pytest.mark.parametrize("opening", ["a: |[", "a: |{b: ", "|- ", "? |["])
def test_a_page_of_brackets_is_refused(opening: str, loader: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither the fast reader nor the plain one is brought down by nesting."""
    first, again = opening.split("|")
    monkeypatch.setattr(reading, "_Loader", getattr(yaml, loader))
    with pytest.raises(BadInput) as bad:
        read_document(_written(tmp_path, first + again * 100_000 + "\n"))
    assert {"FILE-02", "SHAPE-03"} >= {problem.code for problem in bad.value.problems}


def test_brackets_and_dashes_inside_a_text_are_text(tmp_path: Path) -> None:
    """A drawing in a block, or a quoted text full of brackets, is no nesting."""
    body = f"a: '{'[' * 200}'\nb: |\n  {'-' * 400}\n"
    assert {"a": "[" * 200, "b": "-" * 400 + "\n"} == read_document(_written(tmp_path, body)).data


def test_a_missing_file_is_a_sentence(tmp_path: Path) -> None:
    """No traceback for a file that is not there."""
    with pytest.raises(BadInput, match="1 problems") as bad:
        read_document(tmp_path / "nothing.yaml")
    assert "can't read this file: no such file or directory" in bad.value.report()


def test_windows_line_ends_and_a_byte_order_mark_are_read(tmp_path: Path) -> None:
    """A file saved by a Windows editor reads the same."""
    document = read_document(_written(tmp_path, b"\xef\xbb\xbfa: 1\r\nb: 2\r\n"))
    assert {"a": 1, "b": 2} == document.data
    assert 2 == document.place(("b",)).line


def test_a_near_name_is_offered_before_a_list() -> None:
    """A typo gets its nearest name, a wild word the names there are."""
    assert "Did you mean `title`?" == nearest("titel", ["title", "order"])
    assert "Known here: `order`, `title`." == nearest("zzz", ["title", "order"])


def test_a_code_is_not_taken_for_another_of_the_same_letters() -> None:
    """M13 is as far from M18 as from M12: the known ones are listed; a slip in the letters still finds its name."""
    assert "Known here: `M12`, `M16`, `M18`." == nearest("M13", ["M12", "M16", "M18"])
    assert "Did you mean `cu-95`?" == nearest("cuu-95", ["cu-95", "al-300"])


def test_at_most_twenty_problems_are_shown(tmp_path: Path) -> None:
    """A broken file does not flood the screen; the count stays true."""
    body = "".join(f"a{n % 2}: 1\n" for n in range(32))
    with pytest.raises(BadInput) as bad:
        read_document(_written(tmp_path, body))
    report = bad.value.report()
    assert 20 == report.count("error YAML-02")
    assert "30 errors (10 more not shown). Nothing was written." in report
