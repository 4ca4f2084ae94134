"""Doses: a recipe's amounts, for the quantity asked for and the jars at hand."""

from decimal import Decimal

import pytest

from labelkit.chemistry.amounts import parse_amount
from labelkit.errors import BadInput
from labelkit.mixing.doses import Dose, doses_for, mass_of, poured, scaling, volume_of
from tests.mixing.conftest import Room

LYE = """
title = "Lye"
makes = "500 mL"

[[step]]
add = "water"
amount = "300 mL"
at = "15 degC"
kind = "boiled"

[[step]]
add = "sodium-hydroxide"
amount = "10 g"
{assay}

[[step]]
make_up_to = "500 mL"
"""
DENSE = """
title = "By mass"
makes = "120 g"
{measured}
[[step]]
add = "water"
amount = "100 g"
[[step]]
add = "sodium-chloride"
amount = "20 g"
"""


def lye(room: Room, assay: str = "", **jars: str) -> Dose:
    """The dose of lye, for a recipe written for ``assay`` and a jar of another."""
    recipe = room.recipe(LYE.format(assay=f'assay = "{assay}"' if assay else ""))
    assays = {name.replace("_", "-"): Decimal(jar) for name, jar in jars.items()}
    doses = doses_for(recipe, Decimal(1), room.books.catalogue, assays, {})
    return doses[1]


def test_a_dose_keeps_what_its_step_says(room: Room) -> None:
    recipe = room.recipe(LYE.format(assay=""))
    water, powder = doses_for(recipe, Decimal(2), room.books.catalogue, {}, {})
    assert water == Dose(
        1, "water", volume_mL=Decimal(600), at_C=Decimal(15), kind="boiled"
    )
    assert powder == Dose(2, "sodium-hydroxide", mass_g=Decimal(20))
    assert (water.weighed, powder.weighed) == (False, True)


@pytest.mark.parametrize(
    ("written_for", "jar", "weigh_g"),
    [
        ("", "100", "10"),
        ("98 %", "98", "10"),
        ("98 %", "", "10"),
        ("", "80", "12.5"),
        ("98 %", "49", "20"),
    ],
    ids=["pure", "as written", "no jar known", "weaker", "half as strong"],
)
def test_a_weaker_jar_is_weighed_out_in_proportion(
    room: Room, written_for: str, jar: str, weigh_g: str
) -> None:
    """To weigh = amount × the step's assay ÷ the jar's (reckoning, Assay)."""
    dose = lye(room, written_for, **({"sodium_hydroxide": jar} if jar else {}))
    assert dose.mass_g == Decimal(weigh_g)


def test_a_corrected_dose_carries_as_much_as_was_meant(room: Room) -> None:
    dose = lye(room, "98 %", sodium_hydroxide="85")
    ledger = poured([dose], room.books.catalogue, {})
    assert ledger.present_g("sodium-hydroxide") == pytest.approx(Decimal("9.8"))


def test_a_quantity_scales_within_its_dimension(room: Room) -> None:
    recipe = room.recipe(LYE.format(assay=""))
    assert scaling(recipe, parse_amount("1.25 L")) == Decimal("2.5")


def test_a_mass_of_a_recipe_by_volume_wants_a_density(room: Room) -> None:
    with pytest.raises(BadInput) as caught:
        scaling(room.recipe(LYE.format(assay="")), parse_amount("1 kg"))
    assert str(caught.value) == (
        "--make: stock makes 500 mL; 1 kg is not a volume. "
        "Ask for it as the recipe has it, or write a measured density."
    )


def test_a_measured_density_turns_one_into_the_other(room: Room) -> None:
    measured = '[measured]\ndensity = "1.2 g/mL"'
    recipe = room.recipe(DENSE.format(measured=measured))
    assert scaling(recipe, parse_amount("1 L")) == 10  # 1200 g of 120 g
    assert volume_of(recipe.makes, Decimal("1.2")) == 100
    assert volume_of(recipe.makes, None) is None


def test_a_liquid_is_weighed_through_its_density(room: Room) -> None:
    """Own entry of the catalogue: hydrochloric acid 37 %, 1.19 g/mL (table value)."""
    acid = room.books.catalogue.substance("hydrochloric-acid-37pct")
    assert acid.density is not None
    dose = Dose(1, acid.id, volume_mL=Decimal(10))
    assert mass_of(dose, acid) == 10 * acid.density.value


def test_mL_of_a_solid_are_refused(room: Room) -> None:
    salt = room.books.catalogue.substance("sodium-chloride")
    with pytest.raises(BadInput) as caught:
        mass_of(Dose(3, salt.id, volume_mL=Decimal(10)), salt)
    assert str(caught.value) == (
        "step 3, amount: sodium-chloride has no density, so mL cannot be turned into "
        "grams. Write the amount in g, or give the chemical a density."
    )


def test_another_recipe_brings_its_share_of_everything(room: Room) -> None:
    stock = room.stock(LYE.format(assay=""), "lye")
    dose = Dose(1, "recipe:lye", volume_mL=Decimal(50))
    ledger = poured([dose], room.books.catalogue, {"lye": stock})
    assert ledger.present_g("sodium-hydroxide") == 1  # a tenth of 10 g
    assert ledger.mass_g == stock.ledger.mass_g / 10


def test_water_weighs_what_water_weighs_at_20_degrees(room: Room) -> None:
    """0.9982 g/mL: CRC Handbook, Standard Density of Water, recalled."""
    catalogue = room.books.catalogue
    measured = poured([Dose(1, "water", volume_mL=Decimal(100))], catalogue, {})
    weighed = poured([Dose(1, "water", mass_g=Decimal(100))], catalogue, {})
    assert (measured.water_g, weighed.water_g) == (Decimal("99.82"), Decimal(100))
