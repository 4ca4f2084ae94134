"""What a reaction leaves over: serious, worth a note, or below what a balance sees."""

import pytest

from labelkit.mixing.check import Level
from tests.mixing.checks.remarks import levels, only, recipe, remarks, water
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE

WARN, NOTE = Level.WARN, Level.NOTE
# Na2B4O7.10H2O + 2 NaOH: 17.3 g / 381.372 g/mol x 2 x 39.997 g/mol = 3.6287 g of lye
# use the borax up (molar masses: CIAAW 2021 by molmass).
BORAX_G, LYE_G = 17.3, 3.6287


def stock(borax_g: float, lye_g: float, makes: str = "500 mL") -> str:
    steps = (
        water(300),
        ("borax-decahydrate", f"{borax_g} g"),
        ("sodium-hydroxide", f"{lye_g} g"),
    )
    return recipe(*steps, makes=makes) + METABORATE


# The contract: a strong acid or base above 5 % of its addition or 1 g/L is serious.
@pytest.mark.parametrize(
    ("over", "makes", "found"),
    [
        (0.051, "500 mL", [WARN]),  # 0.195 g of 3.82 g
        (0.049, "500 mL", [NOTE]),
    ],
)
def test_lye_left_over_is_serious_above_five_per_cent(
    over: float, makes: str, found: list[Level], room: Room
) -> None:
    text = stock(BORAX_G, LYE_G / (1 - over), makes)
    assert [level for level, _ in levels(room, text, "leftover")] == found


@pytest.mark.parametrize(("per_L", "found"), [(1.02, [WARN]), (0.98, [NOTE])])
def test_lye_left_over_is_serious_above_a_gram_in_a_litre(
    per_L: float, found: list[Level], room: Room
) -> None:
    text = stock(10 * BORAX_G, 10 * LYE_G + per_L, "1 L")
    assert [level for level, _ in levels(room, text, "leftover")] == found


@pytest.mark.parametrize(("over", "found"), [(0.0102, [NOTE]), (0.0098, [])])
def test_what_is_no_strong_alkali_is_noted_above_one_per_cent(
    over: float, found: list[Level], room: Room
) -> None:
    text = stock(10 * BORAX_G / (1 - over), 10 * LYE_G, "2 L")
    assert [level for level, _ in levels(room, text, "leftover")] == found


def test_what_the_balance_cannot_see_is_not_told(room: Room) -> None:
    text = stock(1.0, 0.3)  # 0.09 g of lye left, a third of it
    assert remarks(room, text, "leftover") == []
    finer = room.set_up(balance_g=room.settings.balance_g / 10)
    assert levels(finer, text, "leftover") == [(WARN, None)]


def test_it_says_how_much_of_the_other_would_use_it_up(room: Room) -> None:
    said = only(room, stock(BORAX_G, LYE_G + 1), "leftover")
    # 1.00 g of NaOH takes 381.372 / (2 x 39.997) = 4.77 g of borax
    assert said.text == (
        "1 g of sodium hydroxide are left over; 4.8 g more of borax decahydrate would "
        "use them up."
    )


def test_nothing_is_left_over_where_nothing_reacts(room: Room) -> None:
    text = recipe(water(300), ("sodium-hydroxide", "30 g"))
    assert remarks(room, text, "leftover") == []
