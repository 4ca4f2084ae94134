"""QR symbols as rectangles, in modules from the top left (ISO/IEC 18004).

``qrcode`` encodes each payload and draws the fixed patterns and masks, once for each
kind of symbol. Its own search for the best of the eight masks takes six times as long
as the encoding. So a symbol is held here as one whole number, a bit a module: its words
are put into place at once, and all masks are scored with shifts and counts of bits.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from functools import cache, lru_cache
from math import ceil
from operator import itemgetter
from typing import Any

from msgspec import Struct

from labelkit.errors import BadInput

__all__ = ["MODULE_PT", "QUIET_ZONE", "CodeMatrix", "Run", "encode", "smallest_version"]

MODULE_PT = 1.2  # five dots at 300 dpi, ten at 600
QUIET_ZONE = 4  # modules on each side; ISO/IEC 18004:2015, 6.3.8

Run = tuple[int, int, int, int]  # x, y, width, height

_LARGEST = 40
_RISING = ("M", "Q", "H")
_DARK = re.compile("1+")


class CodeMatrix(Struct, frozen=True, gc=False):
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


@lru_cache(maxsize=1024)
def smallest_version(payload: str) -> int:
    """The smallest version for a payload at level M; its side is 17 + 4 times that.

    Raises:
        BadInput: no symbol is large enough.
    """
    for version in range(1, _LARGEST + 1):
        if _holds(version, "M", payload):
            return version
    raise BadInput(
        f"{len(payload)} characters are more than a QR symbol holds",
        place="code",
        remedy="Give it fewer words.",
    )


def encode(payload: str, *, mask: int | None = None) -> CodeMatrix:
    """The symbol of a payload: as few modules as level M allows, then a higher level.

    Args:
        payload: what a camera reads; upper case takes the least room.
        mask: 0 to 7; left out, the one with the lowest penalty.

    Raises:
        BadInput: no symbol is large enough.
    """
    from qrcode.util import QRData, create_data

    version = smallest_version(payload)
    level = [level for level in _RISING if _holds(version, level, payload)][-1]
    side = 17 + 4 * version
    words = create_data(version, _constant(level), [QRData(payload)])
    kind = _kind(version, level)
    unmasked = kind.with_words(bytes(words))
    masked = [unmasked ^ patch for patch in kind.patches]
    if mask is None:
        mask = min(range(8), key=lambda k: _penalty(masked[k], side))
    return CodeMatrix(side, _runs(masked[mask], side), level, version, mask)


def _holds(version: int, level: str, payload: str) -> bool:
    mode, length = _written(payload)
    return length <= _room(version, level, mode)


@cache
def _room(version: int, level: str, mode: int) -> int:
    """How long a payload may be without its header [bits]; 7.4.3 to 7.4.5."""
    from qrcode import util

    header = 4 + util.length_in_bits(mode, version)
    return int(util.BIT_LIMIT_TABLE[_constant(level)][version] - header)


@lru_cache(maxsize=1024)
def _written(payload: str) -> tuple[int, int]:
    """The mode that a payload is written in, and its length without header [bits]."""
    from qrcode import util

    data = util.QRData(payload)
    sizes = {util.MODE_NUMBER: Fraction(10, 3), util.MODE_ALPHA_NUM: Fraction(11, 2)}
    return data.mode, ceil(len(data) * sizes.get(data.mode, 8))


def _constant(level: str) -> int:
    from qrcode import constants

    return int(getattr(constants, f"ERROR_CORRECT_{level}"))


class _Kind(Struct, frozen=True, gc=False):
    """What all symbols of a version and level share.

    Attributes:
        empty: the symbol under mask 0 with no bit set.
        in_place: picks the bits of the words, one for every module from the last.
        patches: what turns mask 0 into each mask.
    """

    empty: int
    in_place: Callable[[str], Sequence[str]]
    patches: tuple[int, ...]

    def with_words(self, words: bytes) -> int:
        """The symbol under mask 0 that holds some codewords."""
        bits = f"{int.from_bytes(words):0{8 * len(words)}b}0"
        return self.empty ^ int("".join(self.in_place(bits)), 2)


@cache
def _kind(version: int, level: str) -> _Kind:
    from qrcode.base import rs_blocks
    from qrcode.main import QRCode

    words = sum(block.total_count for block in rs_blocks(version, _constant(level)))
    symbol = QRCode(version, _constant(level), border=0)
    empty, *masked = [_grid(symbol, bytes(words), mask) for mask in range(8)]
    full = _grid(symbol, b"\xff" * words, 0)
    in_place = _in_place(empty ^ full, 17 + 4 * version, 8 * words)
    return _Kind(empty, in_place, (0, *(empty ^ other for other in masked)))


def _grid(symbol: Any, words: bytes, mask: int) -> int:
    symbol.data_cache = words
    symbol.makeImpl(False, mask)
    bits = ["1" if dark else "0" for row in symbol.modules for dark in row]
    return int("".join(bits)[::-1], 2)


def _in_place(
    data_modules: int, side: int, bits: int
) -> Callable[[str], Sequence[str]]:
    """Picks from a text of bits, and a nought after it, what each module holds."""
    places = [module for module in _zigzag(side) if data_modules >> module & 1]
    holds = dict(zip(places, range(bits), strict=True))
    return itemgetter(*(holds.get(at, bits) for at in reversed(range(side * side))))


def _zigzag(side: int) -> Iterator[int]:
    """Pairs of columns from the right, up and down in turn; 7.7.3."""
    pairs = [*range(side - 1, 6, -2), 5, 3, 1]  # column 6 is a timing pattern
    for turn, right in enumerate(pairs):
        rows = range(side) if turn % 2 else reversed(range(side))
        for row in rows:
            yield row * side + right
            yield row * side + right - 1


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


def _runs(grid: int, side: int) -> tuple[Run, ...]:
    """Dark runs along the rows, joined downwards where a run repeats."""
    bits = f"{grid:0{side * side}b}"[::-1]
    rows = [bits[start : start + side] for start in range(0, side * side, side)]
    down = side + 1  # a light module ends each row
    runs = dict.fromkeys([run.span() for run in _DARK.finditer("0".join(rows))])
    found = []
    for start, end in runs:
        if (start - down, end - down) not in runs:
            high = 1
            while (start + high * down, end + high * down) in runs:
                high += 1
            found.append((start % down, start // down, end - start, high))
    return tuple(found)
