"""When a bottle is to be thrown away, and how that is written."""

from dataclasses import replace
from datetime import date, datetime

import pytest

from labelkit.mixing.dates import written
from tests.mixing.conftest import Room

RECIPE = """
title = "Keeps"
makes = "1 L"
{keeps}
[[step]]
add = "water"
amount = "1 L"
"""


@pytest.mark.parametrize(
    ("day", "told"),
    [
        (date(2032, 3, 14), "2032-03-14"),
        (datetime.fromisoformat("2032-03-14T15:40"), "2032-03-14 15:40"),
        (None, None),
    ],
)
def test_a_day_is_written_by_iso_8601(day: date | None, told: str | None) -> None:
    assert written(day) == told


@pytest.mark.parametrize(
    ("keeps", "mixed", "told"),
    [
        ('keeps = "12 months"', "2031-03-14T12:00", "2032-03-14"),
        ('keeps = "1 month"', "2031-01-31T12:00", "2031-02-28"),
        ('keeps = "2 weeks"', "2031-03-14T23:59", "2031-03-28"),
        ('keeps = "8 hours"', "2031-03-14T18:30", "2031-03-15 02:30"),
        ('keeps_working = "1 hour"', "2031-03-14T12:00", "2031-03-14 13:00"),
        ("", "2031-03-14T12:00", None),
    ],
    ids=[
        "months",
        "clamped to the month's end",
        "weeks",
        "hours",
        "working",
        "unknown",
    ],
)
def test_it_keeps_as_long_as_its_recipe_says(
    room: Room, keeps: str, mixed: str, told: str | None
) -> None:
    then = replace(room, noon=datetime.fromisoformat(mixed))
    plan = then.plan(RECIPE.format(keeps=keeps))
    assert written(plan.discard_after) == told
    assert ("discard_after" in plan.reasons) is (told is None)
