"""QR symbols as rectangles, in modules from the top left (ISO/IEC 18004).

The codewords and their places come from ``qrcode``. The mask is chosen here: the symbol
is held as one whole number, a bit a module, so that all eight masks are scored with
shifts and counts of bits.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from labelkit.errors import BadInput

__all__ = [
    "MODULE_PT",
    "QUIET_ZONE",
    "CodeMatrix",
    "Run",
    "encode",
    "fits",
    "is_alphanumeric",
    "smallest_version",
]

MODULE_PT = 1.2  # five dots at 300 dpi, ten at 600
QUIET_ZONE = 4  # modules on each side; ISO/IEC 18004:2015, 6.3.8

Run = tuple[int, int, int, int]  # x, y, width, height

_LARGEST = 40
_RISING = ("M", "Q", "H")
# ISO/IEC 18004:2015, table 5: what an alphanumeric symbol can hold.
_ALPHANUMERIC = re.compile(r"[0-9A-Z $%*+\-./:]*\Z")
# Table 3: bits of the character count, by mode, up to versions 9, 26 and 40.
_COUNT_BITS = {
    "numeric": (10, 12, 14),
    "alphanumeric": (9, 11, 13),
    "byte": (8, 16, 16),
}


@dataclass(frozen=True, slots=True)
class CodeMatrix:
    """A finished symbol.

    Attributes:
        side: modules along an edge, without the quiet zone.
        runs: dark rectangles (x, y, width, height) in modules, none overlapping.
        level: how much damage it survives, ``M``, ``Q`` or ``H``.
        version: 1 to 40.
        mask: 0 to 7.
    """

    side: int
    runs: tuple[Run, ...]
    level: str
    version: int
    mask: int


def is_alphanumeric(payload: str) -> bool:
    """Whether a payload keeps to the characters that take the least room."""
    return _ALPHANUMERIC.match(payload) is not None


def smallest_version(payload: str) -> int:
    """The smallest version for a payload at level M; its side is 17 + 4 times that.

    Raises:
        BadInput: no symbol is large enough.
    """
    for version in range(1, _LARGEST + 1):
        if _bits(payload, version) <= _capacity(version, "M"):
            return version
    raise BadInput(
        f"{len(payload)} characters are more than a QR symbol holds",
        place="code",
        remedy="Give it fewer words.",
    )


def fits(payload: str, max_version: int) -> bool:
    """Whether a payload fits a symbol of a version at level M."""
    return _bits(payload, max_version) <= _capacity(max_version, "M")


def _bits(payload: str, version: int) -> int:
    """Length of the data [bits]; ISO/IEC 18004:2015, 7.4.3 to 7.4.5."""
    if payload.isascii() and payload.isdigit():
        mode, data = "numeric", -(-len(payload) * 10 // 3)
    elif is_alphanumeric(payload):
        mode, data = "alphanumeric", -(-len(payload) * 11 // 2)
    else:
        mode, data = "byte", 8 * len(payload.encode())
    step = (version > 9) + (version > 26)
    return 4 + _COUNT_BITS[mode][step] + data


@cache
def _capacity(version: int, level: str) -> int:
    from qrcode.util import BIT_LIMIT_TABLE

    return int(BIT_LIMIT_TABLE[_constant(level)][version])


def _constant(level: str) -> int:
    from qrcode import constants

    return int(getattr(constants, f"ERROR_CORRECT_{level}"))


def encode(payload: str, *, mask: int | None = None) -> CodeMatrix:
    """The symbol of a payload: as few modules as level M allows, then a higher level.

    Args:
        payload: what a camera reads; upper case takes the least room.
        mask: 0 to 7; left out, the one with the lowest penalty.

    Raises:
        BadInput: no symbol is large enough.
    """
    version = smallest_version(payload)
    needed = _bits(payload, version)
    level = [lv for lv in _RISING if needed <= _capacity(version, lv)][-1]
    side = 17 + 4 * version
    (unmasked,) = _grids(payload, version, level, (0,))
    masked = [unmasked ^ patch for patch in _patches(version, level)]
    if mask is None:
        mask = min(range(8), key=lambda k: _penalty(masked[k], side))
    return CodeMatrix(side, tuple(_runs(masked[mask], side)), level, version, mask)


def _grids(payload: str, version: int, level: str, masks: Iterable[int]) -> list[int]:
    """A symbol as one number a mask; row r, column c is bit r * side + c."""
    symbol = _symbol(payload, version, level)
    grids = []
    for mask in masks:
        symbol.makeImpl(False, mask)
        bits = ["1" if dark else "0" for row in symbol.modules for dark in row]
        grids.append(int("".join(bits)[::-1], 2))
    return grids


def _symbol(payload: str, version: int, level: str) -> Any:
    from qrcode.main import QRCode

    symbol = QRCode(version, _constant(level), border=0)
    symbol.add_data(payload, optimize=0)
    return symbol


@cache
def _patches(version: int, level: str) -> tuple[int, ...]:
    """What turns a symbol of mask 0 into each mask, the same for every payload."""
    grids = _grids("0", version, level, range(8))
    return tuple(grids[0] ^ grid for grid in grids)


@cache
def _masks(side: int) -> tuple[int, int, int]:
    """All modules; those with a right-hand neighbour; those with ten of them."""
    every_row = sum(1 << side * row for row in range(side))
    return tuple(
        every_row * ((1 << width) - 1) for width in (side, side - 1, side - 10)
    )  # type: ignore[return-value]


def _penalty(grid: int, side: int) -> int:
    """How hard a symbol is to read; ISO/IEC 18004:2015, 7.8.3, table 11."""
    every, paired, windowed = _masks(side)
    across = ~(grid ^ grid >> 1) & paired
    down = ~(grid ^ grid >> side) & (every >> side)
    blocks = across & across >> side & down
    dark_percent = grid.bit_count() * 100 / (side * side)
    return (
        _long_runs(across, 1)
        + _long_runs(down, side)
        + 3 * blocks.bit_count()
        + 40 * _finder_like(grid, 1, every, windowed)
        + 40 * _finder_like(grid, side, every, every >> 10 * side)
        + 10 * int(abs(dark_percent - 50) / 5)
    )


def _long_runs(same: int, step: int) -> int:
    """Three points for five of a colour in a line, one for each further module."""
    pairs = same & same >> step
    fives = pairs & pairs >> 2 * step
    starts = fives & ~(fives << step)
    return fives.bit_count() + 2 * starts.bit_count()


def _finder_like(grid: int, step: int, every: int, windowed: int) -> int:
    """How often dark 1:1:3:1:1 stands before or after four light modules."""
    light = ~grid & every
    pairs = light & light >> step
    quiet = pairs & pairs >> 2 * step
    core = grid & light >> step & grid >> 2 * step & grid >> 3 * step
    core &= grid >> 4 * step & light >> 5 * step & grid >> 6 * step
    before = core >> 4 * step & quiet & windowed
    after = core & quiet >> 7 * step & windowed
    return before.bit_count() + after.bit_count()


def _runs(grid: int, side: int) -> Iterator[Run]:
    """Dark runs along the rows, joined downwards where a run repeats."""
    growing: dict[tuple[int, int], int] = {}
    bits = f"{grid:0{side * side}b}"[::-1]
    for y in range(side):
        row = bits[y * side : (y + 1) * side]
        spans = [match.span() for match in _DARK.finditer(row)]
        still = {span: growing.pop(span, y) for span in spans}
        for (x, end), top in growing.items():
            yield x, top, end - x, y - top
        growing = still
    for (x, end), top in growing.items():
        yield x, top, end - x, side - top


_DARK = re.compile("1+")
