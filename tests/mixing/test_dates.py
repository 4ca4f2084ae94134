"""When a bottle is to be thrown away, and how that is written."""

from datetime import date, datetime

import pytest
from msgspec.structs import replace

from labelkit.mixing.dates import is_past, last_moment, moment_words, written
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


def test_a_bottle_is_good_through_its_last_day_or_moment() -> None:
    in_order = [
        "2031-03-13",
        "2031-03-14T00:00",
        "2031-03-14 22:00",
        "2031-03-14T22:00:30",
        "2031-03-14",
        "2031-03-15",
        None,
    ]
    assert sorted(in_order, key=last_moment) == in_order
    night = datetime.fromisoformat("2031-03-14T23:59:59.999999")
    assert not is_past("2031-03-14", night)
    assert is_past("2031-03-14", datetime.fromisoformat("2031-03-15"))
    assert not is_past("2031-03-14 22:00", datetime.fromisoformat("2031-03-14T21:59"))
    assert is_past("2031-03-14 22:00", datetime.fromisoformat("2031-03-14T22:00"))
    assert not is_past(None, night)
    assert not is_past("", night)


def test_dates_are_compared_by_the_rooms_own_clock() -> None:
    # written with a zone, a label still shows the wall clock
    assert last_moment("2031-03-14T22:00+02:00") == last_moment("2031-03-14T22:00")


def test_midnight_is_how_a_day_without_a_time_is_told() -> None:
    assert moment_words(datetime.fromisoformat("2031-03-14")) == "2031-03-14"
    told = moment_words(datetime.fromisoformat("2031-03-14T00:01"))
    assert told == "2031-03-14 00:01"
