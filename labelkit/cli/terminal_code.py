"""A QR symbol on a terminal: black on white, two rows of modules to a line."""

from collections.abc import Iterator

from labelkit.printing.codes import QUIET_ZONE, encode

__all__ = ["terminal_code"]

# Colours are named, as a terminal may be dark: ISO/IEC 18004 wants dark on light.
_BLACK_ON_WHITE = "\x1b[38;2;0;0;0;48;2;255;255;255m"
_AS_BEFORE = "\x1b[0m"
_HALVES = {(0, 0): " ", (1, 0): "▀", (0, 1): "▄", (1, 1): "█"}


def terminal_code(payload: str) -> str:
    """The symbol of a payload, with its quiet zone, a line for two rows of modules."""
    rows = list(_rows(payload))
    rows += [[0] * len(rows[0])] * (len(rows) % 2)
    pairs = zip(rows[::2], rows[1::2], strict=True)
    lines = [
        "".join(_HALVES[up, down] for up, down in zip(*pair, strict=True))
        for pair in pairs
    ]
    return "\n".join(f"{_BLACK_ON_WHITE}{line}{_AS_BEFORE}" for line in lines)


def _rows(payload: str) -> Iterator[list[int]]:
    """Modules row by row, 1 where dark."""
    symbol = encode(payload)
    side = symbol.side + 2 * QUIET_ZONE
    grid = [[0] * side for _ in range(side)]
    for x, y, width, height in symbol.runs:
        for row in grid[QUIET_ZONE + y : QUIET_ZONE + y + height]:
            row[QUIET_ZONE + x : QUIET_ZONE + x + width] = [1] * width
    yield from grid
