"""Every construct of the subset once, for both languages; no formula of the trade."""
# Each form is here because a formula may use it, also where another would be shorter.
# ruff: noqa: RUF021, SIM108, SIM201, B007

from builder.formulas.mathematics import (
    acos,
    asin,
    asinh,
    atan,
    cannot_tell,
    ceil,
    cos,
    cosh,
    exp,
    floor,
    log,
    pi,
    sin,
    sinh,
    sqrt,
    tan,
)


def arithmetic(x, y):
    total = x + y - x * y / (y + 0.5)
    total -= 2
    total *= 1.5
    total /= 4
    total += -x
    return [total, x**2, 2 ** (x / 3), (-x) ** 3, 1e-5 + 1e21, 10 ** 3]


def library(x, y):
    near = x / 10
    return [
        sqrt(x), exp(near), log(x), sin(x), cos(x), tan(x), asin(near), acos(near), atan(x), sinh(near), cosh(near), asinh(x),
        floor(x), ceil(x), floor(-x), ceil(-x), abs(-x), min(x, y), max(x, y, 3), pi,
    ]


def conditions(x, y):
    found = x > 1 and y > 1 or not x == y
    if found and x is not None:
        kind = "both"
    elif x < y <= 5:
        kind = "between"
    else:
        kind = "neither"
    chosen = x if found else y
    return [kind, chosen, found, x != y, 0 < x < 2 < 9, True, None]


def loops(x, y):
    rows = []
    for i in range(0, floor(x)):
        rows.append({"at": i, "half": i / 2})
        i = 100
    total = 0
    for row in rows:
        for j in range(1, 3):
            if j == 1:
                total = total + row["half"]
            else:
                total = total + j
    for i in range(5, 2):
        total = 1000
    last = 0
    if len(rows) > 0:
        last = rows[-1]["at"] + rows[len(rows) - 1]["at"]
    return [rows, total, last]


def texts(x, y):
    name = "row " + str(floor(x) + 1) + " of " + str(len([x, y]))
    letters = ""
    for i in range(0, len(name)):
        letters = name[i] + letters
    return [name, letters, "quote \" and Ω"]


def early(x, y):
    for i in range(0, 10):
        if i > x:
            return _doubled(i)
    return _doubled(y)


def refusing(x, y):
    if x > y:
        cannot_tell("The first is " + str(ceil(x)) + ", and that is too much.")
    _refuse_nothing(x)
    return x / (x - 1)


def _doubled(value):
    return value * 2


def _refuse_nothing(value):
    if value == 0:
        cannot_tell("Nothing can't be shared out.")
