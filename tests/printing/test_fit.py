"""What gives way, in which order, and what never does."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput, Misfit, Unknown
from labelkit.mixing.words import BottleText, Run, Scale, Tally
from labelkit.printing.boxes import Bar, Code, Frame, Page, Symbol, Text
from labelkit.printing.fit import Placement, choose, fit
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm
from labelkit.printing.layouts import layout_named
from tests.printing.label_texts import (
    BATH,
    BORATE,
    BROMIDE,
    CARBONATE,
    CORROSIVE,
    DEVELOPER,
    LOADS,
    P102,
    PYROGALLOL,
    SILVER,
)
from tests.printing.placed import inks, lines_of, words_of

SCALE_GONE = "the twin scale is on the card"
TIGHT = "less white between the blocks"


def fitted(text: BottleText, layout: str, profile: str = "room") -> Placement:
    found = layout_named(layout)
    return fit(text, found, profile=profile, mono=False, keyline=True)


def in_bottle(text: BottleText, mL: int) -> BottleText:
    return replace(text, volume_mL=Decimal(mL))


def alone(text: BottleText) -> BottleText:
    return replace(text, part=None)


def symbols(page: Page) -> list[Symbol]:
    return [box for box in page.boxes if isinstance(box, Symbol)]


def sizes_of(page: Page, *fields: str) -> set[float]:
    return {
        size
        for field, line in lines_of(page)
        for _, _, size in line.pieces
        if field in fields
    }


def block(page: Page, field: str) -> Text:
    return next(b for b in page.boxes if isinstance(b, Text) and b.field == field)


# Which layout carries which load up to half a litre: design, print-spec section 5.
@pytest.mark.parametrize(
    ("load", "layout", "side", "scale"),
    [
        ("none", "small", None, False),
        ("none", "tall", None, True),
        ("none", "wrap", None, True),
        ("one", "tall", 10, True),
        ("one", "wrap", 16, True),
        ("two", "wrap-low", 10, False),
        ("two", "wrap", 16, False),
        ("five", "wrap", 16, False),
        ("corr", "tall", 10, False),
        ("corr", "wrap", 16, True),
    ],
)
def test_a_load_fits_the_layouts_that_were_measured_to_carry_it(
    load: str, layout: str, side: float | None, scale: bool
) -> None:
    placement = fitted(in_bottle(LOADS[load], 500), layout)
    assert {symbol.side for symbol in symbols(placement.page)} == (
        {side} if side else set()
    )
    has_scale = any(name == "scale-g" for name, _ in lines_of(placement.page))
    assert has_scale == scale
    assert placement.spare >= 0


@pytest.mark.parametrize("load", ["one", "two", "five", "corr"])
def test_with_a_class_the_small_label_says_what_it_is_for(load: str) -> None:
    with pytest.raises(Misfit, match="for a bottle that reaches no hazard class"):
        fitted(LOADS[load], "small")


@pytest.mark.parametrize(
    ("load", "layout", "instead"),
    [
        ("five", "wrap-low", "wrap"),
        ("corr", "wrap-low", "tall"),
        ("five", "tall", "wrap"),
        ("none", "small", "wrap-low"),
    ],
)
def test_a_misfit_names_the_smallest_layout_that_carries_it(
    load: str, layout: str, instead: str
) -> None:
    text = LOADS[load]
    if load == "none":
        text = replace(text, never_with="NEVER WITH silver nitrate: it settles out.")
    with pytest.raises(Misfit) as refused:
        fitted(in_bottle(text, 500), layout)
    (fault,) = refused.value.faults
    assert fault.place == f"layout {layout}"
    assert "mm too low for everything it must say" in fault.problem
    expected = f"Use --layout {instead}, the smallest that carries it."
    assert fault.remedy == expected


def test_where_nothing_carries_it_the_words_must_be_fewer() -> None:
    words = " ".join(f"substance {k} is 12.3," for k in range(600))
    with pytest.raises(Misfit, match="Shorten the title or the recipe's own words"):
        fitted(replace(BORATE, contents=(Run(words),)), "wrap")


def test_what_gives_way_is_told_in_its_order() -> None:
    assert fitted(BORATE, "tall").steps == (
        TIGHT,
        "first words and what is not known run together",
        "pictograms 10 mm instead of 16",
    )


def test_nothing_gives_way_where_everything_fits() -> None:
    assert fitted(alone(SILVER), "wrap").steps == ()


def test_handling_cautions_move_to_the_card_before_a_pictogram_shrinks() -> None:
    cautions = ("Keep cool, dry and dark. " * 5).strip()
    placement = fitted(replace(CARBONATE, cautions=(cautions,)), "wrap-low")
    assert "handling cautions are on the card" in placement.steps
    assert symbols(placement.page)[0].side == 16
    assert "cool, dry and dark" not in words_of(placement.page)


def test_a_pictogram_shrinks_before_the_scale_goes() -> None:
    placement = fitted(BORATE, "tall")
    assert symbols(placement.page)[0].side == 10
    assert SCALE_GONE not in placement.steps


def test_on_a_supplied_bottle_the_scale_goes_before_a_pictogram_shrinks() -> None:
    # CLP Annex I, Table 1.3: 16 x 16 mm if possible.
    placement = fitted(BORATE, "tall", profile="supply")
    assert symbols(placement.page)[0].side == 16
    assert SCALE_GONE in placement.steps


def test_a_layout_without_a_place_for_the_scale_says_so() -> None:
    assert SCALE_GONE in fitted(BROMIDE, "small").steps


def test_a_longer_headline_is_set_smaller_and_never_under_28_points() -> None:
    headline = replace(BROMIDE.headline, text="12.3 mL = 1 g")
    placement = fitted(replace(BROMIDE, headline=headline), "small")
    figures = max(sizes_of(placement.page, "headline"))
    assert 28 <= figures < 32


def test_a_headline_too_wide_at_28_points_is_refused() -> None:
    headline = replace(BROMIDE.headline, text="123456 mL = 0.1 g")
    with pytest.raises(Misfit, match="at 28 pt"):
        fitted(replace(BROMIDE, headline=headline), "small")


def test_where_the_headline_needs_its_room_the_code_moves_to_the_hazards() -> None:
    headline = replace(BORATE.headline, text="123.45 mL = 1 g", scale=None)
    text = replace(BORATE, headline=headline)
    placement = fitted(text, "wrap")
    (code,) = [box for box in placement.page.boxes if isinstance(box, Code)]
    assert code.x > layout_named("wrap").width / 2
    assert "the code stands beside the hazards" in placement.steps


def test_one_of_write_in_row_and_tally_stays_on_a_wrap() -> None:
    text = replace(DEVELOPER, write_in=True)
    placement = fitted(text, "wrap")
    assert "no row to write opening dates in" in placement.steps
    assert "no tally" not in placement.steps
    assert any(
        isinstance(b, Frame) and b.field == "tally" for b in placement.page.boxes
    )


def test_both_stay_where_there_is_room() -> None:
    text = replace(
        in_bottle(BROMIDE, 500), write_in=True, tally=Tally(10, "one box, one film")
    )
    told = words_of(fitted(text, "wrap").page)
    assert "Opened Topped up (older date counts)" in told
    assert "STOP" in told


def test_the_tally_has_a_box_for_every_film_and_the_last_says_stop() -> None:
    page = fitted(DEVELOPER, "wrap").page
    frames = [b for b in page.boxes if isinstance(b, Frame) and b.field == "tally"]
    (stop,) = [b for b in page.boxes if isinstance(b, Bar) and b.field == "stop bar"]
    assert len(frames) == 19  # of 20, design: print-spec section 8
    assert {(f.w, f.h) for f in frames} == {(4, 4)}
    assert (stop.w, stop.h) == (7, 4)
    assert len({round(f.y, 3) for f in frames}) == 2
    assert stop.y == pytest.approx(max(f.y for f in frames))
    assert stop.x + stop.w == pytest.approx(60.0)  # flush with the code


# Regulation (EU) 2024/2865: x-height 1.2 mm to 0.5 L, 1.4 mm to 3 L; with this font's
# x-height of 516/1000 that is 6.6 and 7.7 pt.
@pytest.mark.parametrize(("mL", "least"), [(500, 6.6), (501, 7.7), (3000, 7.7)])
@pytest.mark.parametrize("load", ["one", "two", "corr"])
def test_hazard_text_is_never_smaller_than_its_bottle_asks(
    load: str, mL: int, least: float
) -> None:
    page = fitted(in_bottle(alone(LOADS[load]), mL), "wrap").page
    fields = ("contains", "statements", "precautions", "first-words", "never-with")
    assert min(sizes_of(page, *fields)) >= least
    assert min(sizes_of(page, "strength")) >= least


@pytest.mark.parametrize(
    ("mL", "side"),
    # CLP Annex I, Table 1.3
    [(3000, 16), (3001, 23), (50_000, 23)],
)
def test_the_pictogram_grows_with_the_bottle(mL: int, side: float) -> None:
    little = replace(CARBONATE.hazard, precautions=(P102,), open_points=())
    text = replace(alone(CARBONATE), hazard=little, first_words=(), never_with="")
    text = in_bottle(replace(text, cautions=()), mL)
    page = fitted(text, "wrap").page
    assert symbols(page)[0].side == side


def test_type_grows_into_the_room_that_is_left() -> None:
    page = fitted(BROMIDE, "tall").page
    assert min(sizes_of(page, "none-reached")) > 6.6


def test_a_supplied_bottle_in_black_only_is_refused() -> None:
    with pytest.raises(BadInput, match="mono: a supplied bottle needs red frames"):
        fit(BORATE, layout_named("tall"), profile="supply", mono=True, keyline=False)


@pytest.mark.parametrize(
    ("mono", "keyline", "frame", "edge"),
    [
        (False, True, "red", True),
        (False, False, "red", False),
        (True, True, "black", True),
    ],
)
def test_frames_are_drawn_as_the_settings_say(
    mono: bool, keyline: bool, frame: str, edge: bool
) -> None:
    placement = fit(
        BORATE, layout_named("tall"), profile="room", mono=mono, keyline=keyline
    )
    (symbol,) = symbols(placement.page)
    assert (symbol.frame, symbol.keyline) == (frame, edge)
    assert symbol.says == "Health hazard pictogram"


def test_black_frames_stand_where_red_ones_do() -> None:
    layout = layout_named("tall")
    red = fit(BORATE, layout, profile="room", mono=False, keyline=False)
    black = fit(BORATE, layout, profile="room", mono=True, keyline=False)
    assert [(s.x, s.y) for s in symbols(red.page)] == [
        (s.x, s.y) for s in symbols(black.page)
    ]
    assert red.spare == black.spare


def test_statements_stand_beside_the_pictograms_where_they_fit() -> None:
    page = fitted(alone(SILVER), "tall").page
    lowest = max(symbol.y + symbol.side * 2**0.5 for symbol in symbols(page))
    statements, precautions = block(page, "statements"), block(page, "precautions")
    assert statements.y < lowest
    assert statements.x > max(s.x + s.side * 2**0.5 for s in symbols(page))
    assert precautions.x == pytest.approx(3.6)
    assert precautions.y > lowest


def test_the_signal_word_stands_level_with_the_upper_tip() -> None:
    page = fitted(BORATE, "tall").page
    (line,) = block(page, "signal").lines
    size = line.pieces[0][2]
    assert line.y - cap_height_mm(size) == pytest.approx(symbols(page)[0].y)
    assert size >= 12


def test_never_with_is_a_line_of_its_own_and_the_last_above_the_foot() -> None:
    page = fitted(BORATE, "tall").page
    never = block(page, "never-with")
    said = "".join(text for text, _, _ in never.lines[0].pieces)
    assert said == "NEVER WITH ammonium salts (rapid fixer): ammonia gas."
    foot = next(b for b in page.boxes if isinstance(b, Bar) and b.field == "foot")
    assert all(
        ink.bottom <= never.y + 0.1 or ink.top >= foot.y or name.startswith("never")
        for name, ink in inks(page)
    )


def test_the_frame_of_no_class_stands_on_the_foot() -> None:
    page = fitted(BROMIDE, "small").page
    (frame,) = [b for b in page.boxes if isinstance(b, Frame)]
    foot = next(b for b in page.boxes if isinstance(b, Bar) and b.field == "foot")
    assert frame.y + frame.h - frame.line == pytest.approx(foot.y)
    assert (frame.x, frame.w) == (foot.x, foot.w)
    assert frame.line == 0.7


def test_an_upright_rule_meets_the_foot() -> None:
    for name in ("wrap", "wrap-low"):
        page = fitted(PYROGALLOL, name).page
        bars = {b.field: b for b in page.boxes if isinstance(b, Bar)}
        rule, foot = bars["rule"], bars["foot"]
        assert rule.y + rule.h == pytest.approx(foot.y)
        assert rule.w == 0.9


def test_without_a_number_a_white_field_waits_for_it() -> None:
    page = fitted(replace(BORATE, emergency=""), "tall").page
    (field,) = [b for b in page.boxes if isinstance(b, Bar) and b.grey == 0]
    foot = next(b for b in page.boxes if isinstance(b, Bar) and b.field == "foot")
    assert field.w == 30  # design: print-spec section 4, item 9
    assert field.y - foot.y == pytest.approx(0.8)
    assert foot.x + foot.w - field.x - field.w == pytest.approx(0.8)


def test_a_number_too_long_for_the_foot_is_refused() -> None:
    text = replace(BORATE, emergency="+44 (0)1632 960 118 or 960 119")
    with pytest.raises(Misfit, match=r"the foot is .* mm too short for '\+44"):
        fitted(text, "tall")


def test_a_code_too_large_for_its_place_is_refused() -> None:
    with pytest.raises(Misfit, match=r"the code of 98 characters is 15\.7 mm wide"):
        fitted(replace(BORATE, code="A" * 98), "tall")


def test_a_smaller_code_keeps_to_the_right_edge_and_its_modules() -> None:
    page = fitted(replace(BORATE, code="A" * 20), "tall").page
    (code,) = [box for box in page.boxes if isinstance(box, Code)]
    assert code.modules == 21  # ISO/IEC 18004, version 1
    assert code.module == pytest.approx(1.2 * MM_PER_PT)
    assert code.x + code.modules * code.module == pytest.approx(70.4)


@pytest.mark.parametrize(
    ("text", "layout"),
    [
        # Defaults: design, print-spec section 5.
        (BROMIDE, "small"),
        (BATH, "small"),
        (BORATE, "tall"),
        (alone(SILVER), "tall"),
        (PYROGALLOL, "wrap-low"),
        (CARBONATE, "wrap-low"),
        (in_bottle(PYROGALLOL, 1000), "wrap"),
        (in_bottle(DEVELOPER, 500), "wrap"),
        (DEVELOPER, "wrap"),
        (in_bottle(BROMIDE, 501), "wrap"),
        (in_bottle(BORATE, 3000), "wrap"),
    ],
)
def test_the_smallest_layout_that_carries_everything_is_chosen(
    text: BottleText, layout: str
) -> None:
    assert choose(text, (), "room").name == layout


def test_a_preferred_layout_is_taken_whatever_the_bottle() -> None:
    assert choose(BROMIDE, (), "own", "wrap").name == "wrap"
    with pytest.raises(Unknown, match="no label layout 'huge'"):
        choose(BROMIDE, (), "own", "huge")


def test_where_no_layout_carries_a_bottle_it_is_told_which() -> None:
    hazard = replace(DEVELOPER.hazard, pictograms=(CORROSIVE,) * 4)
    text = in_bottle(replace(DEVELOPER, hazard=hazard), 5000)
    with pytest.raises(Misfit, match=r"no layout carries 'Film developer' .* 5000 mL"):
        choose(text, (), "room")


def test_the_parts_of_a_set_take_one_layout_that_carries_both() -> None:
    wordy = replace(PYROGALLOL, off_when="or when darker than weak tea. " * 4)
    assert choose(CARBONATE, (), "room").name == "wrap-low"
    assert choose(wordy, (), "room").name == "wrap"
    assert choose(CARBONATE, (), "room", beside=(wordy,)).name == "wrap"
    assert choose(wordy, (), "room", beside=(CARBONATE,)).name == "wrap"


def test_a_part_beside_which_nothing_carries_the_other_takes_its_own() -> None:
    endless = replace(PYROGALLOL, name="X" * 400)
    assert choose(CARBONATE, (), "room", beside=(endless,)).name == "wrap-low"


def test_a_number_of_wide_letters_is_not_promised_a_layout_it_does_not_fit() -> None:
    for sign in "0MW":
        number = f"{sign * 4}-{sign * 4}-{sign}"
        for mark in ("", "HOLD", "SHARED", "ASK M. Osei"):
            text = replace(DEVELOPER, number=number, use_mark=mark)
            layout = choose(text, (), "room")
            assert fitted(text, layout.name).layout == layout.name


@pytest.mark.parametrize(
    ("text", "layout", "least_pt"),
    [
        (DEVELOPER, "wrap", 11.3),
        (CARBONATE, "wrap-low", 11.3),
        (SILVER, "tag", 8.8),
        (BROMIDE, "small", 8.8),
        (BORATE, "tall", 7.7),
        (BORATE, "large", 8.8),
        (BORATE, "drum", 11.3),
    ],
)
def test_a_use_mark_is_larger_than_the_running_words(
    text: BottleText, layout: str, least_pt: float
) -> None:
    for mark, least in (("HOLD", least_pt), ("ASK M. Osei", 6.6)):
        page = fitted(replace(text, use_mark=mark), layout).page
        sizes = sizes_of(page, "bottle", "use-mark", "made")
        assert max(sizes) >= least, mark


def test_a_use_mark_with_a_name_grows_too() -> None:
    page = fitted(replace(DEVELOPER, use_mark="ASK M. Osei"), "wrap").page
    assert min(sizes_of(page, "use-mark")) >= 8.8


def test_a_use_mark_does_not_ask_for_a_larger_label() -> None:
    for mark in ("SHARED", "ASK M. Osei", "HOLD"):
        marked = replace(DEVELOPER, use_mark=mark)
        assert choose(marked, (), "room") == choose(DEVELOPER, (), "room")


def test_labels_that_differ_in_number_alone_are_set_alike() -> None:
    first = fitted(BORATE, "tall")
    second = fitted(
        replace(BORATE, number="KQW4-WMKQ-8", bottle="bottle 2 of 2"), "tall"
    )
    assert second.steps == first.steps
    assert symbols(second.page) == symbols(first.page)


def test_a_scale_finer_than_any_step_is_left_out() -> None:
    headline = replace(BORATE.headline, scale=Scale(Decimal(10_000)))
    page = fitted(replace(BORATE, headline=headline), "tall").page
    assert not [name for name, _ in lines_of(page) if name.startswith("scale")]
