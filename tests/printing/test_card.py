"""Mixing cards: the geometry that the print specification gives, and what is refused.

Expected places are those of the print specification, section 10, in mm from the top.
"""

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput, Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import CardAmount, CardColumn, CardRow, CardText, Run
from labelkit.printing.boxes import Bar, Code, Frame, Page, Symbol, Text
from labelkit.printing.card import place_card
from labelkit.printing.card_layout import card_layout
from labelkit.printing.card_whole import require_whole
from tests.printing.card_texts import (
    BLUEPRINT,
    BORATE,
    DEVELOPER,
    HARMFUL_TO_WATER,
    ONE_BATCH,
    STOP_BATH,
    strong,
)
from tests.printing.placed import lines_of, words_of


def placed(text: CardText, key: str = "a5", settings: Settings | None = None) -> Page:
    return both(text, key, settings)[0]


def both(
    text: CardText, key: str = "a5", settings: Settings | None = None
) -> tuple[Page, Page]:
    return place_card(text, layout=card_layout(key), settings=settings or Settings())


def fields(page: Page, field: str) -> list[Text]:
    return [b for b in page.boxes if isinstance(b, Text) and b.field == field]


def bars(page: Page, field: str) -> list[Bar]:
    return [b for b in page.boxes if isinstance(b, Bar) and b.field == field]


def order_of(page: Page) -> list[str]:
    return [b.field for b in page.boxes if isinstance(b, Text)]


@pytest.mark.parametrize(
    ("field", "baseline", "size"),
    [
        ("name", 25.4, 30),
        ("headline", 43.6, 54),
        ("substance", 51.4, 16),
        ("summary", 51.4, 9.5),
        ("signal", 43.6, 20),
        ("write in", 192, 9.5),
    ],
)
def test_the_front_of_an_a5_card_stands_where_the_specification_puts_it(
    field: str, baseline: float, size: float
) -> None:
    line = fields(placed(BORATE), field)[0].lines[0]
    assert line.y == pytest.approx(baseline)
    assert max(piece[2] for piece in line.pieces) == size


def test_seven_steps_and_a_jug_end_at_181_8() -> None:
    bottom = bars(placed(BORATE), "rule")[-1]
    assert bottom.y == pytest.approx(181.8, abs=0.05)


def test_amounts_end_on_the_edges_of_the_specification() -> None:
    edges = {line.x for _, line in lines_of(placed(BORATE)) if line.align == "right"}
    assert edges >= {85.3, 112.4, 139.5}


def test_the_foot_stands_from_195_to_202_on_both_sides() -> None:
    for page in both(BORATE):
        (foot,) = bars(page, "foot")
        assert (foot.y, foot.y + foot.h) == (195, 202)


def test_the_back_has_its_rule_at_28_6_and_a_pictogram_of_23() -> None:
    _, back = both(BORATE)
    assert bars(back, "rule")[0].y == 28.6
    assert [b.side for b in back.boxes if isinstance(b, Symbol)] == [23]
    (signal,) = fields(back, "signal")
    assert signal.lines[0].pieces[0] == ("DANGER", "bold", 30)


def test_the_code_has_modules_of_six_dots_at_300_dpi() -> None:
    _, back = both(BORATE)
    (code,) = [b for b in back.boxes if isinstance(b, Code)]
    assert code.module == pytest.approx(6 * 25.4 / 300)
    assert code.payload == BORATE.code


def test_a_caution_is_read_before_its_step_and_white_on_black() -> None:
    front = placed(BORATE)
    (caution,) = fields(front, "caution")
    (stop,) = bars(front, "stop bar")
    lye = next(b for b in fields(front, "what") if "hydroxide" in words(b))
    assert all(line.white for line in caution.lines)
    assert front.boxes.index(caution) < front.boxes.index(lye)
    assert stop.y + stop.h <= lye.y
    assert stop.h == pytest.approx(8.2)


def words(block: Text) -> str:
    return " ".join(piece[0] for line in block.lines for piece in line.pieces)


def test_the_other_vessel_hangs_on_a_bar_over_all_its_rows() -> None:
    front = placed(BORATE)
    (upright,) = bars(front, "vessel bar")
    (head,) = fields(front, "vessel")
    hung = [b for b in fields(front, "what") if b.x > 26]
    assert words(head) == "In a second jug"
    assert [words(b) for b in hung] == ["Water, 15\u00a0°C", "Sodium hydroxide"]
    assert all(upright.y < b.y < upright.y + upright.h for b in hung)


def test_what_is_filled_up_to_has_an_arrow_and_a_heavy_rule() -> None:
    front = placed(BORATE)
    filled = [words(b) for b in fields(front, "amount")][-3:]
    assert filled == ["→\u00a0250\u00a0mL", "→\u00a0500\u00a0mL", "→\u00a01\u00a0L"]
    heavy = [bar for bar in bars(front, "rule") if bar.h == 0.9]
    fill = next(b for b in fields(front, "what") if "Fill" in words(b))
    assert heavy[-1].y == pytest.approx(fill.y - 2, abs=2)
    assert ("up\u00a0to", "bold", 14.0) in [
        piece for line in fill.lines for piece in line.pieces
    ]


def test_one_batch_size_leaves_room_to_write_what_was_read() -> None:
    front = placed(ONE_BATCH)
    measured = [row for row in ONE_BATCH.rows if row.amounts]
    blanks = bars(front, "blank")
    assert len(blanks) == len(measured) == 5
    assert all(bar.w > 15 for bar in blanks)
    assert "as read" in words_of(front)
    assert "Tick ONE column" not in words_of(front)


def test_several_batch_sizes_have_a_box_to_tick_and_no_blanks() -> None:
    front = placed(BORATE)
    ticks = [b for b in front.boxes if isinstance(b, Frame) and b.field == "tick"]
    assert len(ticks) == len(BORATE.columns) + len(BORATE.rows)
    assert all(tick.w == 7 for tick in ticks)
    assert not bars(front, "blank")
    assert "Tick ONE column" in words_of(front)


def test_every_second_column_has_a_tint_of_seven_and_a_half_percent() -> None:
    tints = bars(placed(BORATE), "tint")
    assert {bar.grey for bar in tints} == {0.075}
    assert all(bar.x > 85.3 and bar.x + bar.w < 139.5 for bar in tints)
    assert len(tints) == 1 + sum(bool(row.amounts) for row in BORATE.rows)


def test_where_no_class_is_reached_a_frame_says_so_on_both_sides() -> None:
    for page in both(BLUEPRINT):
        assert "This does not mean safe." in words_of(page)
        assert [b for b in page.boxes if isinstance(b, Frame) and "class" in b.field]


def test_a_class_without_pictogram_is_told_in_words_on_the_front() -> None:
    told = "Harmful to aquatic life with long lasting effects."
    assert told in words_of(placed(HARMFUL_TO_WATER))


def test_a_part_carries_its_mark_on_both_sides_and_what_it_goes_with() -> None:
    for page in both(BLUEPRINT):
        assert words(fields(page, "part")[0]) == "A"
    assert "goes with B" in words_of(placed(BLUEPRINT))


def test_part_b_is_white_on_black() -> None:
    assert BLUEPRINT.part is not None
    front = placed(replace(BLUEPRINT, part=replace(BLUEPRINT.part, letter="B")))
    assert fields(front, "part")[0].lines[0].white
    assert bars(front, "part")


@pytest.mark.parametrize("text", [DEVELOPER, STOP_BATH, BLUEPRINT])
def test_a_card_without_equivalence_has_no_scale_and_more_room(text: CardText) -> None:
    front = placed(text)
    assert not bars(front, "scale")
    assert bars(front, "rule")[0].y == 57.6
    assert text.headline.text in [line.says for _, line in lines_of(front)]


def test_without_a_number_a_white_field_is_left_to_write_it() -> None:
    for page in both(DEVELOPER):
        (field,) = bars(page, "emergency")
        assert (field.w, field.grey) == (30, 0)


@pytest.mark.parametrize(
    ("settings", "frame", "keyline"),
    [
        (Settings(), "red", True),
        (Settings(profile="supply"), "red", False),
        (Settings(mono=True), "black", False),
    ],
)
def test_frames_follow_the_settings(
    settings: Settings, frame: str, keyline: bool
) -> None:
    for page in both(BORATE, settings=settings):
        shown = [b for b in page.boxes if isinstance(b, Symbol)]
        assert [(b.frame, b.keyline) for b in shown] == [(frame, keyline)]


def test_the_front_is_read_from_the_name_to_the_foot() -> None:
    order = order_of(placed(BORATE))
    assert order[0] == "name"
    assert order.index("headline") < order.index("signal") < order.index("what")
    assert order[-1] == "emergency"


def steps(count: int) -> CardText:
    row = CardRow("step", 1, strong("Water"), "", tuple(map(CardAmount, "123")))
    rows = tuple(replace(row, number=number) for number in range(1, count + 1))
    return replace(BORATE, rows=rows)


def lines_to_write_on(page: Page) -> int:
    return len(bars(page, "write-in line"))


def test_steps_are_tightened_then_take_the_write_in_lines_then_are_refused() -> None:
    # 82.9 to 183: eight rows of 11.7, nine of 11; to 193.4: ten of 11.
    assert lines_to_write_on(placed(steps(8))) == 3
    nine, ten = placed(steps(9)), placed(steps(10))
    assert lines_to_write_on(nine) == 3
    assert lines_to_write_on(ten) == 0
    with pytest.raises(Misfit) as refused:
        placed(steps(11))
    assert str(refused.value) == (
        "card a5, steps: 11 steps need 10.5 mm more height. Use --layout a4."
    )


def test_more_steps_than_any_card_holds_are_two_cards() -> None:
    with pytest.raises(Misfit, match=r"card a4, steps: 30 steps .* Make two cards"):
        placed(steps(30), "a4")


def test_too_many_batch_sizes_are_refused_with_how_many_fit() -> None:
    column = CardColumn("250 mL", "500 mL")
    many = replace(
        STOP_BATH,
        columns=(column,) * 4,
        rows=tuple(
            replace(row, amounts=(CardAmount("100 mL"),) * 4) for row in STOP_BATH.rows
        ),
    )
    with pytest.raises(Misfit) as refused:
        placed(many)
    assert str(refused.value) == (
        "card a5, columns: 4 batch sizes do not fit side by side. "
        "Ask for 3 batch sizes with --make, or use --layout a4."
    )


def test_an_amount_wider_than_its_column_names_itself() -> None:
    wide = (CardAmount("1.5 g"), CardAmount("123456.78 grams"), CardAmount("3 g"))
    text = replace(BORATE, rows=(replace(BORATE.rows[0], amounts=wide),))
    with pytest.raises(Misfit, match=r"'123456\.78 grams' is wider than its column"):
        placed(text)


def test_a_name_that_cannot_fit_is_refused_not_shrunk() -> None:
    text = replace(
        BORATE, name="An unreasonably long name for a bottle of borates " * 3
    )
    with pytest.raises(Misfit, match="card a5, name"):
        placed(text)


def test_hazards_that_need_more_height_ask_for_a_larger_card() -> None:
    more = (*BORATE.notes, *BORATE.notes, *BORATE.notes)
    with pytest.raises(Misfit, match="more height"):
        placed(replace(BORATE, notes=more))


def test_an_emergency_number_longer_than_the_foot_is_refused() -> None:
    with pytest.raises(Misfit, match="too long for the foot"):
        placed(replace(BORATE, emergency="01632 960 118 " * 6))


def test_a_vessel_with_a_name_of_its_own_keeps_it() -> None:
    rows = tuple(
        replace(row, vessel="jug 2") if row.vessel else row for row in BORATE.rows
    )
    assert "In jug 2" in words_of(placed(replace(BORATE, rows=rows)))


def test_a_long_detail_runs_under_the_amounts() -> None:
    told = (
        "Stir until clear, which takes about ten minutes; keep the jug in cold water "
        "and out of the light, and do not go on before every crystal is gone."
    )
    rows = (replace(BORATE.rows[1], detail=told), BORATE.rows[6])
    front = placed(replace(BORATE, rows=rows))
    (detail,) = fields(front, "detail")
    amount = fields(front, "amount")[0]
    assert detail.w > 85.3
    assert detail.y > amount.lines[0].y


def test_a_warning_without_signal_word_still_shows_its_pictogram() -> None:
    quiet = replace(BORATE, hazard=replace(BORATE.hazard, signal=""))
    for page in both(quiet):
        assert [b for b in page.boxes if isinstance(b, Symbol)]


def test_a_character_that_cannot_be_printed_is_named_with_its_field() -> None:
    with pytest.raises(BadInput, match=r"summary: the character '≡'"):
        placed(replace(BORATE, summary="50 g/L ≡ 5 % w/v"))


def test_a_card_that_leaves_something_off_is_refused() -> None:
    layout = card_layout("a5")
    front, back = both(BORATE)
    short = replace(
        back, boxes=tuple(b for b in back.boxes if b not in fields(back, "statements"))
    )
    with pytest.raises(Misfit, match="leaves off May damage fertility"):
        require_whole(BORATE, front, short, layout)
    bare = replace(
        front, boxes=tuple(b for b in front.boxes if not isinstance(b, Symbol))
    )
    with pytest.raises(Misfit, match="it leaves off GHS08"):
        require_whole(BORATE, bare, back, layout)


def test_words_not_marked_strong_are_set_as_they_are() -> None:
    row = replace(BORATE.rows[0], what=(Run("Water, "), Run("cold", strong=True)))
    block = fields(placed(replace(BORATE, rows=(row,))), "what")[0]
    assert [piece[1] for piece in block.lines[0].pieces] == ["semibold", "bold"]
