"""What does not dissolve, in its vessel and in the bottle."""

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import levels, only, recipe, remarks, water
from tests.mixing.conftest import Room

# CRC Handbook, 98th ed., aqueous solubility: anhydrous borax 2.50 % w/w at 20 degC, so
# 2.564 g in 100 g of water, and 3.167 at 25. The decahydrate brings its own water (R is
# 1.895): 100 s R / (100 - s (R - 1)), so 4.97 and 6.18 g in 100 g poured in.
BORAX_20, BORAX_25 = 4.97, 6.18


def borax(grams: float, at_C: float) -> str:
    """In 100 g of water; made up to a litre, so that the bottle never matters."""
    cooled = f'cool_to = "{at_C} degC"'
    return recipe(water(100.2, 60), ("borax-decahydrate", f"{grams} g"), cooled)


@pytest.mark.parametrize(
    ("grams", "at_C", "silent"),
    [
        (BORAX_25 - 0.03, 25, True), (BORAX_25 + 0.03, 25, False),
        (BORAX_20 - 0.03, 20, True), (BORAX_20 + 0.03, 20, False),
    ],
)  # fmt: skip
def test_a_vessel_holds_what_the_table_says_crystal_water_included(
    grams: float, at_C: float, silent: bool, room: Room
) -> None:
    found = levels(room, borax(grams, at_C), "solubility")
    assert found == ([] if silent else [(Level.NOTE, 3)])


def test_the_crystal_water_of_the_others_dissolves_it_too(room: Room) -> None:
    # 150 g of pentahydrate bring 54 g of water; boric acid: 5.8 g in 100 g at 25 degC
    cooled = 'cool_to = "25 degC"'
    hypo = ("sodium-thiosulfate-pentahydrate", "150 g")
    with_hypo = recipe(water(100, 90), hypo, ("boric-acid", "8 g"), cooled)
    assert remarks(room, with_hypo, "solubility") == []
    alone = recipe(water(100, 90), ("boric-acid", "8 g"), cooled)
    assert levels(room, alone, "solubility") == [(Level.NOTE, 3)]


def test_the_step_tells_how_warm_or_how_much_water(room: Room) -> None:
    text = recipe(water(200, 20), ("boric-acid", "20 g"), makes="1 L")
    said = only(room, text, "solubility")
    assert (said.level, said.step) == (Level.NOTE, 2)
    # CRC: 3.70 g in 100 g of water at 10 degC and 5.01 at 20, so 4.0 at 12, to which
    # the heat of solution cools it; 8.81 at 40 and 11.5 at 50, so 10 at 45
    assert said.text == (
        "Of 20 g of boric acid about 7.9 g dissolve in the water there at 12 °C: warm "
        "it to 45 °C or take 500 mL of water there. Other salts in it are not reckoned."
    )


# CRC: potassium dichromate 10.9 % w/w at 20 degC, 12.23 g in 100 g of water. By the
# rule of thumb for densities 100 mL with 12 g hold 95.6 g of water: 11.7 g dissolve.
@pytest.mark.parametrize(("grams", "warned"), [(11.6, False), (12, True)])
def test_what_20_degrees_cannot_hold_is_serious(
    grams: float, warned: bool, room: Room
) -> None:
    text = recipe(water(80, 60), ("potassium-dichromate", f"{grams} g"), makes="100 mL")
    found = [c for c in remarks(room, text, "solubility") if c.level is Level.WARN]
    assert bool(found) == warned
    if warned:
        assert found[0].text == (
            "At 20 °C about 0.3 g of the 12 g of potassium dichromate do not dissolve: "
            "take 2.5 mL more water, or keep and use it at 21 °C or more. Other salts "
            "in it are not reckoned."
        )


def test_what_crystallises_in_a_cold_room_is_a_note(room: Room) -> None:
    # 10 % potassium dichromate: 10 g in 96 g of water; the table has 7.67 g in 100 g
    # at 10 degC and 12.23 at 20, so 10.4 is reached at 16.
    text = recipe(water(80, 60), ("potassium-dichromate", "10 g"), makes="100 mL")
    said = only(room, text, "solubility")
    assert (said.level, said.step) == (Level.NOTE, None)
    assert "crystallises below about 16 °C" in said.text


def test_all_that_crystallises_in_the_cold_is_told_in_one_note(room: Room) -> None:
    text = recipe(
        water(700, 60), ("potassium-dichromate", "90 g"), ("boric-acid", "35 g")
    )
    said = only(room, text, "solubility")
    assert said.text.startswith("Potassium dichromate and boric acid crystallise below")


def test_a_solution_that_5_degrees_still_hold_is_passed_over(room: Room) -> None:
    # CRC: potassium bromide 54.9 g in 100 g of water at 0 degC
    text = recipe(water(80), ("potassium-bromide", "20 g"), makes="100 mL")
    assert remarks(room, text, "solubility") == []


def test_nothing_is_claimed_of_a_form_without_a_table(room: Room) -> None:
    text = recipe(water(50), ("sodium-hexametaphosphate", "400 g"), makes="100 mL")
    assert remarks(room, text, "solubility") == []


def test_nothing_is_claimed_of_what_alkali_turns_into_its_salt(room: Room) -> None:
    # 4-aminophenol, 1.6 g in 100 g of water at 25 degC, dissolves freely in lye
    alone = recipe(water(400), ("p-aminophenol", "50 g"))
    assert levels(room, alone, "solubility") == [(Level.WARN, None)]
    lye = recipe(water(400), ("sodium-hydroxide", "40 g"), ("p-aminophenol", "50 g"))
    assert remarks(room, lye, "solubility") == []


def test_nothing_is_claimed_where_glycol_is_the_solvent(room: Room) -> None:
    text = recipe(
        ("propylene-glycol", "80 mL"), ("pyrocatechol", "60 g"), makes="130 mL"
    )
    assert remarks(room, text, "solubility") == []


def test_a_declared_reaction_dissolves_what_it_uses_up(room: Room) -> None:
    declared = """
[[reaction]]
from = ["boric-acid", "sodium-hydroxide"]
to = ["sodium-metaborate-tetrahydrate"]
"""
    steps = (water(300), ("sodium-hydroxide", "20 g"), ("boric-acid", "30 g"))
    assert levels(room, recipe(water(300), ("boric-acid", "30 g")), "solubility")
    assert remarks(room, recipe(*steps) + declared, "solubility") == []


def test_a_dry_mixture_dissolves_nowhere(room: Room) -> None:
    text = recipe(
        ("boric-acid", "90 g"), ("sodium-sulfite-anhydrous", "10 g"),
        makes="100 g", fill=False,
    )  # fmt: skip
    assert remarks(room, text, "solubility") == []


def test_a_salt_too_strong_for_a_density_is_still_reckoned(room: Room) -> None:
    # 500 g/L is beyond the density estimate; 21.8 g in 100 g of water is all that
    # 20 degC hold of anhydrous sodium carbonate
    text = recipe(water(700, 90), ("sodium-carbonate-anhydrous", "500 g"))
    assert levels(room, text, "solubility")[0] == (Level.WARN, None)
