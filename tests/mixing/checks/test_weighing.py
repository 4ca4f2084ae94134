"""Weights too small for the balance, and what would mend them."""

from decimal import Decimal

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import levels, only, recipe, water
from tests.mixing.conftest import Room


# A tared mass on a balance of 0.1 g is known to 0.1 x sqrt(2) / sqrt(12) = 0.0408 g
# (JCGM 100:2008, F.2.2.1), 5 % of 0.816 g; that 5 % is too little: common practice.
@pytest.mark.parametrize(("grams", "warned"), [("0.817", False), ("0.816", True)])
def test_a_weighing_known_worse_than_to_five_per_cent_is_told(
    grams: str, warned: bool, room: Room
) -> None:
    text = recipe(water(500), ("potassium-bromide", f"{grams} g"))
    found = levels(room, text, "weighing")
    assert found == ([(Level.WARN, 2)] if warned else [])


def test_a_finer_balance_has_no_trouble(room: Room) -> None:
    text = recipe(water(500), ("potassium-bromide", "0.5 g"))
    assert levels(room.set_up(balance_g=Decimal("0.01")), text, "weighing") == []


def test_a_percent_stock_mends_it(room: Room) -> None:
    text = recipe(water(500), ("potassium-bromide", "0.5 g"))
    said = only(room, text, "weighing").text
    assert said.endswith("dissolve 5 g to 100 mL and take 10 mL.")


def test_the_stock_is_no_stronger_than_what_dissolves(room: Room) -> None:
    # phenidone: 1 g dissolves in 100 mL of water at 25 degC, 2 g do not
    text = recipe(water(500), ("phenidone", "0.2 g"))
    said = only(room, text, "weighing").text
    assert "dissolve 2.5 g to 250 mL and take 20 mL" in said


def test_a_stock_that_is_diluted_once_more_mends_what_is_smaller(room: Room) -> None:
    text = recipe(water(500), ("potassium-bromide", "0.004 g"))
    said = only(room, text, "weighing").text
    assert "of that up to" in said


def test_a_dry_mixture_is_made_larger(room: Room) -> None:
    text = recipe(
        ("potassium-bromide", "0.5 g"), ("sodium-sulfite-anhydrous", "49.5 g"),
        makes="50 g", fill=False,
    )  # fmt: skip
    said = only(room, text, "weighing").text
    # 0.816 g take 81.6 g of it; the next round batch
    assert said.endswith("make 100 g or more.")
