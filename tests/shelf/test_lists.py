"""What stands on the shelf, and what is past its date."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from labelkit.shelf import SqliteShelf, lists

Make = Callable[..., Any]


def bottles_due(shelf: SqliteShelf, at: date) -> list[tuple[str, int]]:
    return [(found.number, found.bottle) for found in shelf.due(at)]


def test_a_bottle_is_good_through_its_last_day(shelf: SqliteShelf, batch: Make) -> None:
    shelf.add(batch(bottles=1, discard_after="2032-03-14"))
    late = datetime(2032, 3, 14, 23, 59, 59, tzinfo=UTC)
    assert bottles_due(shelf, date(2032, 3, 14)) == []
    assert bottles_due(shelf, late) == []
    assert bottles_due(shelf, date(2032, 3, 15)) == [(batch().number, 1)]


@pytest.mark.parametrize("written", ["2031-03-14T22:00", "2031-03-14 22:00:00+01:00"])
def test_a_bottle_that_keeps_for_hours_is_due_on_the_minute(
    shelf: SqliteShelf, batch: Make, written: str
) -> None:
    shelf.add(batch(bottles=1, discard_after=written))
    before = datetime(2031, 3, 14, 21, 59, 59, tzinfo=UTC)
    assert bottles_due(shelf, before) == []
    assert bottles_due(shelf, date(2031, 3, 14)) == []
    assert len(shelf.due(datetime(2031, 3, 14, 22, 0, tzinfo=UTC))) == 1
    assert len(shelf.due(date(2031, 3, 15))) == 1


def test_without_a_date_nothing_is_ever_due(shelf: SqliteShelf, batch: Make) -> None:
    shelf.add(batch(discard_after=None))
    assert bottles_due(shelf, date.max) == []
    assert [found.discard_after for found in shelf.standing()] == [None, None]


def test_the_longest_past_comes_first(shelf: SqliteShelf, batch: Make) -> None:
    for n, day in ((1, "2031-05-02"), (2, "2031-05-01"), (3, "2031-05-03")):
        shelf.add(batch(n, bottles=1, discard_after=day))
    found = shelf.due(date(2031, 5, 3))
    assert [line.discard_after for line in found] == ["2031-05-01", "2031-05-02"]


def test_a_discarded_bottle_leaves_and_the_others_stay(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch(1, bottles=3))
    shelf.add(batch(2, bottles=1))
    shelf.append(event(1, "discarded", bottle=2))
    later = date(2040, 1, 1)
    one, two = batch(1).number, batch(2).number
    assert sorted(bottles_due(shelf, later)) == sorted([(one, 1), (one, 3), (two, 1)])
    shelf.append(event(1, "discarded", bottle=None))
    assert bottles_due(shelf, later) == [(two, 1)]
    assert [line.number for line in shelf.standing()] == [two]
    assert shelf.get(one) == batch(1, bottles=3)


def test_an_event_can_only_bring_a_date_forward(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch(1))
    shelf.add(batch(2, discard_after=None))
    shelf.append(event(1, bottle=2, discard_after="2031-06-01"))
    shelf.append(event(1, "topped-up", bottle=2, discard_after="2031-09-01"))
    shelf.append(event(2, bottle=None, discard_after="2031-07-01T08:00"))
    dated = {(s.number, s.bottle): s.discard_after for s in shelf.standing()}
    assert dated == {
        (batch(1).number, 1): "2032-03-14",
        (batch(1).number, 2): "2031-06-01",
        (batch(2).number, 1): "2031-07-01T08:00",
        (batch(2).number, 2): "2031-07-01T08:00",
    }
    assert bottles_due(shelf, date(2031, 6, 2)) == [(batch(1).number, 2)]


def test_a_line_tells_of_the_batch_and_the_bottle(
    shelf: SqliteShelf, batch: Make
) -> None:
    shelf.add(batch())
    line = shelf.standing()[1]
    record = batch()
    assert (line.bottle, line.bottles) == (2, 2)
    assert (line.number, line.recipe, line.title) == (
        record.number,
        record.recipe,
        record.title,
    )
    assert (line.mixed_on, line.made_by) == (record.mixed_on, record.made_by)


def test_the_newest_batch_stands_first(shelf: SqliteShelf, batch: Make) -> None:
    days = {1: 2, 2: 9, 3: 5}
    for n, day in days.items():
        shelf.add(batch(n, mixed_on=datetime(2031, 3, day, tzinfo=UTC)))
    found = [(line.number, line.bottle) for line in shelf.standing()]
    assert found == [(batch(n).number, bottle) for n in (2, 3, 1) for bottle in (1, 2)]


@pytest.mark.parametrize(
    ("query", "values", "reads"),
    [
        (f"{lists._STANDING} AND discard_key <= ?", ("2031",), "bottle_standing"),
        (
            lists._NEXT + lists._HOLDS + lists._IN_ORDER,
            ("~", "", "x", 9),
            "batch_newest",
        ),
        ("SELECT * FROM batch WHERE number = ?", ("x",), "sqlite_autoindex_batch"),
        (
            "SELECT * FROM event WHERE batch = ? ORDER BY at_key, id",
            (1,),
            "event_of_batch",
        ),
    ],
)
def test_every_list_is_read_from_an_index(
    path: Path, shelf: SqliteShelf, query: str, values: tuple[object, ...], reads: str
) -> None:
    assert list(shelf.all()) == []
    with closing(sqlite3.connect(path)) as connection:
        plan = [
            row[3] for row in connection.execute(f"EXPLAIN QUERY PLAN {query}", values)
        ]
    assert reads in plan[0]
    assert all(step.startswith("SEARCH") for step in plan), plan
