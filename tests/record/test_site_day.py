"""The days on site at the desk: who is there, what was briefed, and who signed on to it."""

from pathlib import Path

import pytest

from builder.record.collect import GOOD
from tests.record.phone import Phone, record_text
from tests.record.test_collect import Desk


@pytest.fixture
def desk(demo_folder: Path, tmp_path: Path) -> Desk:
    """A desk with the demo job's site."""
    return Desk(demo_folder, tmp_path)


def collected(desk: Desk, phone: Phone) -> str:
    desk.collect(desk.put("ana.json", record_text(phone.entries, phone)))
    board = desk.board()
    return board[board.index('<section id="site">'):board.index('<section id="locks">')]


def test_an_empty_site_says_so(desk: Desk) -> None:
    """Nobody signed on is told plainly, and that it says nothing about who is there."""
    assert "Nobody has signed on. That says nothing about who is there." in collected(desk, desk.phone("Ana's phone"))


def test_people_and_briefings_stand_by_day(desk: Desk) -> None:
    """Who is there with licence number, what was briefed, each person once, and what was taken back left out."""
    phone = desk.phone("Ana's phone")
    phone.tell("arrived", sheet="site", value="EW 4711")
    phone.tell("arrived", sheet="site", who="Bo Rand")
    phone.tell("briefed", sheet="site", value="Open trench <b>here</b>")
    phone.tell("briefed", sheet="site", value="Open trench <b>here</b>", who="Bo Rand")
    phone.tell("briefed", sheet="site", value="Open trench <b>here</b>", who="bo rand ")
    wrong = phone.tell("briefed", sheet="site", value="Crane", who="Bo Rand")
    phone.tell("withdraw", sheet="site", value="no crane", about=[wrong.id])
    phone.tell("left", sheet="site", who="Bo Rand")
    site = collected(desk, phone)
    assert GOOD == desk.collect(desk.out.parent / "ana.json"), desk.said
    assert "Ana Lind, licence EW 4711, since 2026-03-04T10:00:01+10:00" in site
    assert "Bo Rand, since" not in site
    assert "Open trench &lt;b&gt;here&lt;/b&gt;" in site
    assert "Signed on: Ana Lind, Bo Rand</p>" in site
    assert "Crane" not in site
    assert "6 said that day" in site


def test_a_sign_on_behind_a_gap_is_not_relied_on(desk: Desk) -> None:
    """It may have been taken back in what has not come."""
    phone = desk.phone("Ana's phone")
    phone.tell("arrived", sheet="site")
    phone.tell("briefed", sheet="site", value="Open trench")
    phone.entries = [phone.entries[0], phone.entries[2]]
    assert "nobody signed on to one" in collected(desk, phone)
