"""Whether the parts come to what the recipe claims."""

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import levels, only, recipe, remarks, water
from tests.mixing.conftest import Room


# 5 % is the contract's. 52 g of potassium bromide and 474 g of water at a measured 1.05
# g/mL are 501 mL.
@pytest.mark.parametrize(
    ("makes", "warned"),
    [("500 mL", False), ("478 mL", False), ("476 mL", True), ("528 mL", True)],
)
def test_parts_that_come_to_another_volume_are_told(
    makes: str, warned: bool, room: Room
) -> None:
    text = recipe(
        ("water", "474 g"), ("potassium-bromide", "52 g"), makes=makes, fill=False
    )
    measured = '\n[measured]\ndensity = "1.05 g/mL"'
    found = levels(room, text + measured, "volume")
    assert found == ([(Level.WARN, None)] if warned else [])


def test_what_is_filled_up_has_the_volume_it_is_filled_up_to(room: Room) -> None:
    text = recipe(water(100), ("potassium-bromide", "5 g"), makes="1 L")
    assert remarks(room, text, "volume") == []


@pytest.mark.parametrize(("makes", "warned"), [("100 g", False), ("110 g", True)])
def test_a_dry_mixture_must_weigh_what_it_makes(
    makes: str, warned: bool, room: Room
) -> None:
    text = recipe(
        ("sodium-sulfite-anhydrous", "50 g"), ("potassium-bromide", "50 g"),
        makes=makes, fill=False,
    )  # fmt: skip
    found = remarks(room, text, "volume")
    assert bool(found) == warned


def test_it_tells_both_figures(room: Room) -> None:
    text = recipe(
        ("sodium-sulfite-anhydrous", "50 g"), ("potassium-bromide", "50 g"),
        makes="200 g", fill=False,
    )  # fmt: skip
    said = only(room, text, "volume").text
    assert "The parts come to 100 g, the recipe says 200 g" in said
