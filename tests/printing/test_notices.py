"""UNKNOWN and WASTE: everything is said, nothing overlaps, nothing is clipped."""

from io import BytesIO
from itertools import pairwise

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from pypdf import PdfReader

from labelkit.errors import BadInput, Misfit
from labelkit.mixing.notices import NoticeText
from labelkit.mixing.waste import Ingredient
from labelkit.printing.boxes import Bar, Code, Frame, Page, Text
from labelkit.printing.extents import extent_of
from labelkit.printing.notices import place_notice
from labelkit.printing.notices_layout import notice_layout
from labelkit.printing.pdf import draw
from tests.printing.notice_texts import BARE, KNOWN, NOTICES, ROOM, unknown, waste
from tests.printing.placed import (
    inks,
    lines_of,
    overlaps,
    plain_spaces,
    white_lines_off_black,
    words_of,
)

FLOOR_PT = 6.6  # x-height of 1.2 mm, Regulation (EU) 2024/2865, up to half a litre
NEVER = "Do not open, smell, taste, pour out or throw away."
FIRST = "Swallowed: rinse mouth. In eyes: rinse with water for several minutes."
everywhere = pytest.mark.parametrize("text", NOTICES.values(), ids=NOTICES)


def placed(text: NoticeText) -> Page:
    return place_notice(text).page


def pdf_of(text: NoticeText) -> bytes:
    return draw([placed(text)], title=text.word, author="", subject="notice")


def ticks(page: Page) -> list[Frame]:
    return [b for b in page.boxes if isinstance(b, Frame) and b.field == "tick"]


def lines_to_write_on(page: Page) -> list[Bar]:
    return [b for b in page.boxes if isinstance(b, Bar) and b.field == "write-in"]


@everywhere
def test_nothing_stands_on_anything_else(text: NoticeText) -> None:
    assert overlaps(placed(text)) == []


@everywhere
def test_nothing_leaves_the_margin(text: NoticeText) -> None:
    page = placed(text)
    inside = [
        min(at.left, at.top) >= 3.6 - 0.05
        and at.right <= page.width - 3.6 + 0.05
        and at.bottom <= page.height - 3.6 + 0.05
        for name, at in inks(page) if not name.startswith("code")
    ]  # fmt: skip
    assert all(inside)
    assert len(inside) > 10


@everywhere
def test_the_quiet_zone_of_the_code_stays_on_the_label(text: NoticeText) -> None:
    page = placed(text)
    for box in page.boxes:
        if isinstance(box, Code):
            at, zone = extent_of(box), 4 * box.module
            assert at.left - zone >= 0
            assert at.right + zone <= page.width


@everywhere
def test_nothing_is_set_under_the_floor(text: NoticeText) -> None:
    sizes = [s for _, line in lines_of(placed(text)) for _, _, s in line.pieces]
    assert min(sizes) >= FLOOR_PT
    assert max(sizes) == 40


@everywhere
def test_it_ends_in_a_black_foot_that_says_do_not_drink(text: NoticeText) -> None:
    page = placed(text)
    assert white_lines_off_black(page) == []
    foot = next(box for box in page.boxes if isinstance(box, Bar) and box.grey == 1
                and box.field == "foot")  # fmt: skip
    assert (foot.y, foot.h) == (95.8, 5.6)
    assert "DO NOT DRINK Call" in words_of(page)


@everywhere
def test_a_stranger_reads_what_to_do_first(text: NoticeText) -> None:
    words = words_of(placed(text))
    assert FIRST in words
    assert "Call and read out this label." in words
    assert text.word in words


def test_unknown_says_what_must_not_be_done_and_what_becomes_of_it() -> None:
    words = words_of(placed(unknown(ROOM, **KNOWN)))
    told = [
        NEVER, "Found 2031-03-14", "by M. Osei", "Old writing says D 7", "Cap crust",
        "leaking", "swollen", "If ticked do not touch; tell", "Claim by 2031-04-14",
        "then to hazardous waste: the Tern Street waste shelf", "0NKN-4W88-2",
        "Tern Street Print Room.", "01632 960 118",
    ]  # fmt: skip
    assert [one for one in told if one not in words] == []


def test_what_nobody_gave_is_a_line_to_write_on() -> None:
    page = placed(unknown(BARE))
    long_ones = [line for line in lines_to_write_on(page) if line.w > 9]
    assert len(long_ones) == 7
    assert len(ticks(page)) == 3
    assert "where by looks like Old writing says" in words_of(page)


def test_the_lines_are_far_enough_apart_for_a_pen() -> None:
    # print-spec: 9 apart is kinder than 8.8
    downs = sorted({round(line.y, 2) for line in lines_to_write_on(placed(unknown()))})
    apart = [round(low - up, 2) for up, low in pairwise(downs)]
    assert len(downs) == 5
    assert min(apart) >= 9.0


def test_the_boxes_to_tick_take_a_pen() -> None:
    assert all(min(tick.w, tick.h) >= 4.5 for tick in ticks(placed(unknown())))


def test_without_a_number_to_call_there_is_white_to_write_it_in() -> None:
    page = placed(unknown(BARE))
    white = [b for b in page.boxes if isinstance(b, Bar) and b.grey == 0]
    assert [(b.field, b.w) for b in white] == [("emergency", 30.0)]


@pytest.mark.parametrize("key", ["where", "by", "looks", "says"])
def test_long_words_take_two_lines_and_then_are_refused(key: str) -> None:
    page = placed(unknown(ROOM, **{key: "seven word long text for it"}))
    assert "seven word long text for it" in words_of(page)
    with pytest.raises(Misfit, match="too long for two lines") as caught:
        place_notice(unknown(ROOM, **{key: "word " * 60}))
    assert caught.value.faults[0].remedy == "Write it shorter."
    assert "\n" not in str(caught.value)


def test_one_long_word_is_refused_and_not_clipped() -> None:
    with pytest.raises(Misfit, match="too long"):
        place_notice(unknown(ROOM, where="x" * 80))


def test_a_letter_without_a_glyph_is_named() -> None:
    with pytest.raises(BadInput, match="U\\+2603 SNOWMAN"):
        place_notice(unknown(ROOM, where="shelf \u2603"))


def test_a_long_room_and_place_give_way_and_are_told() -> None:
    wordy = replace(ROOM, room="Room " * 40, disposal="a place " * 20)
    placement = place_notice(unknown(wordy))
    assert len(placement.steps) == 2
    words = words_of(placement.page)
    assert "then to hazardous waste" in words
    assert FIRST in words


def test_an_address_too_long_for_its_place_is_refused() -> None:
    far = replace(
        ROOM, base_url="https://a-very-long-name-of-a-host.example.org/papers"
    )
    with pytest.raises(Misfit, match="the code of") as caught:
        place_notice(unknown(far))
    assert "base_url" in caught.value.faults[0].remedy


def test_waste_says_what_must_not_come_in_and_why() -> None:
    words = words_of(placed(NOTICES["waste-of-a-batch"]))
    assert "NEVER ADD acid (stop bath, vinegar): choking gas" in words
    assert "No other waste." in words
    assert "Treat as hazardous: not calculated." in words
    assert "When full: the Tern Street waste shelf." in words
    for term in ("Started", "Full", "Emptied by"):
        assert term in words


def test_what_nobody_knows_gets_the_general_things_and_a_line() -> None:
    words = words_of(placed(NOTICES["waste-in-own-words"]))
    assert "acid, household bleach, ammonia" in words
    assert "nor" in words.split()


def test_a_persons_own_things_stand_first() -> None:
    words = words_of(placed(NOTICES["waste-as-told"]))
    assert "NEVER ADD acid; bleach. No other waste." in words
    assert "Started 2031-03-14" in words
    assert "nor" not in words.split()


def test_the_least_grave_of_many_warnings_give_way() -> None:
    tags = frozenset({"acid", "cyanide-complex", "sulfide", "silver", "permanganate"})
    placement = place_notice(waste(Ingredient("sludge", (), tags)))
    assert placement.steps
    words = words_of(placement.page)
    assert "deadly gas" in words
    assert all(step.removeprefix("no room for ").strip("'") not in words
               for step in placement.steps)  # fmt: skip


def test_too_many_things_of_a_persons_own_are_refused() -> None:
    never = tuple(f"thing {n} that nobody may ever add to it" for n in range(30))
    with pytest.raises(Misfit, match="too long") as caught:
        place_notice(waste(Ingredient("used fixer"), never=never))
    assert caught.value.faults[0].remedy == "Use fewer words."


def test_a_layout_that_leaves_something_off_is_refused() -> None:
    whole = notice_layout("unknown")
    boxes = tuple(box for box in whole.boxes if box.kind != "lead")
    with pytest.raises(Misfit, match="it leaves off Do not open"):
        place_notice(unknown(), replace(whole, boxes=boxes))


@given(
    st.text(
        st.characters(codec="latin-1", categories=["L", "N", "P", "Zs"]), max_size=90
    )
)
def test_whatever_is_typed_is_printed_whole_or_refused(written: str) -> None:
    told = " ".join(written.split())
    try:
        page = placed(unknown(ROOM, where=told, says=told))
    except (BadInput, Misfit):
        return
    assert plain_spaces(told) in words_of(page)
    assert overlaps(page) == []


@everywhere
def test_the_file_says_all_of_it_in_order(text: NoticeText) -> None:
    reader = PdfReader(BytesIO(pdf_of(text)))
    extracted = " ".join(plain_spaces(reader.pages[0].extract_text()).split())
    order = [text.word, text.lead.split()[0], "Swallowed", "DO NOT DRINK"]
    at = [extracted.find(word) for word in order]
    assert -1 not in at
    assert at == sorted(at)


@everywhere
def test_the_file_is_tagged_and_the_same_every_time(text: NoticeText) -> None:
    first = pdf_of(text)
    assert first == pdf_of(text)
    assert b"/StructTreeRoot" in first
    assert b"/Marked true" in first


@pytest.mark.parametrize("dpi", [150, 203, 300])
def test_the_code_is_read_in_grey_and_in_red_light(dpi: int) -> None:
    document = pypdfium2.PdfDocument(pdf_of(NOTICES["unknown-known"]))
    picture = document[0].render(scale=dpi / 72).to_numpy()[:, :, :3]
    document.close()
    red, grey = picture[:, :, 2], picture.mean(axis=2).astype(np.uint8)
    address = "HTTPS://BOTTLES.EXAMPLE.ORG/B/0NKN-4W88-2"
    for channel in (red, grey):
        (code,) = zxingcpp.read_barcodes(np.ascontiguousarray(channel))
        assert code.text.startswith(address)


def test_no_word_is_hidden_in_a_picture_only() -> None:
    page = placed(NOTICES["waste-of-a-batch"])
    code = next(box for box in page.boxes if isinstance(box, Code))
    number = next(b for b in page.boxes if isinstance(b, Text) and b.field == "number")
    assert number.lines[0].pieces[0][0] == "7K3M-Q9TX-8"
    assert 0 < number.y - (code.y + code.module * code.modules) < 10
