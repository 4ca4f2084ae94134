"""The twin scale: both sides round, both true, and neither drawn over the other."""

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.words import Scale
from labelkit.printing.boxes import Bar, Text
from labelkit.printing.fonts import width_mm
from labelkit.printing.scale import rule_for, twin_scale

FACTORS = st.decimals("0.4", "400", places=2)
WIDTH = 66.8


def drawn(mL_per_g: str, mL: int = 500) -> tuple[list[Bar], dict[str, Text]]:
    boxes = twin_scale(
        Scale(Decimal(mL_per_g)), x=3.6, line_y=46.5, w=WIDTH, volume_mL=Decimal(mL)
    )
    bars = [box for box in boxes if isinstance(box, Bar)]
    return bars, {box.field: box for box in boxes if isinstance(box, Text)}


def figures(text: Text) -> list[str]:
    return [line.pieces[0][0].replace("\u00a0", " ") for line in text.lines]


def test_a_round_factor_gives_the_same_ticks_on_both_sides() -> None:
    # 20 mL of 5 % w/v hold 1 g.
    bars, texts = drawn("20")
    assert figures(texts["scale-mL"]) == ["0", "20", "40", "60", "80 mL"]
    assert figures(texts["scale-g"]) == ["0", "1", "2", "3", "4 g"]
    above = [(b.x, b.w) for b in bars[1:22]]
    below = [(b.x, b.w) for b in bars[22:]]
    assert above == below


def test_an_odd_factor_keeps_both_sides_round() -> None:
    # 17.3 mL hold 1 g, so 4 g are in 69.2 mL.
    bars, texts = drawn("17.3")
    assert figures(texts["scale-g"]) == ["0", "1", "2", "3", "4 g"]
    assert figures(texts["scale-mL"]) == ["0", "20", "40", "60 mL"]
    majors = [b for b in bars if b.h == 2.0 and b.y == pytest.approx(44.5)]
    at = [b.x + b.w / 2 - 3.6 for b in majors]
    expected = [20 * k / 69.2 * WIDTH for k in range(4)]
    assert at == pytest.approx(expected, abs=0.13)


@pytest.mark.parametrize(
    ("mL_per_g", "mL", "end_g", "step_g"),
    [
        ("20", 500, 4, "1"),
        ("2", 250, 20, "5"),  # 8 mL for 4 g would be too little to pour by
        ("100", 250, 2, "0.5"),  # 4 g would be more than the bottle holds
        ("100", 25, "0.2", None),
    ],
)
def test_steps_follow_the_bottle_and_the_cylinder(
    mL_per_g: str, mL: int, end_g: float | str, step_g: str | None
) -> None:
    rule = rule_for(Scale(Decimal(mL_per_g)), WIDTH, Decimal(mL))
    if step_g is None:
        assert rule is None or rule.end_g <= Decimal(str(end_g))
    else:
        assert rule is not None
        assert (rule.end_g, rule.step_g) == (Decimal(end_g), Decimal(step_g))


@given(FACTORS, st.integers(100, 3000), st.sampled_from([56.4, 66.8, 132.0]))
def test_there_are_three_to_six_steps_and_they_end_inside_the_bottle(
    mL_per_g: Decimal, mL: int, width: float
) -> None:
    rule = rule_for(Scale(mL_per_g), width, Decimal(mL))
    if rule is None:
        assert mL_per_g * Decimal("0.3") > mL or mL_per_g * 200 < 25
        return
    # design, print-spec section 8: 3 to 6 majors
    assert 3 <= rule.end_g / rule.step_g <= 6
    assert 3 <= int(rule.end_mL / rule.step_mL) <= 7
    assert rule.end_mL == rule.end_g * mL_per_g
    assert rule.end_mL <= mL


@given(FACTORS, st.integers(100, 3000))
def test_figures_keep_apart_and_inside(mL_per_g: Decimal, mL: int) -> None:
    boxes = twin_scale(
        Scale(mL_per_g), x=3.6, line_y=46.5, w=WIDTH, volume_mL=Decimal(mL)
    )
    for text in (box for box in boxes if isinstance(box, Text)):
        spans = [(ln.x, ln.x + width_mm(*ln.pieces[0])) for ln in text.lines]
        assert spans[0][0] >= 3.6 - 1e-6
        assert spans[-1][1] <= 3.6 + WIDTH + 1e-6
        assert all(b[0] > a[1] for a, b in pairwise(spans))
        assert text.lines[-1].pieces[0][0].endswith(("mL", "g"))
    for bar in (box for box in boxes if isinstance(box, Bar)):
        assert bar.x >= 3.6 - 1e-6
        assert bar.x + bar.w <= 3.6 + WIDTH + 1e-6
        assert (
            min(bar.w, bar.h) >= 0.15
        )  # what printers reproduce: print-spec section 7


def test_on_a_short_line_the_unit_is_kept_rather_than_a_figure() -> None:
    boxes = twin_scale(
        Scale(Decimal(105)), x=0, line_y=9, w=16, volume_mL=Decimal(1000)
    )
    (above,) = [b for b in boxes if isinstance(b, Text) and b.field == "scale-mL"]
    assert figures(above)[-1] == "400 mL"
    assert len(figures(above)) < 5


def test_ticks_are_as_long_as_they_should_be() -> None:
    # Line 0.35, majors 2.0 of 0.25, minors 1.1 of 0.16 wide: print-spec section 8.
    bars, _ = drawn("20")
    line, *ticks = bars
    assert (line.h, line.w) == (0.35, WIDTH)
    assert {(b.h, b.w) for b in ticks} == {(2.0, 0.25), (1.1, 0.16)}
    assert sum(b.h == 2.0 for b in ticks) == 2 * 5
    assert sum(b.h == 1.1 for b in ticks) == 2 * 4 * 4
