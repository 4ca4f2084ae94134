"""Where boxes have their ink, and how far a band of the page is free."""

import pytest

from labelkit.printing.boxes import Bar, Code, Symbol
from labelkit.printing.extents import Extent, extent_of, left_limit


def test_a_code_is_its_modules_without_the_quiet_zone() -> None:
    at = extent_of(Code(10, 20, 0.5, "X", 21))
    assert at == Extent(10, 20, 20.5, 30.5)


def test_a_symbol_is_its_diamond_and_the_keyline_about_it() -> None:
    # 1.6 % of the tip-to-tip width, 0.16 mm thick at 10 mm: print specification, 7.
    bare = extent_of(Symbol(0, 0, 10, "GHS05", keyline=False))
    edged = extent_of(Symbol(0, 0, 10, "GHS05"))
    assert bare.right == pytest.approx(14.142, abs=0.001)
    assert edged.right - bare.right == pytest.approx(0.226, abs=0.001)


def test_boxes_that_share_an_edge_do_not_overlap() -> None:
    one, other = Extent(0, 0, 10, 10), Extent(10, 0, 20, 10)
    assert not one.overlaps(other)
    assert one.overlaps(Extent(9.9, 0, 20, 10))
    assert not one.overlaps(Extent(9.9, 0, 20, 10), spare=0.1)


def test_a_band_is_free_to_the_first_box_that_reaches_into_it() -> None:
    boxes = (Bar(50, 0, 5, 10), Bar(30, 20, 5, 10))
    assert left_limit(boxes, 5, 8, 100) == 50
    assert left_limit(boxes, 5, 21, 100) == 30
    assert left_limit(boxes, 10, 20, 100) == 100
