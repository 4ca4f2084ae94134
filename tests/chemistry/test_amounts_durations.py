"""How long something keeps, and the day or the moment when that is over."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.amounts import Duration, parse_duration
from labelkit.errors import BadInput


@pytest.mark.parametrize(
    ("text", "count", "unit"),
    [
        ("12 months", 12, "months"),
        ("1 month", 1, "months"),
        ("8 hours", 8, "hours"),
        ("15 minutes", 15, "minutes"),
        ("3 days", 3, "days"),
        ("2 weeks", 2, "weeks"),
        ("1 year", 1, "years"),
        ("100 years", 100, "years"),
        ("2.0 weeks", 2, "weeks"),
    ],
)
def test_durations_are_read(text: str, count: int, unit: str) -> None:
    assert parse_duration(text) == Duration(count, unit)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            "1.5 years",
            "'1.5 years' is not a whole number of years. "
            "Write a whole number of a smaller unit, such as 18 months.",
        ),
        (
            "5",
            "'5' has no unit. Write minutes, hours, days, weeks, months or years.",
        ),
        (
            "3 m",  # minutes or months?
            "'3 m' has an unknown unit. "
            "Write minutes, hours, days, weeks, months or years.",
        ),
        (
            "101 years",
            "'101 years' is longer than 100 years. "
            "Leave it out where nothing is known.",
        ),
        ("0 days", "'0 days' is not more than 0. Write a number above 0."),
        ("-1 day", "'-1 day' is not more than 0. Write a number above 0."),
    ],
)
def test_a_duration_that_is_unclear_is_refused(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_duration(text)
    assert str(caught.value) == line


@pytest.mark.parametrize(
    ("start", "duration", "end"),
    [
        # the calendar itself: February has no 30th, and a 29th in 2032 but not in 2031
        (date(2031, 3, 14), Duration(12, "months"), date(2032, 3, 14)),
        (date(2031, 1, 31), Duration(1, "months"), date(2031, 2, 28)),
        (date(2032, 1, 31), Duration(1, "months"), date(2032, 2, 29)),
        (date(2031, 8, 31), Duration(6, "months"), date(2032, 2, 29)),
        (date(2031, 10, 31), Duration(13, "months"), date(2032, 11, 30)),
        (date(2032, 2, 29), Duration(1, "years"), date(2033, 2, 28)),
        (date(2031, 12, 15), Duration(1, "months"), date(2032, 1, 15)),
        (date(2031, 2, 27), Duration(2, "days"), date(2031, 3, 1)),
        (date(2031, 12, 25), Duration(2, "weeks"), date(2032, 1, 8)),
    ],
)
def test_days_are_counted_on_the_calendar(
    start: date, duration: Duration, end: date
) -> None:
    assert duration.after(start) == end


def test_hours_keep_the_clock_time() -> None:
    start = datetime(2031, 3, 14, 18, 40)  # noqa: DTZ001 a wall clock without a zone
    assert Duration(8, "hours").after(start) == start + timedelta(hours=8)
    assert Duration(8, "hours").by_the_clock
    assert not Duration(1, "days").by_the_clock


def test_months_keep_the_time_of_day() -> None:
    start = datetime(2031, 1, 31, 18, 40, tzinfo=UTC)
    assert Duration(1, "months").after(start) == start.replace(month=2, day=28)


def test_hours_are_counted_through_a_change_of_the_clocks() -> None:
    # Directive 2000/84/EC: summer time begins on the last Sunday of March, 01:00 UTC
    berlin = ZoneInfo("Europe/Berlin")
    start = datetime(2031, 3, 30, 0, 30, tzinfo=berlin)
    end = Duration(8, "hours").after(start)
    assert end == datetime(2031, 3, 30, 9, 30, tzinfo=berlin)
    assert (end.hour, end.astimezone(UTC) - start.astimezone(UTC)) == (
        9,
        timedelta(hours=8),
    )


def test_hours_cannot_be_counted_from_a_day_alone() -> None:
    with pytest.raises(BadInput) as caught:
        Duration(8, "hours").after(date(2031, 3, 14))
    assert str(caught.value) == (
        "8 hours cannot be counted from a day alone. "
        "Give the time too, such as 2031-03-14 15:30."
    )


@given(
    st.dates(date(1990, 1, 1), date(2090, 12, 31)),
    st.integers(1, 600),
)
def test_months_land_in_the_right_month_on_or_before_the_day(
    start: date, months: int
) -> None:
    end = Duration(months, "months").after(start)
    assert (end.year - start.year) * 12 + end.month - start.month == months
    assert end.day == start.day or (end + timedelta(days=1)).day == 1
    assert end.day <= start.day


@given(st.dates(date(1990, 1, 1), date(2090, 12, 31)), st.integers(1, 50))
def test_a_year_is_twelve_months(start: date, years: int) -> None:
    by_years = Duration(years, "years").after(start)
    assert by_years == Duration(12 * years, "months").after(start)
