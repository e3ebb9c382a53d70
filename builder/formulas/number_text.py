"""How a number is shown: significant figures, rounded to the safe side, the same text on paper and phone."""

from builder.formulas.mathematics import cannot_tell, ceil, floor


def number_text(number, figures, side):
    """
    A number as plain decimals, such as `9.22` or `12400`, rounded `up`, `down` or to the `nearest`.

    The number is in the unit that it is shown in; figures are significant figures, 0 for a whole
    number. Up is towards greater numbers, below zero too. A number within a billionth of the
    figure that is shown counts as that figure, so that arithmetic noise never moves a limit by a
    whole step. Anything smaller than a million-millionth is shown as 0.
    """
    return _written(number, figures, side, False)


def plain_text(number, figures, side):
    """As number_text, without zeros that only fill the figures: `46` and not `46.0000`."""
    return _written(number, figures, side, True)


def _written(number, figures, side, plain):
    size = abs(number)
    # Neither a number nor an infinity is smaller than this; both are refused here.
    if not (size <= 1e300):
        cannot_tell("A number is missing where one should be shown.")
    if size < 1e-12:
        return "0"
    exponent = _exponent(size)
    decimals = 0
    if figures > 0:
        decimals = figures - 1 - exponent
    elif exponent > 14:
        decimals = 14 - exponent
    scaled = size * _power_of_ten(decimals) if decimals > 0 else size / _power_of_ten(-decimals)
    whole = _rounded(scaled, side, number < 0)
    # 9.996 to three figures is 10.0 and not 10.00.
    if figures > 0 and whole >= _power_of_ten(figures):
        whole = whole / 10
        decimals = decimals - 1
    if plain:
        for i in range(0, 20):
            if decimals > 0 and floor(whole / 10) * 10 == whole:
                whole = whole / 10
                decimals = decimals - 1
    text = _placed(str(floor(whole)), decimals)
    if number < 0 and whole > 0:
        return "−" + text
    return text


def _exponent(size):
    """The power of ten of the first figure."""
    power = 1.0
    if size >= 1:
        for i in range(0, 301):
            if size < power * 10.0:
                return i
            power = power * 10.0
        return 300
    for i in range(1, 13):
        power = power * 10.0
        if size * power >= 1:
            return -i
    return -13


def _power_of_ten(exponent):
    power = 1.0
    for i in range(0, exponent):
        power = power * 10.0
    return power


def _rounded(scaled, side, negative):
    nearest = floor(scaled + 0.5)
    if abs(scaled - nearest) <= 1e-9 * max(scaled, 1):
        return nearest
    if side == "nearest":
        # Halves go away from zero, noise below a half too.
        return floor(scaled + 0.5 + 1e-9 * scaled)
    outwards = side == "up"
    if negative:
        outwards = not outwards
    return ceil(scaled) if outwards else floor(scaled)


def _placed(digits, decimals):
    """Digits with their decimal point, or with the zeros that stand before it."""
    if decimals <= 0:
        for i in range(0, -decimals):
            digits = digits + "0"
        return digits
    for i in range(len(digits), decimals + 1):
        digits = "0" + digits
    text = ""
    for i in range(0, len(digits)):
        if i == len(digits) - decimals:
            text = text + "."
        text = text + digits[i]
    return text
