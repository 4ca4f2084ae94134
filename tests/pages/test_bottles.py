"""Which date a bottle has by now, and which bottles are gone."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.ports import Event, Record
from labelkit.pages.bottles import (
    BottleLine,
    DateLine,
    bottle_lines,
    date_lines,
    for_the_clock,
    gone,
    happenings,
    states_of,
)
from tests.pages.print_room import BORATE_PAGE, happened, record

BATCH = record(BORATE_PAGE, "2032-03-14")
FIVE = record(BORATE_PAGE, "2032-03-14", bottles=5)


def dates(batch: Record, *events: Event) -> tuple[DateLine, ...]:
    return date_lines(batch, states_of(batch, events))


def test_all_bottles_have_the_date_of_the_batch() -> None:
    assert dates(BATCH) == (DateLine("", "2032-03-14"),)


def test_opening_one_brings_its_date_forward_and_says_so() -> None:
    events = [happened("opened", 2, discard_after="2031-10-01")]
    assert dates(BATCH, *events) == (
        DateLine("bottle 2", "2031-10-01", "opened 2031-04-01"),
        DateLine("bottle 1", "2032-03-14"),
    )


def test_the_older_date_counts() -> None:
    # shared reckoning, Dates: topping up keeps the older date
    events = [
        happened("opened", None, discard_after="2031-10-01"),
        happened("topped-up", None, discard_after="2033-10-01"),
    ]
    assert dates(BATCH, *events) == (DateLine("", "2031-10-01", "opened 2031-04-01"),)


def test_a_date_no_earlier_than_the_batch_changes_nothing() -> None:
    events = [happened("opened", None, discard_after="2032-03-14")]
    assert dates(BATCH, *events) == (DateLine("", "2032-03-14"),)


def test_a_discarded_bottle_has_no_date() -> None:
    events = [happened("discarded", 2), happened("discarded", 5)]
    assert dates(FIVE, *events) == (DateLine("bottles 1, 3, 4", "2032-03-14"),)
    assert gone(states_of(FIVE, events)) == "bottles 2, 5"


def test_many_bottles_are_told_as_a_run() -> None:
    events = [happened("discarded", 1)]
    assert dates(FIVE, *events) == (DateLine("bottles 2 to 5", "2032-03-14"),)


def test_when_all_are_discarded_there_is_no_date() -> None:
    assert dates(BATCH, happened("discarded", None)) == ()


def test_no_date_is_a_line_too() -> None:
    undated = record(BORATE_PAGE, None)
    assert dates(undated) == (DateLine("", None),)


@pytest.mark.parametrize(
    ("kept", "clock"),
    [
        (None, ""),
        ("2032-03-14", "2032-03-14"),
        ("2031-03-14 15:40", "2031-03-14T15:40"),
        ("2031-03-14T15:40:00+02:00", "2031-03-14T15:40"),
    ],
)
def test_a_date_is_written_for_the_clock_on_the_wall(
    kept: str | None, clock: str
) -> None:
    assert for_the_clock(kept) == clock


@given(st.lists(st.dates().map(str), min_size=1))
def test_the_earliest_of_all_dates_is_shown(written: list[str]) -> None:
    events = [happened("opened", 1, discard_after=date) for date in written]
    shown = {line.bottles: line.date for line in dates(BATCH, *events)}
    assert shown.get("bottle 1", shown.get("")) == min([*written, "2032-03-14"])


def test_an_event_is_told_with_who_how_much_and_why() -> None:
    (told,) = happenings(BATCH, [happened("used", 2, amount_mL="40", note="two films")])
    assert (told.when, told.bottle, told.what) == (
        "2031-04-01 09:30",
        "2",
        "used 40\u00a0mL",
    )
    assert (told.by, told.note) == ("R. Lindqvist-Amara", "two films")


def test_an_event_of_the_whole_batch_is_told_of_all_its_bottles() -> None:
    (told,) = happenings(BATCH, [happened("moved", None)])
    assert told.bottle == "all"


def test_what_is_left_is_told_bottle_by_bottle() -> None:
    sized = record(
        BORATE_PAGE,
        "2032-03-14",
        data={
            "answer": {"bottles": [{"bottle": n, "mL": 250} for n in (1, 2)]},
            "volume_mL": "500",
        },
    )
    told = bottle_lines(states_of(sized, [happened("used", 2, amount_mL="60")]))
    # 250 mL less 60 mL
    assert told[0] == BottleLine(
        "Bottle 1", "Full: 250\u00a0mL. Discard after 2032-03-14.", over=False
    )
    assert told[1].name == "Bottle 2"
    assert "190\u00a0mL of 250\u00a0mL left" in told[1].told


def test_where_nothing_happened_there_is_nothing_to_tell() -> None:
    assert bottle_lines(states_of(BATCH, [])) == ()
