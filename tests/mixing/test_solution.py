"""What stands in the bottle: contents, strength, density and shares."""

from decimal import Decimal

import pytest

from labelkit.errors import BadInput
from labelkit.mixing.solution import Solution
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE, text

WEIGHED = """
title = "Weighed"
makes = "100 g"
{tables}
[[step]]
add = "sodium-carbonate-monohydrate"
amount = "20 g"
[[step]]
{fill}
"""
ADD_WATER = 'add = "water"\namount = "80 g"'


def salt(room: Room, chemical: str, amount: str, tables: str = "") -> Solution:
    return room.plan(text("100 mL", [(chemical, amount)], tables)).solution


def strength(of: str) -> str:
    return f'[strength]\nof = "{of}"'


def density(value: str) -> str:
    return f'[measured]\ndensity = "{value} g/mL"'


def share(room: Room, solution: Solution) -> Decimal:
    (part,) = solution.parts(room.books.catalogue)
    return part.added


def test_a_strength_counts_every_form_of_its_parent(room: Room) -> None:
    """The same moles in another form: M of the hydrate over M of the salt."""
    solution = salt(
        room,
        "sodium-carbonate-anhydrous",
        "10.5988 g",
        strength("sodium-carbonate-decahydrate"),
    )
    assert solution.strength is not None
    assert solution.strength.mass_g == Decimal("28.6141")  # 0.1 mol


def test_a_strength_of_a_solution_is_told_in_grams_of_that_solution(room: Room) -> None:
    solution = salt(room, "acetic-acid-glacial", "10 mL", strength("acetic-acid-28pct"))
    held = solution.contents[0].mass_g
    assert solution.strength is not None
    assert solution.strength.mass_g == held / Decimal("0.28")


def test_a_form_without_a_formula_counts_as_itself(room: Room) -> None:
    green = "ferric-ammonium-citrate-green"
    solution = salt(room, green, "25 g", strength(green))
    assert solution.strength is not None
    assert solution.strength.g_per_L == 250
    assert solution.strength.mL_per_g == 4
    assert solution.strength.mol_per_L is None


def test_a_strength_of_what_is_not_in_it_is_refused(room: Room) -> None:
    with pytest.raises(BadInput) as caught:
        salt(room, "borax-decahydrate", "5 g", strength("sodium-metaborate-dihydrate"))
    assert str(caught.value) == (
        "strength, of: the solution holds no sodium metaborate dihydrate and no other "
        "form of sodium-metaborate. Name a form of what it holds: borax-decahydrate."
    )


def test_leftover_borax_is_no_metaborate(room: Room) -> None:
    steps = [("borax-decahydrate", "381.372 g"), ("sodium-hydroxide", "39.997 g")]
    solution = room.plan(text("1 L", steps, METABORATE)).solution
    assert solution.strength is not None
    # half a mole of borax with one mole of lye makes two moles of metaborate
    assert solution.strength.g_per_L == 2 * Decimal("137.861")
    assert {c.chemical for c in solution.contents} == {
        "borax-decahydrate",
        "sodium-metaborate-tetrahydrate",
    }


def test_without_a_density_the_rule_of_thumb_tells_the_water(room: Room) -> None:
    # 0.35 mL a gram of anhydrous solute, water 0.9982 g/mL: common practice, no source
    strong = salt(room, "potassium-carbonate", "50 g")
    assert strong.density is None
    water_g = strong.free_water_g(room.books.catalogue)
    assert water_g == (100 - Decimal("0.35") * 50) * Decimal("0.9982")
    weak = salt(room, "potassium-carbonate", "5 g")
    assert weak.free_water_g(room.books.catalogue) == weak.ledger.water_g


def test_a_measured_density_tells_the_mass_of_the_whole(room: Room) -> None:
    solution = salt(room, "potassium-bromide", "10 g", density("1.07"))
    assert solution.density is not None
    assert solution.density.source == "measured"
    assert solution.mass_g == 107
    assert solution.contents[0].percent_ww == Decimal(10) / 107 * 100


@pytest.mark.parametrize(
    ("tables", "percent"),
    [("", Decimal(10)), (density("1.07"), 1000 / Decimal(107))],
    ids=["g/L ÷ 10", "by the measured density"],
)
def test_an_estimated_density_never_lowers_a_share(
    room: Room, tables: str, percent: Decimal
) -> None:
    """Worked by hand from the rules: 10 % w/v of bromide is 10.0 %, measured 9.35 %."""
    solution = salt(room, "potassium-bromide", "10 g", tables)
    assert share(room, solution) == pytest.approx(percent, rel=Decimal("1e-20"))


def test_an_estimate_below_one_raises_a_share(room: Room) -> None:
    solution = salt(room, "isopropyl-alcohol", "5 mL")
    assert solution.density is not None
    assert solution.density.g_per_mL < 1
    grams = solution.contents[0].mass_g
    assert share(room, solution) > grams  # of 100 mL


def test_shares_go_by_mass_where_every_part_was_weighed(room: Room) -> None:
    solution = room.plan(WEIGHED.format(tables="", fill=ADD_WATER)).solution
    assert share(room, solution) == 20
    assert solution.weighed_whole


def test_a_strong_solution_is_never_more_than_all_of_it(room: Room) -> None:
    """190 g in 100 mL by g/L ÷ 10 would be 190 %; the whole weighs at least that."""
    solution = salt(room, "copper-sulfate-pentahydrate", "190 g")
    assert share(room, solution) == 100


def test_what_is_filled_up_by_mass_is_known_by_mass(room: Room) -> None:
    weighed = room.plan(WEIGHED.format(tables="", fill=ADD_WATER)).solution
    filled = room.plan(WEIGHED.format(tables="", fill='make_up_to = "100 g"')).solution
    assert filled.mass_g == weighed.mass_g == 100
    assert filled.contents == weighed.contents
    assert share(room, filled) == 20
    assert not filled.dry


def test_by_mass_without_density_nothing_is_told_per_litre(room: Room) -> None:
    tables = strength("sodium-carbonate-anhydrous")
    solution = room.plan(WEIGHED.format(tables=tables, fill=ADD_WATER)).solution
    assert solution.strength is not None
    (content,) = solution.contents
    assert (content.g_per_L, content.mol_per_L) == (None, None)
    assert (solution.strength.g_per_L, solution.strength.mol_per_L) == (None, None)
    assert solution.strength.mL_per_g is None
    assert content.percent_ww == 20
    assert solution.density_reason == (
        "it is made by mass: only a measured density would tell"
    )


def test_by_mass_with_a_density_everything_is_told_per_litre(room: Room) -> None:
    tables = f"{strength('sodium-carbonate-monohydrate')}\n{density('1.25')}"
    solution = room.plan(WEIGHED.format(tables=tables, fill=ADD_WATER)).solution
    assert solution.volume_mL == 80
    assert solution.contents[0].g_per_L == 250
    assert solution.strength is not None
    assert solution.strength.mL_per_g == 4


def test_powders_without_a_drop_are_dry(room: Room) -> None:
    text = """
        title = "Bag"
        makes = "30 g"
        [[step]]
        add = "sodium-carbonate-anhydrous"
        amount = "30 g"
    """
    plan = room.plan(text)
    assert plan.solution.dry
    assert plan.reasons["ph"] == "a dry mixture has no pH"


def test_crystal_water_is_water(room: Room) -> None:
    """18 parts of water in 124.004 of the monohydrate."""
    solution = room.plan(WEIGHED.format(tables="", fill=ADD_WATER)).solution
    water_g = solution.water_g(room.books.catalogue)
    assert water_g is not None
    assert float(water_g) == pytest.approx(80 + 20 * 18.015 / 124.004, rel=1e-4)
