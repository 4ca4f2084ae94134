"""Close to a limit: what a density, a balance or a meter would settle."""

from decimal import Decimal

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import levels, only, own, recipe, remarks, water
from tests.mixing.conftest import Room

NOTE = Level.NOTE
CODE = "near-limit"
# Eye Irrit. 2 from 10 % of an irritant: CLP, Annex I, Table 3.3.3
IRRITANT = own("irritant", more='classes = ["Eye Irrit. 2"]\nbasis = "own"')


def measured(grams: float) -> str:
    """So much in a litre that weighs 1 kg by measurement."""
    text = recipe(water(700), ("irritant", f"{grams} g"), makes="1 L")
    return text + IRRITANT + '\n[measured]\ndensity = "1 g/mL"'


# A litre in a cylinder of 5 mL is known to 5 / sqrt(3) = 2.89 mL, and 100 g on a
# balance of 0.1 g to 0.041 g (JCGM 100:2008): together 0.29 %, so 0.58 % at k = 2.
@pytest.mark.parametrize(
    ("grams", "found"),
    [(99.3, []), (99.5, [NOTE]), (100.5, [NOTE]), (100.7, [])],
)
def test_a_share_within_what_balance_and_cylinder_know_is_told(
    grams: float, found: list[Level], room: Room
) -> None:
    assert [level for level, _ in levels(room, measured(grams), CODE)] == found


def test_it_tells_on_which_side_it_stands(room: Room) -> None:
    over = only(room, measured(100.2), CODE).text
    assert "Eye Irrit. 2 (irritant 10.02 % ≥ 10 %)" in over
    under = only(room, measured(99.8), CODE).text
    assert "Eye Irrit. 2, not reached (irritant 9.98 % < 10 %)" in under
    assert "Weigh and fill up with care" in under


# By estimate 100 g/L of a salt without crystal water weigh 1.063 g/mL, ± 2 %; the share
# is reckoned as g/L / 10 and truly lies from 9.22 to 9.60 %.
@pytest.mark.parametrize(
    ("grams", "found"), [(110, []), (107.5, [NOTE]), (100, [NOTE]), (99.3, [])]
)
def test_an_estimated_density_asks_to_be_measured(
    grams: float, found: list[Level], room: Room
) -> None:
    text = recipe(water(700), ("irritant", f"{grams} g")) + IRRITANT
    remarked = remarks(room, text, CODE)
    assert [check.level for check in remarked] == found
    if found:
        assert "A measured density settles it" in remarked[0].text


def test_a_solution_may_be_lighter_than_the_estimate_too(room: Room) -> None:
    # about as heavy as water: 9.8 % by estimate, 10.0 % at 2 % less
    more = 'classes = ["Eye Irrit. 2"]\nbasis = "own"\ndensity = "1 g/mL"'
    liquid = own("liquid", state="liquid", more=more)
    text = recipe(water(700), ("liquid", "98 g")) + liquid
    assert "not reached" in only(room, text, CODE).text
    settled = '\n[measured]\ndensity = "1 g/mL"'
    assert remarks(room, text + settled, CODE) == []


# A poured dose is known to one in fifty, rectangular: 1.15 %; with the cylinder 2.4 %
# at k = 2.
@pytest.mark.parametrize(("mL", "found"), [(98, [NOTE]), (97, [])])
def test_a_poured_dose_is_known_less_well(
    mL: float, found: list[Level], room: Room
) -> None:
    more = 'classes = ["Eye Irrit. 2"]\nbasis = "own"\ndensity = "1 g/mL"'
    liquid = own("liquid", state="liquid", more=more)
    text = recipe(water(700), ("liquid", f"{mL} mL")) + liquid
    measured = '\n[measured]\ndensity = "1 g/mL"'
    assert [level for level, _ in levels(room, text + measured, CODE)] == found


def test_what_was_weighed_whole_has_no_density_to_measure(room: Room) -> None:
    text = recipe(("water", "899.9 g"), ("irritant", "100 g"), makes="1 L", fill=False)
    said = only(room, text + IRRITANT, CODE).text
    assert "irritant 10 % ≥ 10 %" in said
    assert "Weigh and fill up with care" in said


def test_what_stands_far_from_every_limit_is_silent(room: Room) -> None:
    assert remarks(room, measured(50), CODE) == []
    assert remarks(room, recipe(water(700), ("potassium-bromide", "10 g")), CODE) == []


ALKALI = recipe(water(500), ("sodium-carbonate-anhydrous", "40 g"))


# The pH rule: 2 and 11.5 (CLP, Annex I, 3.2.3.1.2); a meter knows 0.1 (common practice,
# no source).
@pytest.mark.parametrize(
    ("ph", "told"),
    [(11.39, False), (11.4, True), (11.5, True), (11.59, True), (11.6, False)],
)
def test_a_measured_ph_within_what_a_meter_knows_is_measured_again(
    ph: float, told: bool, room: Room
) -> None:
    found = remarks(room, f"{ALKALI}\n[measured]\nph = {ph}", CODE)
    assert [check.level for check in found] == ([NOTE] if told else [])
    if told:
        assert f"pH {ph} measured; from 11.5" in found[0].text
        assert "measure it again" in found[0].text


@pytest.mark.parametrize(
    ("ph", "told"), [(2.11, False), (2.1, True), (1.91, True), (1.9, False)]
)
def test_the_same_on_the_acid_side(ph: float, told: bool, room: Room) -> None:
    acid = recipe(water(800), ("citric-acid-monohydrate", "60 g"))
    found = remarks(room, f"{acid}\n[measured]\nph = {ph}", CODE)
    assert bool(found) == told


def test_an_estimate_whose_band_crosses_the_limit_is_to_be_measured(room: Room) -> None:
    # 0.1 mol/kg of sodium carbonate: pH 11.5 within 0.3 of it, whoever reckons
    text = recipe(water(500), ("sodium-carbonate-anhydrous", "40 g"))
    plan = room.plan(text)
    assert plan.ph is not None
    assert plan.ph.low <= 11.5 <= plan.ph.high
    assert "by estimate" in only(room, text, CODE).text


def test_a_ph_that_changes_nothing_is_not_asked_for_again(room: Room) -> None:
    # 10 % of sodium hydroxide is Skin Corr. 1A by its own limit, whatever the pH
    text = recipe(water(500), ("sodium-hydroxide", "100 g"))
    assert remarks(room, f"{text}\n[measured]\nph = 11.5", CODE) == []


def test_a_finer_bench_settles_it(room: Room) -> None:
    fine = room.set_up(balance_g=Decimal("0.01"), cylinder_mL=Decimal("0.5"))
    assert remarks(fine, measured(99.8), CODE) == []
