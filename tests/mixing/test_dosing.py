"""A solid taken from a bottle: at its real strength, its water off the recipe's."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput, NoAnswer
from labelkit.mixing.doses import Stock
from labelkit.mixing.dosing import Dosed, dosed
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.said import NBSP
from labelkit.mixing.working import as_stock
from tests.mixing.conftest import Room

DEVELOPER = """\
title = "Developer"
makes = "1 L"
[[step]]
add = "water"
amount = "700 mL"
[[step]]
add = "sodium-sulfite-anhydrous"
amount = "50 g"
[[step]]
add = "potassium-bromide"
amount = "4 g"
[[step]]
make_up_to = "1 L"
"""


def bottle(room: Room, chemical: str, grams: str, *more: tuple[str, str]) -> Stock:
    """A bottle of 100 mL."""
    parts = [(chemical, grams), *more]
    steps = "".join(f'[[step]]\nadd = "{c}"\namount = "{g} g"\n' for c, g in parts)
    text = (
        'title = "Bottle"\nmakes = "100 mL"\n[[step]]\nadd = "water"\n'
        f'amount = "50 mL"\n{steps}[[step]]\nmake_up_to = "100 mL"\n'
    )
    return replace(as_stock(room.plan(text), batch="7K3M-Q9TX-8"), name="bottle")


def dose(
    room: Room, text: str, chemical: str, stock: Stock, times: str = "1"
) -> tuple[Recipe, Dosed]:
    catalogue = room.books.catalogue
    return dosed(
        room.recipe(text),
        catalogue.substance(chemical),
        stock,
        catalogue,
        Decimal(times),
    )


def test_four_grams_of_a_ten_per_cent_stock_are_forty_mL(room: Room) -> None:
    stock = bottle(room, "potassium-bromide", "10")
    recipe, told = dose(room, DEVELOPER, "potassium-bromide", stock)
    assert told.volume_mL == 40
    assert told.mL_per_g == 10
    water, _, poured, _ = recipe.steps
    assert water.amount is not None
    assert water.amount.number == 660
    assert poured.add == "recipe:bottle"
    assert poured.amount is not None
    assert poured.amount.number == 40
    contents = {
        c.chemical: c.g_per_L
        for c in room.plan(recipe, stocks={"bottle": stock}).solution.contents
    }
    assert contents["potassium-bromide"] == 4
    assert contents["sodium-sulfite-anhydrous"] == 50


def test_what_else_is_in_the_bottle_comes_along(room: Room) -> None:
    stock = bottle(room, "potassium-bromide", "10", ("hydroquinone", "5"))
    recipe, _ = dose(room, DEVELOPER, "potassium-bromide", stock)
    plan = room.plan(recipe, stocks={"bottle": stock})
    assert {c.chemical: c.g_per_L for c in plan.solution.contents}["hydroquinone"] == 2
    plain = room.plan(DEVELOPER)
    # hydroquinone sensitises below a per cent: its name is due from a tenth on
    assert "hydroquinone" in plan.hazard.euh208_names
    assert "hydroquinone" not in plain.hazard.euh208_names


def test_another_form_in_the_bottle_counts_by_its_parent(room: Room) -> None:
    text = DEVELOPER.replace("potassium-bromide", "sodium-carbonate-anhydrous")
    stock = bottle(room, "sodium-carbonate-monohydrate", "11.7")
    _, told = dose(room, text, "sodium-carbonate-anhydrous", stock)
    # 11.7 / 1.170 = 10 g of the anhydrous salt in 100 mL (practice.md, section 5)
    assert told.volume_mL == pytest.approx(40, abs=Decimal("0.01"))


def test_the_assay_the_recipe_was_written_for_is_taken_off(room: Room) -> None:
    text = DEVELOPER.replace('amount = "4 g"', 'amount = "4 g"\nassay = "90 %"')
    stock = bottle(room, "potassium-bromide", "10")
    _, told = dose(room, text, "potassium-bromide", stock)
    assert told.volume_mL == 36


def test_every_step_that_adds_it_is_poured(room: Room) -> None:
    text = DEVELOPER.replace("sodium-sulfite-anhydrous", "potassium-bromide")
    stock = bottle(room, "potassium-bromide", "40")
    recipe, told = dose(room, text, "potassium-bromide", stock)
    assert told.volume_mL == 135
    assert sum(step.recipe == "bottle" for step in recipe.steps) == 2


def test_figures_are_told_for_the_quantity_that_is_made(room: Room) -> None:
    stock = bottle(room, "potassium-bromide", "10")
    _, told = dose(room, DEVELOPER, "potassium-bromide", stock, times="0.5")
    assert told.volume_mL == 20
    assert told.changes == (
        f"Potassium bromide from bottle 7K3M-Q9TX-8 (Bottle): "
        f"20{NBSP}mL carry the 2{NBSP}g.",
        f"Water in step 1: 330{NBSP}mL instead of 350{NBSP}mL.",
    )


def test_water_comes_off_the_last_step_first(room: Room) -> None:
    text = DEVELOPER.replace(
        "[[step]]\nmake_up_to",
        '[[step]]\nadd = "water"\namount = "30 mL"\n[[step]]\nmake_up_to',
    )
    stock = bottle(room, "potassium-bromide", "10")
    recipe, _ = dose(room, text, "potassium-bromide", stock)
    left = [s.amount.number for s in recipe.steps if s.add == "water" and s.amount]
    assert left == [690]


def test_water_below_nothing_is_refused_with_the_strength_that_fits(
    room: Room,
) -> None:
    # no filling up: the recipe has 100 mL of water, and 10 g take 1 L of a 1 % bottle
    text = (
        'title = "D"\nmakes = "110 mL"\n[[step]]\nadd = "water"\namount = "100 mL"\n'
        '[[step]]\nadd = "potassium-bromide"\namount = "10 g"\n'
    )
    with pytest.raises(NoAnswer) as caught:
        dose(room, text, "potassium-bromide", bottle(room, "potassium-bromide", "1"))
    assert str(caught.value) == (
        "--stock: 10 g of potassium bromide take 1000 mL of batch 7K3M-Q9TX-8, and the "
        "recipe has 100 mL of water. Weigh the solid, or use a bottle of at least "
        "100 g/L (10 % w/v)."
    )
    # at that strength it fits to the last drop
    recipe, told = dose(
        room, text, "potassium-bromide", bottle(room, "potassium-bromide", "10")
    )
    assert told.volume_mL == 100
    assert not any(step.add == "water" for step in recipe.steps)


def test_what_the_filling_up_would_add_counts_as_water(room: Room) -> None:
    text = DEVELOPER.replace('amount = "700 mL"', 'amount = "30 mL"')
    stock = bottle(room, "potassium-bromide", "1")
    recipe, told = dose(room, text, "potassium-bromide", stock)
    assert told.volume_mL == 400
    assert room.plan(recipe, stocks={"bottle": stock}).job.volume_mL == 1000


def test_a_bottle_without_it_is_refused(room: Room) -> None:
    stock = bottle(room, "metol", "2")
    with pytest.raises(BadInput) as caught:
        dose(room, DEVELOPER, "potassium-bromide", stock)
    assert str(caught.value) == (
        "--stock: batch 7K3M-Q9TX-8 holds no potassium bromide and no other form of "
        "it. It holds: metol. Name another batch."
    )


def test_a_chemical_the_recipe_does_not_add_is_refused(room: Room) -> None:
    stock = bottle(room, "metol", "2")
    with pytest.raises(BadInput, match="--stock: no step of stock adds metol"):
        dose(room, DEVELOPER, "metol", stock)


def test_a_reagent_poured_from_a_bottle_still_reacts(room: Room) -> None:
    text = (
        'title = "M"\nmakes = "500 mL"\n[strength]\n'
        'of = "sodium-metaborate-tetrahydrate"\n[[reaction]]\n'
        'from = ["borax-decahydrate", "sodium-hydroxide"]\n'
        'to = ["sodium-metaborate-tetrahydrate"]\n'
        '[[step]]\nadd = "water"\namount = "300 mL"\n'
        '[[step]]\nadd = "borax-decahydrate"\namount = "6.916 g"\n'
        '[[step]]\nin = "jug"\nadd = "water"\namount = "50 mL"\n'
        '[[step]]\nin = "jug"\nadd = "sodium-hydroxide"\namount = "1.451 g"\n'
        '[[step]]\npour = "jug"\n[[step]]\nmake_up_to = "500 mL"\n'
    )
    stock = bottle(room, "borax-pentahydrate", "3")
    recipe, _ = dose(room, text, "borax-decahydrate", stock)
    assert recipe.reactions[0].reactants == ("borax-pentahydrate", "sodium-hydroxide")
    strength = room.plan(recipe, stocks={"bottle": stock}).solution.strength
    assert strength is not None
    # B-mb-02: 69.16 g and 14.51 g make 100 g
    assert strength.mass_g == pytest.approx(10, rel=Decimal("2e-3"))
