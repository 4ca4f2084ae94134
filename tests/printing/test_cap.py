"""Cap and dropper: what goes on the glass under a tag."""

from decimal import Decimal
from math import hypot

import pypdfium2
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.words import BottleText, PartMark
from labelkit.printing.boxes import Ring, Symbol
from labelkit.printing.fit import Placement, choose, fit
from labelkit.printing.layouts import built_in, layout_named
from labelkit.printing.pdf import draw
from labelkit.printing.said import missing
from tests.printing.label_texts import (
    BORATE,
    BROMIDE,
    CARBONATE,
    DEVELOPER,
    LOADS,
    PYROGALLOL,
    SILVER,
)
from tests.printing.placed import line_ink, lines_of, words_of


def placed(text: BottleText, layout: str) -> Placement:
    words = replace(text, volume_mL=Decimal(50))
    return fit(
        words, layout_named(layout), profile="room", mono=False, keyline=True
    )  # fmt: skip


def require_inside_the_ring(placement: Placement) -> None:
    (ring,) = [box for box in placement.page.boxes if isinstance(box, Ring)]
    middle = ring.x + ring.w / 2
    free = ring.w / 2 - ring.line
    for field, line in lines_of(placement.page):
        ink = line_ink(line)
        for x in (ink.left, ink.right):
            for y in (ink.top, line.y):
                assert hypot(x - middle, y - middle) <= free, field


@pytest.mark.parametrize("load", LOADS)
def test_a_cap_says_which_bottle_it_belongs_to(load: str) -> None:
    text = LOADS[load]
    placement = placed(text, "cap")
    told = words_of(placement.page)
    assert text.name in told
    assert text.number in told
    assert not placement.by_itself
    require_inside_the_ring(placement)


def test_a_cap_is_drawn_as_it_was_designed() -> None:
    # 24 across, ring 0.7 at radius 11.4, name 11.3, strength 8, number 6.6:
    # design, print-spec section 8.
    page = placed(SILVER, "cap").page
    (ring,) = [box for box in page.boxes if isinstance(box, Ring)]
    assert (page.width, page.height, ring.line) == (24, 24, 0.7)
    assert (ring.w - ring.line) / 2 == pytest.approx(11.4)
    sizes = {field: line.pieces[0][2] for field, line in lines_of(page)}
    assert sizes == {"name": 11.3, "strength": 8, "number": 6.6}
    assert words_of(page) == "Silver nitrate 10 % w/v AG2N-6TXM-7"


def test_a_part_of_a_set_has_its_mark_on_the_cap() -> None:
    for text in (PYROGALLOL, CARBONATE):
        page = placed(text, "cap").page
        assert any(field == "part" for field, _ in lines_of(page))
    text = replace(CARBONATE, name="Carbonate accelerator")
    assert "Carbonate accelerator B" in words_of(placed(text, "cap").page)


def test_a_name_too_long_for_a_cap_is_refused() -> None:
    text = replace(SILVER, name="Gold chloride toner with thiourea")
    with pytest.raises(Misfit, match=r"layout cap: .* too long for a cap of 23\.5 mm"):
        placed(text, "cap")


def placed_or_refused(text: BottleText) -> Placement | None:
    """The cap, or None where the name is too long for one."""
    try:
        return placed(text, "cap")
    except Misfit as refused:
        told = str(refused)
    assert "too long for a cap" in told
    return None


NAMES = st.lists(
    st.text("abcdegimnoprstuyAMWQ", min_size=1, max_size=9), min_size=1, max_size=3
).map(" ".join)


@settings(max_examples=60, deadline=None)
@given(NAMES, st.sampled_from(["", "A", "B", "C"]), st.sampled_from([(), ("5 g/L",)]))
def test_whatever_stands_on_a_cap_stands_inside_its_ring(
    name: str, letter: str, strength: tuple[str, ...]
) -> None:
    part = PartMark(letter) if letter else None
    text = replace(BORATE, name=name, part=part, strength=strength)
    placement = placed_or_refused(text)
    if placement is None:
        return
    require_inside_the_ring(placement)
    told = words_of(placement.page)
    assert name in told
    assert letter in told
    assert min(line.pieces[0][2] for _, line in lines_of(placement.page)) >= 6.6


@pytest.mark.parametrize("text", [SILVER, BORATE, PYROGALLOL, CARBONATE, DEVELOPER])
def test_the_glass_under_a_tag_is_named_and_warns(text: BottleText) -> None:
    placement = placed(text, "dropper")
    told = words_of(placement.page)
    for words in (text.name, text.number, text.hazard.signal, "DO NOT DRINK",
                  text.emergency):  # fmt: skip
        assert words in told
    symbols = [box for box in placement.page.boxes if isinstance(box, Symbol)]
    assert [s.code for s in symbols] == [p.code for p in text.hazard.pictograms]
    assert min(symbol.side for symbol in symbols) >= 10
    assert not placement.by_itself


def test_a_dropper_without_a_class_is_a_label_without_headline() -> None:
    # Fits with a foot of 9 pt: design, print-spec section 5.
    placement = placed(BROMIDE, "dropper")
    assert placement.by_itself
    told = words_of(placement.page)
    assert BROMIDE.headline.text not in told
    for words in (BROMIDE.name, BROMIDE.number, "100 g/L, 10 % w/v", BROMIDE.discard,
                  "This does not mean safe.", BROMIDE.made, BROMIDE.aid):  # fmt: skip
        assert words in told
    sizes = {field: line.pieces[0][2] for field, line in lines_of(placement.page)}
    assert sizes["do-not-drink"] == 9
    assert sizes["none-reached"] == 6.6


def test_neither_is_taken_without_being_named() -> None:
    named = {layout.name for layout in built_in() if layout.waits_for_its_name}
    assert named == {"cap", "dropper", "pair"}
    for text in (BROMIDE, SILVER):
        for mL in (1, 50, 125):
            words = replace(text, volume_mL=Decimal(mL))
            assert choose(words, (), "room").name not in named


def test_what_is_missing_on_cap_and_dropper_is_found_out() -> None:
    text = replace(SILVER, volume_mL=Decimal(50))
    cap, dropper = placed(text, "cap").page, placed(text, "dropper").page
    other = replace(text, name="Other", number="0000-0000-0")
    assert missing(other, cap, "cap") == ["0000-0000-0", "Other"]
    warned = replace(text, hazard=replace(BORATE.hazard, signal="WARNING"))
    assert missing(warned, dropper, "dropper") == ["GHS08", "WARNING"]


def test_the_code_of_a_dropper_reads_back_at_150_dpi() -> None:
    # Acceptance: design, print-spec section 6.
    pdf = draw([placed(SILVER, "dropper").page], title="x", author="x", subject="x")
    image = pypdfium2.PdfDocument(pdf)[0].render(scale=150 / 72).to_pil()
    (found,) = zxingcpp.read_barcodes(image.convert("L"))
    assert found.text == SILVER.code
