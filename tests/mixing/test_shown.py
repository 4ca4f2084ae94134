"""Figures as the room's instruments can read them."""

from decimal import Decimal

import pytest

from labelkit.mixing.bench import Settings
from labelkit.mixing.doses import Dose
from labelkit.mixing.shown import shown_dose, shown_quantity, shown_volume
from tests.mixing.conftest import Room


@pytest.mark.parametrize(
    ("grams", "balance", "told"),
    [
        ("8.65", "0.1", "8.7 g"),
        ("8.65", "0.01", "8.65 g"),
        ("17.3", "1", "17 g"),
        ("0.04", "0.1", "0.04 g"),
    ],
    ids=["half up", "finer", "coarser", "never 0"],
)
def test_a_weight_is_told_as_the_balance_reads(
    grams: str, balance: str, told: str
) -> None:
    dose = Dose(1, "metol", mass_g=Decimal(grams))
    assert shown_dose(dose, Settings(balance_g=Decimal(balance))) == told


@pytest.mark.parametrize(
    ("mL", "told"),
    [("302", "300 mL"), ("1502", "1.5 L"), ("49.99", "50 mL"), ("4.567", "4.57 mL")],
)
def test_a_volume_is_told_as_the_cylinder_reads(mL: str, told: str) -> None:
    """Below ten graduations something finer is taken than the large cylinder."""
    assert shown_volume(Decimal(mL), Settings()) == told
    assert shown_dose(Dose(1, "water", volume_mL=Decimal(mL)), Settings()) == told


def test_the_whole_is_told_by_what_fills_it(room: Room) -> None:
    recipe = """
        title = "Salt"
        makes = "{makes}"
        [[step]]
        add = "sodium-chloride"
        amount = "10 g"
        [[step]]
        make_up_to = "{makes}"
    """
    by_volume = room.plan(recipe.format(makes="500 mL")).job
    by_mass = room.plan(recipe.format(makes="500 g")).job
    assert shown_quantity(by_volume, room.settings) == "500 mL"
    assert shown_quantity(by_mass, room.settings) == "500.0 g"
