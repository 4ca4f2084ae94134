"""Opened and part-full bottles: by the recipe's own words (reckoning of dates)."""

from datetime import datetime

import pytest

from labelkit.mixing.dates import written
from labelkit.mixing.opened import brought_forward
from tests.mixing.conftest import Room

TEXT = """
title = "Developer"
makes = "1 L"
keeps = "6 months"
keeps_opened = "1 month"
keeps_part_full = "8 hours"
[[step]]
add = "water"
amount = "1 L"
"""


@pytest.mark.parametrize(
    ("what", "day"),
    [
        ("opened", "2031-02-28"),  # calendar months, clamped to the month's end
        ("used", "2031-01-31 17:30"),  # hours tell a clock time
        ("topped-up", None),  # topping up keeps the older date
        ("moved", None),
    ],
)
def test_what_happens_to_a_bottle_brings_its_date_forward(
    what: str, day: str | None, room: Room
) -> None:
    at = datetime.fromisoformat("2031-01-31T09:30")
    assert written(brought_forward(room.recipe(TEXT), what, at)) == day


def test_a_recipe_that_says_nothing_changes_nothing(room: Room) -> None:
    recipe = room.recipe(TEXT.replace("keeps_opened", "note"))
    at = datetime.fromisoformat("2031-01-31T09:30")
    assert brought_forward(recipe, "opened", at) is None


def test_what_was_used_was_opened_and_the_earlier_of_both_counts(room: Room) -> None:
    text = TEXT.replace("8 hours", "3 months")
    at = datetime.fromisoformat("2031-01-31T09:30")
    assert written(brought_forward(room.recipe(text), "used", at)) == "2031-02-28"


def test_film_through_a_bath_leaves_it_as_full_as_it_was(room: Room) -> None:
    at = datetime.fromisoformat("2031-01-31T09:30")
    recipe = room.recipe(TEXT)
    assert written(brought_forward(recipe, "used", at, poured=False)) == "2031-02-28"
