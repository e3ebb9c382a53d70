"""
A QR code drawn in the terminal.

Paper colours are set by the drawing itself, so that it reads on dark and light terminals alike.
"""

from collections.abc import Iterator

import segno

_PAPER_AND_INK = "\033[30;107m"  # black on bright white
_WHITE_CELL, _BLACK_CELL = "\033[107m  ", "\033[40m  "
_PLAIN = "\033[0m"
# By (upper is dark, lower is dark): two modules in one character, which makes them square.
_HALVES = {(0, 0): " ", (1, 0): "▀", (0, 1): "▄", (1, 1): "█"}
# Modules of clear paper around the code; ISO/IEC 18004 asks for four.
_BORDER = 4


def terminal_qr(text: str, encoding: str | None, *, colours: bool) -> str | None:
    """
    The code as lines of text for a terminal of this encoding; None where it cannot be drawn.

    Without colours (a file, a pipe, a very old console) nothing would be sure to read: not drawn.
    """
    if not colours:
        return None
    rows = [bytes(row) for row in segno.make(text, error="m", micro=False).matrix_iter(border=_BORDER)]
    lines = _half_blocks(rows) if _can_print("".join(_HALVES.values()), encoding) else _cells(rows)
    return "\n".join(lines)


def _half_blocks(rows: list[bytes]) -> Iterator[str]:
    below = [*rows[1:], bytes(len(rows[0]))]
    for upper, lower in list(zip(rows, below, strict=True))[::2]:
        yield _PAPER_AND_INK + "".join(_HALVES[pair] for pair in zip(upper, lower, strict=True)) + _PLAIN


def _cells(rows: list[bytes]) -> Iterator[str]:
    for row in rows:
        yield "".join(_BLACK_CELL if dark else _WHITE_CELL for dark in row) + _PLAIN


def _can_print(signs: str, encoding: str | None) -> bool:
    try:
        signs.encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
