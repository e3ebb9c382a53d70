"""The pull along a route as a drawing: true to length, its limit always there, the same in both languages."""

import re
from collections.abc import Callable

import pytest

from builder.formulas.pull_drawing import pull_drawing

STATIONS = [
    {"shape": "straight", "length": 20.0, "from_start": 0.51, "from_end": 0.957},
    {"shape": "bend_level", "length": 1.5707963267948966, "from_start": 1.118, "from_end": 0.447},
    {"shape": "straight", "length": 8.0, "from_start": 1.322, "from_end": 0.204},
]
WORDS = {"limit": "allowed 3 kN", "start": "start", "end": "end", "pull": "kN", "length": "m"}
POUNDS = {"limit": "allowed 2000 lbf", "start": "start", "end": "end", "pull": "lbf", "length": "ft"}
MEASURED = [{"station": 1, "tension": 0.3}, {"station": 3, "tension": 1.1}]
FORECAST = [{"station": 1, "tension": 0.3}, {"station": 2, "tension": 0.7}, {"station": 3, "tension": 1.5}]
CASES = [
    [STATIONS, 0, 3.0, [], [], "end", 260, 10, WORDS],
    [STATIONS, 0.05, None, MEASURED, FORECAST, "start", 420, 10, WORDS],
    [STATIONS, 0.05, 60.0, MEASURED, [], "end", 180, 10, WORDS],
    [STATIONS[:1], 0, 0.9, [], [], "start", 180, 10, WORDS],
    [[{"shape": "straight", "length": 150.0, "from_start": 1210.0, "from_end": 640.0}], 12.0, 2000.0, [], [], "end", 180, 10, POUNDS],
]


def lines(drawing: dict, kind: str) -> list[list[tuple[float, float]]]:
    """The corners of each line of a kind, as far as they are written outright."""
    found = [line["d"] for layer in drawing["layers"] for line in layer["lines"] if line["kind"] == kind]
    return [[(float(x), float(y)) for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", path)] for path in found]


def texts(drawing: dict) -> list[dict]:
    return [text for layer in drawing["layers"] for text in layer["texts"]]


def height_of(drawing: dict, number: str) -> float:
    """How far down a number of the scale on the left stands for; its foot is 0.35 letters lower."""
    return next(float(text["y"]) for text in texts(drawing) if (text["kind"], text["side"], text["words"]) == ("number", "end", number)) - 3.5


def test_stations_lie_at_their_true_distance() -> None:
    """A straight of 20 m takes 20 parts of the 29.57 that the route is long."""
    [line] = lines(pull_drawing(*CASES[0]), "other")
    near, far = line[0][0], line[-1][0]
    assert [0, 20, 21.5708, 29.5708] == pytest.approx([(x - near) / (far - near) * 29.5708 for x, _ in line], abs=0.05)


def test_limit_stands_at_its_height_on_the_scale() -> None:
    """3 kN is drawn level with the number 3, and the pull at its own height."""
    drawing = pull_drawing(*CASES[0])
    [[(_, limit)]] = lines(drawing, "limit")
    zero, three = height_of(drawing, "0"), height_of(drawing, "3")
    assert three == pytest.approx(limit, abs=0.1)
    [chosen] = lines(drawing, "chosen")
    assert chosen[0][1] == pytest.approx(zero + 0.957 * (three - zero) / 3, abs=0.1)


def test_limit_far_above_the_pull_stands_over_a_broken_scale() -> None:
    """The pull is not pressed flat, and the limit is still there, above everything else and marked off the scale."""
    drawing = pull_drawing(*CASES[2])
    [[(_, limit)]] = lines(drawing, "limit")
    assert limit < min(y for kind in ("chosen", "other") for line in lines(drawing, kind) for _, y in line)
    assert any("l" in line["d"] for layer in drawing["layers"] for line in layer["lines"] if line["kind"] == "axis")
    assert "60" not in [text["words"] for text in texts(drawing)]


def test_measured_pull_stands_where_the_head_was() -> None:
    """Counted from the feed: one station passed from the start is 20 m on; from the end it is 8 m back."""
    for feed, stood in (("start", 20.0), ("end", 21.5708)):
        drawing = pull_drawing(STATIONS, 0, None, MEASURED[:1], [], feed, 420, 10, WORDS)
        [[(x, y)]] = lines(drawing, "measured")
        [line] = lines(drawing, "chosen")
        near, far = line[0][0], line[-1][0]
        assert (x + 4 - near) / (far - near) * 29.5708 == pytest.approx(stood, abs=0.1)
        assert y < height_of(drawing, "0")


def test_scales_are_in_the_units_that_were_asked_for() -> None:
    """A pull of 1210 lbf under 2000 lbf on 150 ft: round numbers of these up and along, and their units at the axes."""
    drawn = texts(pull_drawing(*CASES[4]))
    assert ["0", "500", "1000", "1500", "2000"] == [text["words"] for text in drawn if (text["kind"], text["side"]) == ("number", "end")]
    assert ["0", "50", "100", "150"] == [text["words"] for text in drawn if (text["kind"], text["side"]) == ("number", "middle")]
    assert ["lbf", "ft"] == [text["words"] for text in drawn if text["kind"] == "measure"]


def test_nothing_is_drawn_outside() -> None:
    """Every corner and text lies within the drawing's own size."""
    for case in CASES:
        drawing = pull_drawing(*case)
        places = [point for kind in ("chosen", "other", "limit", "axis") for line in lines(drawing, kind) for point in line]
        places += [(float(text["x"]), float(text["y"])) for text in texts(drawing)]
        assert all(0 <= x <= drawing["width"] and 0 <= y <= drawing["height"] for x, y in places)


def test_what_is_still_to_come_goes_on_from_the_head_and_stands_alone() -> None:
    """The forecast begins at the newest ring's place and ends over the far end; the way that is not pulled is not drawn."""
    drawing = pull_drawing(*CASES[1])
    assert [] == lines(drawing, "other")
    [forecast], [chosen] = lines(drawing, "forecast"), lines(drawing, "chosen")
    assert [x for x, _ in chosen[1:]] == [x for x, _ in forecast]
    assert forecast[-1][1] < chosen[-1][1]


def test_drawing_is_the_same_in_the_browser(phone: Callable) -> None:
    """Phone, paper and pack draw by one rule."""
    there = phone("""async (cases) => {
      const { functions } = await import("/app/formulas.mjs");
      return cases.map((one) => functions.pull_drawing(...one));
    }""", CASES)
    assert [pull_drawing(*case)["layers"] for case in CASES] == [drawing["layers"] for drawing in there]
