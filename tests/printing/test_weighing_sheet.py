"""Weighing-out sheets: every line to write on, page after page, nothing clipped."""

from io import BytesIO
from itertools import pairwise

import pypdf
import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput, Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.weighing_sheet import WeighingText
from labelkit.mixing.words import CardAmount, PartMark, Run
from labelkit.printing.boxes import Bar, Frame, Page, Symbol, Text
from labelkit.printing.pdf import draw
from labelkit.printing.weighing_sheet import place_weighing_sheet, weighing_layout
from tests.printing.card_texts import BLUEPRINT, DEVELOPER
from tests.printing.conftest import CheckGolden
from tests.printing.placed import (
    as_text,
    inks,
    lines_of,
    overlaps,
    plain_spaces,
    white_lines_off_black,
    words_of,
)
from tests.printing.sheet_texts import SHEET, with_steps

LEAST_PT = 9.0  # read on a bench beside the balance
LEAST_BY_FIELD = {"what": 11.3, "planned": 11.3, "caution": 11.3, "signal": 12}
ROOM_TO_WRITE_mm = 9.0  # print specification, Cards: write-in room above each line


def placed(text: WeighingText, settings: Settings | None = None) -> tuple[Page, ...]:
    return place_weighing_sheet(text, settings=settings or Settings())


def bars(page: Page, field: str) -> list[Bar]:
    return [b for b in page.boxes if isinstance(b, Bar) and b.field == field]


def require_sound(pages: tuple[Page, ...]) -> None:
    margin = weighing_layout().margin
    for page in pages:
        assert overlaps(page) == []
        assert white_lines_off_black(page) == []
        for name, ink in inks(page):
            assert ink.left >= margin - 0.3, name
            assert ink.right <= page.width - margin + 0.1, name
            assert ink.top >= margin - 0.1, name
            assert ink.bottom <= page.height - margin + 0.1, name
        for field, line in lines_of(page):
            smallest = min(size for told, _, size in line.pieces if told.strip())
            assert smallest >= LEAST_BY_FIELD.get(field, LEAST_PT), (field, line)
        assert "DO NOT DRINK" in words_of(page)
        assert "01632 960 118" in words_of(page)


def test_a_sheet_is_placed_as_it_was_before(check_golden: CheckGolden) -> None:
    check_golden("cards/weighing-sheet", as_text(placed(SHEET)))


@pytest.mark.parametrize(
    "text",
    [
        SHEET,
        replace(SHEET, hazard=DEVELOPER.hazard),
        replace(SHEET, hazard=BLUEPRINT.hazard, part=PartMark("A", "B"), whom=""),
        replace(SHEET, hazard=BLUEPRINT.hazard, emergency="01632 960 118", remarks=()),
        with_steps(12),
        with_steps(40),
    ],
)
@pytest.mark.parametrize("settings", [Settings(), Settings(mono=True)])
def test_nothing_stands_on_anything_else(
    text: WeighingText, settings: Settings
) -> None:
    require_sound(placed(text, settings))


def test_every_powder_has_lines_for_lot_tare_reading_and_initials() -> None:
    (page,) = placed(SHEET)
    blanks = bars(page, "blank")
    powders = sum(row.weighed for row in SHEET.rows)
    others = sum(row.read and not row.weighed for row in SHEET.rows)
    assert (powders, others) == (2, 3)
    assert len(blanks) == 4 * powders + 2 * others
    assert all(bar.w >= 14 for bar in blanks)
    assert "planned lot tare as read initials" in words_of(page)
    assert "jar TS-0412" in words_of(page)


def test_there_is_room_to_write_above_every_line() -> None:
    for page in placed(with_steps(40)):
        tops = sorted({box.y for box in bars(page, "rule")})
        for blank in bars(page, "blank"):
            above = max(y for y in tops if y < blank.y - 1)
            assert blank.y - above >= ROOM_TO_WRITE_mm - 0.01


def test_a_coarse_weighing_says_so_under_the_planned_amount() -> None:
    (page,) = placed(SHEET)
    (known,) = [b for b in page.boxes if isinstance(b, Text) and b.field == "known"][:1]
    assert known.lines[0].pieces[0][0] == "±2.1 %"
    assert "knows it" in words_of(page)


def test_a_stop_bar_stands_above_its_step_and_the_jug_on_its_bar() -> None:
    (page,) = placed(SHEET)
    (stop,) = bars(page, "stop bar")
    lye = next(
        b for b in page.boxes if isinstance(b, Text) and "hydroxide" in str(b.lines)
        and b.field == "what"
    )  # fmt: skip
    assert stop.y + stop.h <= lye.y
    uprights = bars(page, "vessel bar")
    assert min(bar.y for bar in uprights) < stop.y
    assert max(bar.y + bar.h for bar in uprights) > lye.y


def test_forty_ingredients_go_over_pages_with_their_heads_again() -> None:
    pages = placed(with_steps(40))
    assert len(pages) >= 3
    ticks = [
        box
        for page in pages
        for box in page.boxes
        if isinstance(box, Frame) and box.field == "tick"
    ]
    assert len(ticks) == 40
    for number, page in enumerate(pages, 1):
        assert f"Page {number} of {len(pages)}" in words_of(page)
        if bars(page, "blank"):
            assert "planned" in words_of(page)


def test_a_jug_that_goes_over_a_page_is_named_again() -> None:
    text = with_steps(40)
    rows = tuple(
        replace(row, step=replace(row.step, vessel="second jug")) for row in text.rows
    )
    first, *others = placed(replace(text, rows=rows))
    assert "In a second jug" in words_of(first)
    assert "continued" not in words_of(first)
    for page in others:
        assert ("In a second jug, continued" in words_of(page)) == bool(
            bars(page, "blank")
        )


def test_a_sheet_is_set_closer_where_that_saves_a_page() -> None:
    pitches: dict[tuple[int, float], int] = {}
    for count in range(3, 12):
        pages = placed(with_steps(count))
        ticks = [b.y for b in pages[0].boxes if isinstance(b, Frame)]
        pitch = round(min(b - a for a, b in pairwise(ticks)), 2)
        pitches.setdefault((len(pages), pitch), count)
    # As it is, then closer on one page, then on two pages as it is.
    assert list(pitches) == [(1, 14.0), (1, 12.2), (2, 14.0)]


def test_what_to_type_afterwards_and_the_aid_end_the_sheet() -> None:
    last = words_of(placed(SHEET)[-1])
    assert plain_spaces(SHEET.typed) in last
    assert SHEET.aid_full in last
    assert last.index("Afterwards") < last.index(SHEET.aid_full)


def test_the_words_are_in_the_text_of_the_file() -> None:
    pdf = draw(placed(SHEET), title="t", author="M. Osei", subject="s")
    (page,) = pypdf.PdfReader(BytesIO(pdf)).pages
    told = plain_spaces(page.extract_text())
    for words in ("Weighing-out sheet for R. Barros", "Batch number", "May damage"):
        assert words in told


def test_pictograms_follow_the_settings() -> None:
    for settings, frame, keyline in (
        (Settings(), "red", True),
        (Settings(profile="supply"), "red", False),
        (Settings(mono=True), "black", False),
    ):
        shown = [b for b in placed(SHEET, settings)[0].boxes if isinstance(b, Symbol)]
        assert [(b.frame, b.keyline) for b in shown] == [(frame, keyline)]


# ------------------------------------------------------------------ bad input


def test_a_title_of_four_hundred_characters_is_refused() -> None:
    with pytest.raises(Misfit, match=r"weighing-out sheet, name: .* fewer words"):
        placed(replace(SHEET, name="A title " * 50))


def test_a_character_without_a_glyph_is_named_with_its_field() -> None:
    with pytest.raises(BadInput, match=r"whom: the .* \(U\+1F9EA TEST TUBE\)"):
        placed(replace(SHEET, whom="R. Barros 🧪"))


def test_markup_is_printed_as_it_is_written() -> None:
    told = replace(SHEET, whom="<b>R.</b> &amp; Barros")
    assert "<b>R.</b> &amp; Barros" in words_of(placed(told)[0])


def test_a_word_wider_than_its_column_is_refused_not_clipped() -> None:
    row = SHEET.rows[1]
    wide = replace(row, step=replace(row.step, what=(Run("x" * 90, strong=True),)))
    with pytest.raises(Misfit, match="wide, the line"):
        placed(replace(SHEET, rows=(wide,)))


def test_an_amount_of_many_figures_pushes_the_words_not_the_columns() -> None:
    row = SHEET.rows[1]
    many = replace(row, step=replace(row.step, amounts=(CardAmount("123456.789 g"),)))
    require_sound(placed(replace(SHEET, rows=(many,))))


def test_a_note_higher_than_a_page_is_refused() -> None:
    endless = replace(SHEET.before[0], text=(Run("words " * 4000),))
    with pytest.raises(Misfit, match=r"'The powders' is .* mm higher than a page"):
        placed(replace(SHEET, before=(endless,)))
