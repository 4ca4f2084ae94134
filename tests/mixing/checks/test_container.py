"""Bottles that do not suit what goes into them."""

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import levels, recipe, remarks, water
from tests.mixing.conftest import Room

WARN, NOTE = Level.WARN, Level.NOTE
BROMIDE = ("potassium-bromide", "10 g")
AGENT = ("hydroquinone", "10 g")


def bottled(chemical: tuple[str, str], keep_in: str, keeps: str = "6 months") -> str:
    head = f'keep_in = "{keep_in}"\nkeeps = "{keeps}"'
    return recipe(water(500), chemical, head=head)


# Never food or drink containers, even labelled: a regulator (NZ), handbooks, suppliers.
@pytest.mark.parametrize(
    "keep_in",
    ["juice bottle", "old jam jar", "Mineral water bottle", "beer bottle", "food box"],
)
def test_a_food_bottle_is_serious(keep_in: str, room: Room) -> None:
    assert levels(room, bottled(BROMIDE, keep_in), "container") == [(WARN, None)]


@pytest.mark.parametrize(
    "keep_in",
    [
        "brown glass bottle", "HDPE bottle", "food-grade HDPE canister",
        "glass, never a drink bottle", "", "wash bottle", "steam jar",
    ],
)  # fmt: skip
def test_a_bottle_that_is_none_is_left(keep_in: str, room: Room) -> None:
    assert remarks(room, bottled(BROMIDE, keep_in), "container") == []


# Alkali makes ground stoppers seize: handbooks before 1935.
def test_alkali_wants_no_ground_stopper(room: Room) -> None:
    ground = "glass with a ground stopper"
    alkali = bottled(("potassium-carbonate", "50 g"), ground)
    assert levels(room, alkali, "container") == [(NOTE, None)]
    assert remarks(room, bottled(BROMIDE, ground), "container") == []
    cap = bottled(("potassium-carbonate", "50 g"), "glass with a plastic cap")
    assert remarks(room, cap, "container") == []


# Amber glass for what light spoils: a plastics supplier, a retailer's guide.
def test_what_light_spoils_wants_no_clear_bottle(room: Room) -> None:
    silver = ("silver-nitrate", "10 g")
    clear = bottled(silver, "clear glass bottle")
    assert levels(room, clear, "container") == [(NOTE, None)]
    assert remarks(room, bottled(silver, "brown glass bottle"), "container") == []
    assert remarks(room, bottled(BROMIDE, "clear glass bottle"), "container") == []


# HDPE is a poor barrier to oxygen (a plastics supplier); what lives a week needs none
# (ours).
@pytest.mark.parametrize(("keeps", "told"), [("1 week", False), ("8 days", True)])
def test_a_developer_that_is_to_keep_wants_no_polyethylene(
    keeps: str, told: bool, room: Room
) -> None:
    text = bottled(AGENT, "HDPE bottle", keeps)
    assert levels(room, text, "container") == ([(NOTE, None)] if told else [])


@pytest.mark.parametrize("keep_in", ["PET bottle", "brown glass bottle"])
def test_glass_and_pet_keep_air_out(keep_in: str, room: Room) -> None:
    assert remarks(room, bottled(AGENT, keep_in), "container") == []
