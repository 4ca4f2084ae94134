"""Pictograms side by side or one under another, each with its word under its tip."""

from math import sqrt

from msgspec import Struct

from labelkit.mixing.words import Pictogram
from labelkit.printing.boxes import Box, Symbol, Text
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm, width_mm
from labelkit.printing.pictograms import ALT_TEXTS
from labelkit.printing.typeset import DESCENT, one_line

__all__ = ["SymbolStyle", "diamond_mm", "place_symbols", "symbols_size"]

_EDGE_SHARE = 0.016  # of the diamond, that a keyline stands out on each side
_APART = 0.4  # white between two pictograms [mm]
_WORD_OFF = 0.55  # from the tip to its word [mm]
_WHITE_OVER_WORD = 0.19  # of that, under the keyline of a large pictogram [mm]
_UNDER_WORD = 0.6  # white under a word, before the next pictogram [mm]
_FLOOR_PT = 6.6


class SymbolStyle(Struct, frozen=True):
    """How pictograms are drawn: frame ``red`` or ``black``, keyline, word size [pt]."""

    frame: str
    keyline: bool
    word_pt: float


def diamond_mm(side: float) -> float:
    """From tip to tip of a pictogram [mm]."""
    return side * sqrt(2)


def _word_off(side: float) -> float:
    """From the tip to the capitals of its word [mm]."""
    return max(_WORD_OFF, diamond_mm(side) * _EDGE_SHARE + _WHITE_OVER_WORD)


def _under_word(side: float, word_pt: float) -> float:
    """From a word's baseline to the next tip: descenders, white, keyline [mm]."""
    edge = diamond_mm(side) * _EDGE_SHARE
    return DESCENT * word_pt * MM_PER_PT + _UNDER_WORD + edge


def _across(side: float) -> float:
    """The same with its keyline [mm]."""
    return diamond_mm(side) * (1 + 2 * _EDGE_SHARE)


def _word_size(pictograms: tuple[Pictogram, ...], side: float, wanted: float) -> float:
    """The words' size [pt]: not wider than their diamond, never under the floor."""
    wide = max(width_mm(item.word, "semibold", wanted) for item in pictograms)
    if wide <= _across(side):
        return max(_FLOOR_PT, wanted)
    return max(_FLOOR_PT, wanted * _across(side) / wide)


def symbols_size(
    pictograms: tuple[Pictogram, ...],
    side: float,
    style: SymbolStyle,
    *,
    stacked: bool = False,
) -> tuple[float, float]:
    """Width with their edges, height from the first tip to the last word [mm]."""
    if not pictograms:
        return 0.0, 0.0
    word_pt = _word_size(pictograms, side, style.word_pt)
    words = [width_mm(item.word, "semibold", word_pt) for item in pictograms]
    cells = [max(_across(side), word) for word in words]
    one = diamond_mm(side) + _word_off(side) + cap_height_mm(word_pt)
    count = len(pictograms)
    if stacked:
        return max(cells), count * one + (count - 1) * _under_word(side, word_pt)
    return sum(cells) + (count - 1) * _APART, one


def place_symbols(
    pictograms: tuple[Pictogram, ...],
    side: float,
    style: SymbolStyle,
    *,
    x: float,
    y: float,
    stacked: bool = False,
) -> tuple[Box, ...]:
    """The group from its top left corner [mm]."""
    if not pictograms:
        return ()
    word_pt = _word_size(pictograms, side, style.word_pt)
    wide = symbols_size(pictograms, side, style, stacked=True)[0]
    high = diamond_mm(side) + _word_off(side) + cap_height_mm(word_pt)
    high += _under_word(side, word_pt)
    boxes: list[Box] = []
    for item in pictograms:
        cell = max(_across(side), width_mm(item.word, "semibold", word_pt))
        middle = x + (wide if stacked else cell) / 2
        boxes += _one(item, side, style, middle, y, word_pt)
        x, y = (x, y + high) if stacked else (x + cell + _APART, y)
    return tuple(boxes)


def _one(
    item: Pictogram,
    side: float,
    style: SymbolStyle,
    middle: float,
    top: float,
    word_pt: float,
) -> tuple[Symbol, Text]:
    tips = diamond_mm(side)
    symbol = Symbol(
        middle - tips / 2, top, side, item.code,
        style.frame, style.keyline, ALT_TEXTS.get(item.code, item.code),
    )  # fmt: skip
    word = one_line(
        "pictogram word",
        ((item.word, "semibold", word_pt),),
        x=middle,
        baseline=top + diamond_mm(side) + _word_off(side) + cap_height_mm(word_pt),
        align="middle",
    )
    return symbol, word
