"""The pull along a route as a drawing: one rule for the phone's screen, the paper sheet and the pack."""

from builder.formulas.mathematics import ceil, floor
from builder.formulas.number_text import plain_text


def pull_drawing(stations, held, limit, measured, forecast, feed, width, letter, words):
    """
    The drawing: its size, and its layers from the lowest up, each with lines and texts.

    stations  {shape, length, from_start, from_end}: its length, and the pull leaving it either way
    held      what the drum holds back
    limit     the pull allowed, or None
    measured  {station, tension}: the pull at the head when it left that many stations behind, counted from the feed
    forecast  the same for what is still to come, from where the head is now; with it the other way is not drawn
    feed      `start` or `end`: the way that is drawn strong, and that was measured
    width     of the drawing, in the unit that `letter`, the height of its letters, has too
    words     {limit, start, end, pull, length}: what stands beside the limit and under the two ends, and the units in
              which pulls and lengths are given and drawn

    A line is {kind, d}, its path; a text is {kind, x, y, side, words}, `side` being where it is held.
    """
    length = 0
    highest = max(held, 0.001)
    for station in stations:
        length = length + station["length"]
        if feed == "start" or len(forecast) == 0:
            highest = max(highest, station["from_start"])
        if feed == "end" or len(forecast) == 0:
            highest = max(highest, station["from_end"])
    for pull in measured:
        highest = max(highest, pull["tension"])
    for pull in forecast:
        highest = max(highest, pull["tension"])
    # A limit far above the pull would press it flat: then it stands above a break in the scale.
    broken = limit is not None and limit > 2.5 * highest
    if limit is not None and not broken:
        highest = max(highest, limit)
    rise = _step(highest, 4)
    top = ceil(highest / rise - 1e-9) * rise

    decimals = len(plain_text(rise, 3, "nearest")) - len(plain_text(floor(rise), 9, "nearest"))
    figures = max(3, decimals + len(plain_text(floor(top), 9, "nearest")))
    left = (0.6 * figures + 0.6) * letter
    right = width - letter
    upper = letter * (3.4 if broken else 2.2)
    ground = upper + max(letter * 8, (right - left) * 0.5)
    frame = {
        "letter": letter,
        "left": left,
        "right": right,
        "upper": upper,
        "ground": ground,
        "across": (right - left) / length,
        "up": (ground - upper) / top,
    }
    return {
        "width": width,
        "height": ground + letter * 3.2,
        "layers": [
            _bends(stations, frame),
            _scale_up(top, rise, words, frame),
            _scale_along(length, words, frame),
            _pulls(stations, held, forecast, feed, frame),
            _limit(limit, broken, words, frame),
            _measured(stations, measured, feed, frame),
        ],
    }


def _bends(stations, frame):
    """A band from top to bottom where each bend lies, never too narrow to be seen."""
    lines = []
    begun = 0
    for station in stations:
        if station["shape"] != "straight":
            wide = max(station["length"] * frame["across"], 3)
            x = frame["left"] + (begun + station["length"] / 2) * frame["across"] - wide / 2
            path = "M" + _point(x, frame["upper"]) + "h" + _place(wide) + "V" + _place(frame["ground"]) + "h-" + _place(wide) + "z"
            lines.append({"kind": "bend", "d": path})
        begun = begun + station["length"]
    return {"lines": lines, "texts": []}


def _scale_up(top, rise, words, frame):
    """The pull, up the left side."""
    lines = []
    texts = []
    x = _place(frame["left"] - frame["letter"] * 0.5)
    for i in range(0, floor(top / rise + 1.5)):
        y = frame["ground"] - i * rise * frame["up"]
        if i > 0:
            lines.append({"kind": "grid", "d": "M" + _point(frame["left"], y) + "H" + _place(frame["right"])})
        number = plain_text(i * rise, 3, "nearest")
        texts.append({"kind": "number", "x": x, "y": _place(y + frame["letter"] * 0.35), "side": "end", "words": number})
    texts.append({"kind": "measure", "x": x, "y": _place(frame["upper"] - frame["letter"] * 0.7), "side": "end", "words": words["pull"]})
    return {"lines": lines, "texts": texts}


def _scale_along(length, words, frame):
    """The length along the route, and which end is which."""
    letter = frame["letter"]
    ground = frame["ground"]
    lines = []
    lines.append({"kind": "axis", "d": "M" + _point(frame["left"], frame["upper"]) + "V" + _place(ground) + "H" + _place(frame["right"])})
    texts = []
    stride = _step(length, max(1, floor((frame["right"] - frame["left"]) / (letter * 4))))
    for i in range(0, floor(length / stride + 1 + 1e-9)):
        x = frame["left"] + i * stride * frame["across"]
        lines.append({"kind": "axis", "d": "M" + _point(x, ground) + "v" + _place(letter * 0.35)})
        number = plain_text(i * stride, 4, "nearest")
        texts.append({"kind": "number", "x": _place(x), "y": _place(ground + letter * 1.4), "side": "middle", "words": number})
    y = _place(ground + letter * 2.8)
    texts.append({"kind": "end", "x": _place(frame["left"]), "y": y, "side": "start", "words": words["start"]})
    texts.append({"kind": "measure", "x": _place((frame["left"] + frame["right"]) / 2), "y": y, "side": "middle", "words": words["length"]})
    texts.append({"kind": "end", "x": _place(frame["right"]), "y": y, "side": "end", "words": words["end"]})
    return {"lines": lines, "texts": texts}


def _pulls(stations, held, forecast, feed, frame):
    """The pull from either end, or what is still to come of one; a planned line sets out from what the drum holds back."""
    from_start = "M" + _point(frame["left"], _height(held, frame))
    from_end = "M"
    begun = 0
    for station in stations:
        near = frame["left"] + begun * frame["across"]
        begun = begun + station["length"]
        far = frame["left"] + begun * frame["across"]
        from_start = from_start + "L" + _point(far, _height(station["from_start"], frame))
        from_end = from_end + _point(near, _height(station["from_end"], frame)) + "L"
    from_end = from_end + _point(frame["right"], _height(held, frame))
    lines = []
    if len(forecast) == 0:
        lines.append({"kind": "other", "d": from_end if feed == "start" else from_start})
    lines.append({"kind": "chosen", "d": from_start if feed == "start" else from_end})
    path = "M"
    for pull in forecast:
        x = frame["left"] + _passed(stations, pull["station"], feed) * frame["across"]
        path = path + ("" if path == "M" else "L") + _point(x, _height(pull["tension"], frame))
    if len(forecast) > 1:
        lines.append({"kind": "forecast", "d": path})
    return {"lines": lines, "texts": []}


def _limit(limit, broken, words, frame):
    """What is allowed, right across; the axis is broken below it where it lies far above the pull."""
    lines = []
    texts = []
    if limit is not None:
        letter = frame["letter"]
        y = letter * 1.8 if broken else _height(limit, frame)
        if broken:
            tooth = "l" + _place(letter * 0.4) + " -" + _place(letter * 0.2)
            back = "l-" + _place(letter * 0.8) + " -" + _place(letter * 0.4)
            path = "M" + _point(frame["left"], frame["upper"]) + "v-" + _place(letter * 0.3) + tooth + back + tooth + "V" + _place(y)
            lines.append({"kind": "axis", "d": path})
        lines.append({"kind": "limit", "d": "M" + _point(frame["left"], y) + "H" + _place(frame["right"])})
        texts.append({"kind": "limit", "x": _place(frame["right"]), "y": _place(y - letter * 0.5), "side": "end", "words": words["limit"]})
    return {"lines": lines, "texts": texts}


def _measured(stations, measured, feed, frame):
    """A ring for each pull that was measured, where the head was then."""
    lines = []
    size = frame["letter"] * 0.4
    turn = "a" + _place(size) + " " + _place(size) + " 0 1 0 "
    for pull in measured:
        x = frame["left"] + _passed(stations, pull["station"], feed) * frame["across"] - size
        y = _height(pull["tension"], frame)
        path = "M" + _point(x, y) + turn + _place(2 * size) + " 0" + turn + "-" + _place(2 * size) + " 0z"
        lines.append({"kind": "measured", "d": path})
    return {"lines": lines, "texts": []}


def _passed(stations, count, feed):
    """How far along the route the head stands when it has left that many stations behind."""
    along = 0
    for i in range(0, len(stations)):
        behind = i < count if feed == "start" else i < len(stations) - count
        if behind:
            along = along + stations[i]["length"]
    return along


def _height(tension, frame):
    return frame["ground"] - tension * frame["up"]


def _step(span, most):
    """The smallest of 1, 2, 5, 10, 20 … that cuts a span into so many parts at most."""
    power = 0.001
    for _ in range(0, 12):
        if span <= power * most:
            return power
        if span <= 2 * power * most:
            return 2 * power
        if span <= 5 * power * most:
            return 5 * power
        power = power * 10
    return power


def _place(number):
    """A place in the drawing to four figures; nothing in it lies below zero."""
    return plain_text(max(number, 0), 4, "nearest")


def _point(x, y):
    return _place(x) + " " + _place(y)
