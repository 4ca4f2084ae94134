"""Pictograms in a row or a stack, each over its word."""

from itertools import pairwise

import pytest

from labelkit.mixing.words import Pictogram
from labelkit.printing.boxes import Symbol, Text
from labelkit.printing.extents import extent_of
from labelkit.printing.symbols import (
    SymbolStyle,
    diamond_mm,
    place_symbols,
    symbols_size,
)

STYLE = SymbolStyle("red", keyline=True, word_pt=9)
THREE = (
    Pictogram("GHS05", "Corrosive"),
    Pictogram("GHS08", "Health hazard"),
    Pictogram("GHS09", "Environment"),
)


@pytest.mark.parametrize(
    ("side", "tips"),
    # Print specification, section 2: side x sqrt(2).
    [(10, 14.14), (13, 18.38), (16, 22.63), (23, 32.53), (32, 45.25), (46, 65.05)],
)
def test_a_diamond_is_as_wide_as_the_table_says(side: float, tips: float) -> None:
    assert diamond_mm(side) == pytest.approx(tips, abs=0.005)


@pytest.mark.parametrize("stacked", [False, True])
@pytest.mark.parametrize("side", [10, 16, 23, 32])
def test_a_group_takes_the_room_it_said_it_would(side: float, stacked: bool) -> None:
    wide, high = symbols_size(THREE, side, STYLE, stacked=stacked)
    boxes = place_symbols(THREE, side, STYLE, x=5, y=20, stacked=stacked)
    symbols = [extent_of(box) for box in boxes if isinstance(box, Symbol)]
    words = [box for box in boxes if isinstance(box, Text)]
    assert min(at.left for at in symbols) >= 5 - 1e-6
    assert max(at.right for at in symbols) <= 5 + wide + 1e-6
    assert words[-1].lines[0].y == pytest.approx(20 + high)
    for one, other in pairwise(symbols):
        assert not one.overlaps(other)


def test_a_word_is_no_wider_than_its_pictogram_nor_under_the_floor() -> None:
    boxes = place_symbols(THREE, 10, STYLE, x=0, y=0)
    sizes = {b.lines[0].pieces[0][2] for b in boxes if isinstance(b, Text)}
    assert all(6.6 <= size < 9 for size in sizes)


def test_every_symbol_says_what_it_is_to_a_reader_who_cannot_see_it() -> None:
    boxes = place_symbols(THREE, 10, STYLE, x=0, y=0)
    assert [box.says for box in boxes if isinstance(box, Symbol)] == [
        "Corrosion pictogram",
        "Health hazard pictogram",
        "Environment pictogram",
    ]


def test_no_pictograms_take_no_room() -> None:
    assert symbols_size((), 16, STYLE) == (0, 0)
    assert place_symbols((), 16, STYLE, x=0, y=0) == ()
