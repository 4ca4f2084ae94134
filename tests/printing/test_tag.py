"""The tag: two leaves folded head to head, one hole, either warning by itself."""

from decimal import Decimal
from typing import Any

import pypdfium2
import pytest
import zxingcpp
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText, PartMark
from labelkit.printing.boxes import Bar, Page, Ring, Symbol, Text
from labelkit.printing.fit import Placement, choose, fit
from labelkit.printing.label import place_label
from labelkit.printing.layouts import layout_named
from labelkit.printing.leaves import apart, folded
from labelkit.printing.papers import Paper, Placed, ink_near_edge
from labelkit.printing.pdf import draw
from labelkit.printing.said import missing
from labelkit.printing.sheet_files import read_sheet
from labelkit.printing.sheets import impose
from tests.printing.label_texts import (
    BORATE,
    BROMIDE,
    CARBONATE,
    DEVELOPER,
    LOADS,
    NONE_REACHED,
    PYROGALLOL,
    SILVER,
)
from tests.printing.placed import inks, lines_of, words_of

DPI = 200
ROOM = Settings(profile="room")


def tagged(text: BottleText, mL: int = 50) -> Placement:
    words = replace(text, volume_mL=Decimal(mL))
    layout = layout_named("tag")
    return fit(words, layout, profile="room", mono=False, keyline=True)


def picture(pages: list[Page], dpi: int = DPI) -> Any:
    pdf = draw(pages, title="x", author="x", subject="bottle label")
    image = pypdfium2.PdfDocument(pdf)[0].render(scale=dpi / 72).to_pil()
    return image.convert("RGB")


def greys(image: Any) -> bytes:
    return bytes(image.convert("L").tobytes())


# Which loads a tag carries up to half a litre: design, print-spec section 5.
@pytest.mark.parametrize("load", ["one", "two", "five", "corr"])
def test_a_tag_carries_the_loads_that_were_measured_for_it(load: str) -> None:
    placement = tagged(LOADS[load])
    text = replace(LOADS[load], volume_mL=Decimal(50))
    assert placement.spare >= 0
    assert missing(text, placement.page) == []


@pytest.mark.parametrize(
    ("mL", "text", "layout"),
    [
        # Defaults: design, print-spec section 5.
        (1, SILVER, "tag"),
        (125, SILVER, "tag"),
        (126, SILVER, "tall"),
        (125, PYROGALLOL, "tag"),
        (126, PYROGALLOL, "wrap-low"),
        (125, DEVELOPER, "tag"),
        (125, BROMIDE, "small"),
        (10, BROMIDE, "small"),
    ],
)
def test_a_bottle_with_a_class_up_to_125_mL_gets_a_tag(
    mL: int, text: BottleText, layout: str
) -> None:
    words = replace(text, volume_mL=Decimal(mL))
    assert choose(words, (), "room").name == layout


def test_where_a_tag_does_not_carry_it_the_next_one_that_does_is_taken() -> None:
    more = (*SILVER.hazard.statements, *DEVELOPER.hazard.statements)
    hazard = replace(SILVER.hazard, statements=more)
    text = replace(SILVER, hazard=hazard, volume_mL=Decimal(50))
    with pytest.raises(Misfit, match=r"layout tag: 148 x 74 mm is .* too low"):
        tagged(text)
    assert choose(text, (), "room").name == "wrap"


@pytest.mark.parametrize("text", [SILVER, PYROGALLOL, CARBONATE, BORATE, DEVELOPER])
def test_either_leaf_warns_by_itself(text: BottleText) -> None:
    # Design, print-spec section 8: pair and tag.
    for leaf in apart(tagged(text).page):
        told = words_of(leaf)
        letter = text.part.letter if text.part else ""
        for words in (text.name, letter, text.number, text.hazard.signal):
            assert words in told
        assert "DO NOT DRINK" in told
        symbols = [box for box in leaf.boxes if isinstance(box, Symbol)]
        assert [s.code for s in symbols] == [p.code for p in text.hazard.pictograms]
        assert all(symbol.side >= 10 for symbol in symbols)


@pytest.mark.parametrize("text", [SILVER, PYROGALLOL, CARBONATE, BORATE, DEVELOPER])
def test_statements_and_what_belongs_with_them_stand_on_the_back(
    text: BottleText,
) -> None:
    # Together on one panel: Regulation (EC) No 1272/2008, Article 32.
    front, back = apart(tagged(text).page)
    fields = {"contains", "statements", "precautions", "first-words", "never-with"}
    assert fields.isdisjoint(field for field, _ in lines_of(front))
    assert {"statements", "precautions"} <= {field for field, _ in lines_of(back)}
    assert words_of(front).endswith("hazards on the back")


def test_the_hole_is_in_its_place_and_nothing_is_near_it() -> None:
    # 5 mm across at 37, 5.5 of either leaf, 9 mm free: design, print-spec section 8.
    page = tagged(PYROGALLOL).page
    holes = [box for box in page.boxes if isinstance(box, Ring)]
    middles = [(hole.x + hole.w / 2, hole.y + hole.h / 2) for hole in holes]
    assert middles == [(37, 5.5), (111, 5.5)]
    assert {hole.w for hole in holes} == {5}
    for x, y in middles:
        for name, ink in inks(page):
            dx = max(ink.left - x, 0, x - ink.right)
            dy = max(ink.top - y, 0, y - ink.bottom)
            assert name == "hole" or (dx**2 + dy**2) ** 0.5 >= 4.5, name


def test_the_back_is_printed_upside_down_above_the_front() -> None:
    page = tagged(SILVER).page
    assert [*page.flat] == [74, 148]
    flat = picture([replace(page, marks=())])
    upper = flat.crop((0, 0, flat.width, flat.height // 2)).rotate(180)
    lower = flat.crop((0, flat.height // 2, flat.width, flat.height))
    front, back = (picture([leaf]) for leaf in apart(page))
    for printed, alone in ((upper, back), (lower, front)):
        size = (148, 148)
        one, other = printed.resize(size), alone.resize(size)
        differing = sum(
            abs(a - b) > 96 for a, b in zip(greys(one), greys(other), strict=True)
        )
        assert differing < 0.01 * 148 * 148


def test_folded_both_holes_lie_on_one_another() -> None:
    page = tagged(SILVER).page
    front, back = page.leaves
    assert [leaf.turned for leaf in page.leaves] == [False, True]
    fold = front.to_y
    hole_y = 5.5
    below = front.to_y + hole_y - fold
    above = fold - (back.to_y + back.h - hole_y)
    assert below == above == hole_y
    marks = [mark for mark in page.marks if isinstance(mark, Bar)]
    assert {mark.y + mark.h / 2 for mark in marks} == {fold}
    assert min(mark.x for mark in marks) >= 3
    assert max(mark.x + mark.w for mark in marks) <= 71


@pytest.mark.parametrize("channel", ["grey", "R"])
@pytest.mark.parametrize("text", [SILVER, PYROGALLOL, CARBONATE, BORATE, DEVELOPER])
def test_the_code_of_a_tag_reads_back_at_150_dpi(
    text: BottleText, channel: str
) -> None:
    # Acceptance: design, print-spec section 6; red alone is what a safelight leaves.
    image = picture([tagged(text).page], dpi=150)
    seen = image.convert("L") if channel == "grey" else image.getchannel(channel)
    (found,) = zxingcpp.read_barcodes(seen)
    assert found.text == text.code


def test_a_tag_lies_on_the_sheet_of_the_wrap_and_its_ink_is_looked_at_there() -> None:
    page = tagged(SILVER).page
    (paper,) = impose([page] * 3, read_sheet("a4-148x74"))
    assert len(paper.placed) == 3
    assert all(placed.turned for placed in paper.placed)
    assert not ink_near_edge(paper)
    assert ink_near_edge(Paper(74, 148, (Placed(page),)))
    assert not ink_near_edge(Paper(84, 158, (Placed(page, 5, 5),)))
    corner = Page(148, 74, (Bar(140, 60, 4, 4),))
    # the lower right of the back comes to lie at the upper left of the flat
    assert ink_near_edge(Paper(100, 160, (Placed(folded(corner), -2, 6),)))
    assert not ink_near_edge(Paper(100, 160, (Placed(folded(corner), 6, 6),)))


def test_a_tag_may_be_named_for_a_bottle_without_a_class() -> None:
    page = tagged(BROMIDE).page
    front, back = apart(page)
    assert "more on the back" in words_of(front)
    assert NONE_REACHED[0].text in words_of(back)


def test_a_later_part_has_its_letter_in_the_small_block() -> None:
    text = replace(CARBONATE, part=PartMark("C", "A and B", "1 + 1 + 1"))
    _, back = apart(tagged(text).page)
    block = next(b for b in back.boxes if isinstance(b, Text) and b.field == "part")
    assert ["".join(p[0] for p in line.pieces) for line in block.lines] == ["C"]


def test_a_supplied_bottle_gets_its_maker_on_the_tag() -> None:
    text = replace(SILVER, supplier="Tern Street Print Room, Tern Street 4, 555 0100")
    placement = place_label(
        replace(text, volume_mL=Decimal(50)), layout=None, settings=ROOM
    )
    assert placement.layout == "tag"
    assert "Tern Street 4" in words_of(placement.page)
