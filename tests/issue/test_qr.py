"""The QR code in the terminal, read back from what is drawn."""

import segno

from builder.issue.qr import terminal_qr

TEXT = "http://192.168.1.20:8081/"
HALVES = {" ": (0, 0), "▀": (1, 0), "▄": (0, 1), "█": (1, 1)}


def expected_rows() -> list[list[int]]:
    """The code itself with four modules of clear paper around it (ISO/IEC 18004)."""
    return [list(row) for row in segno.make(TEXT, error="m", micro=False).matrix_iter(border=4)]


def test_half_blocks_draw_the_code():
    """Each character stands for two modules, one above the other."""
    lines = terminal_qr(TEXT, "utf-8", colours=True).splitlines()
    drawn = []
    for line in lines:
        pairs = [HALVES[sign] for sign in line.removeprefix("\033[30;107m").removesuffix("\033[0m")]
        drawn += [[upper for upper, _ in pairs], [lower for _, lower in pairs]]
    rows = expected_rows()
    assert rows == drawn[: len(rows)]
    assert not any(map(any, drawn[len(rows) :]))


def test_window_without_block_signs_gets_coloured_cells():
    """A Windows code page without block characters still shows the code."""
    drawn = terminal_qr(TEXT, "cp1252", colours=True)
    drawn.encode("cp1252")
    rows = [
        [int(cell == "\033[40m") for cell in line.removesuffix("\033[0m").split("  ")[:-1]]
        for line in drawn.splitlines()
    ]
    assert expected_rows() == rows


def test_window_without_colours_gets_no_code():
    """Black on black reads nowhere: nothing is drawn, and the caller says so."""
    assert terminal_qr(TEXT, "utf-8", colours=False) is None


def test_unknown_encoding_counts_as_one_without_block_signs():
    """An encoding that Python does not know is not trusted with them."""
    assert terminal_qr(TEXT, "x-unheard-of", colours=True) == terminal_qr(TEXT, None, colours=True)
    assert "█" not in terminal_qr(TEXT, None, colours=True)
