"""Cards A4: large type for up to three batch sizes, eight that can still be read.

11.3 pt is read at 600 mm, 18 pt at a metre: print specification, section 3, after
ISO 9241-303 (16 minutes of arc of capital height).
"""

from math import radians, tan

import pytest
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import CardAmount, CardColumn, CardText
from labelkit.printing.boxes import Page, Text
from labelkit.printing.card import place_card
from labelkit.printing.card_layout import card_layout
from labelkit.printing.fonts import cap_height_mm
from tests.printing.card_texts import BORATE, DEVELOPER, ONE_BATCH
from tests.printing.conftest import CheckGolden
from tests.printing.placed import as_text, lines_of, plain_spaces, words_of
from tests.printing.test_card_invariants import require_sound

BENCH_PT, WALL_PT = 11.3, 18.0
STEP_FIELDS = {"what", "detail", "amount", "number", "caution", "vessel", "as read"}
FIGURES = ("250 mL", "500 mL", "750 mL", "1 L", "1.5 L", "2 L", "2.5 L", "5 L")


def with_columns(text: CardText, count: int) -> CardText:
    """The card for so many batch sizes, its amounts those of the first, and larger."""

    def amounts(told: str) -> tuple[CardAmount, ...]:
        figure, _, unit = told.partition(" ")
        return tuple(
            CardAmount(f"{float(figure) * (n + 1):g} {unit}") for n in range(count)
        )

    rows = tuple(
        replace(
            row,
            amounts=tuple(map(CardAmount, FIGURES[:count]))
            if row.kind == "fill"
            else amounts(plain_spaces(row.amounts[0].text)),
        )
        if row.amounts
        else row
        for row in text.rows
    )
    columns = tuple(CardColumn(figure, "next") for figure in FIGURES[:count])
    return replace(text, columns=columns, rows=rows)


def placed(text: CardText) -> tuple[Page, Page]:
    return place_card(text, layout=card_layout("a4"), settings=Settings())


def sizes(page: Page, fields: set[str]) -> set[float]:
    return {
        size
        for field, line in lines_of(page)
        if field in fields
        for told, _, size in line.pieces
        if told.strip()
    }


def test_the_sizes_are_those_that_are_read_from_the_bench_and_the_wall() -> None:
    sixteen_minutes = radians(16 / 60)
    assert cap_height_mm(BENCH_PT) >= 600 * tan(sixteen_minutes) - 0.02
    assert cap_height_mm(WALL_PT) >= 950 * tan(sixteen_minutes) - 0.02


@pytest.mark.parametrize("text", [BORATE, DEVELOPER])
@pytest.mark.parametrize("count", range(1, 9))
def test_nothing_in_a_step_is_under_the_size_of_the_bench(
    text: CardText, count: int
) -> None:
    told = with_columns(text, count)
    front, back = placed(told)
    assert min(sizes(front, STEP_FIELDS)) >= BENCH_PT
    assert min(sizes(front, {"quantity", "heads"})) >= BENCH_PT
    require_sound(told, card_layout("a4"), (front, back))


@pytest.mark.parametrize("text", [BORATE, DEVELOPER, ONE_BATCH])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_up_to_three_batch_sizes_are_set_for_the_wall(
    text: CardText, count: int
) -> None:
    front, _ = placed(with_columns(text, count))
    assert min(sizes(front, {"what", "amount", "number"})) >= WALL_PT


def test_eight_batch_sizes_have_their_units_under_the_figures() -> None:
    front, _ = placed(with_columns(BORATE, 8))
    amounts = [b for b in front.boxes if isinstance(b, Text) and b.field == "amount"]
    assert all(len(block.lines) == 2 for block in amounts)
    units = {block.lines[1].pieces[0][0] for block in amounts}
    assert units == {"mL", "g", "L"}
    for cell in with_columns(BORATE, 8).rows[0].amounts:
        assert plain_spaces(cell.text) in words_of(front)


def test_three_batch_sizes_have_them_beside() -> None:
    front, _ = placed(with_columns(BORATE, 3))
    amounts = [b for b in front.boxes if isinstance(b, Text) and b.field == "amount"]
    assert all(len(block.lines) == 1 for block in amounts)


def test_amounts_that_stay_too_wide_say_how_many_batch_sizes_fit() -> None:
    told = with_columns(BORATE, 8)
    wide = (CardAmount("8.7 g"), *(CardAmount("123456.789 g"),) * 7)
    rows = (replace(told.rows[1], amounts=wide),)
    with pytest.raises(Misfit, match=r"Ask for \d batch sizes with --make\."):
        placed(replace(told, rows=rows))


@pytest.mark.parametrize("count", [3, 8])
def test_an_a4_card_is_placed_as_it_was_before(
    count: int, check_golden: CheckGolden
) -> None:
    check_golden(
        f"cards/borate-a4-{count}", as_text(placed(with_columns(BORATE, count)))
    )
