"""Batches with their logs, read without the bulk of what was frozen."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from labelkit.errors import Unknown
from labelkit.mixing.standing import standings
from labelkit.shelf import SqliteShelf, open_shelf
from tests.shelf.conftest import number_of

Make = Callable[..., Any]

DATA = {
    "answer": {
        "make": {"mL": 250},
        "bottles": [{"bottle": 1, "mL": 125}, {"bottle": 2, "mL": 125}],
        "contents": [{"chemical": "pyrogallol"}],
        "weigh": [{"step": 2, "g": 10}],
    },
    "volume_mL": "250",
    "recipe": {"document": 'keeps_part_full = "2 months"', "name": "pyro-a"},
    "chemicals": [{"id": "pyrogallol", "tags": ["developer"]}],
    "words": {"page": {"use_mark": "HOLD", "name": "Pyrogallol"}},
}


def test_they_come_in_the_order_asked_for_each_once_and_none_invented(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    for which in (1, 2, 3):
        shelf.add(batch(which))
    shelf.append(event(2, "used", id="b", amount_mL="5"))
    shelf.append(event(2, "opened", id="a"))
    asked = [number_of(n) for n in (3, 2, 9, 3)]
    told = shelf.told(asked)
    assert [kept.record.number for kept in told] == [number_of(3), number_of(2)]
    assert [e.id for e in told[1].events] == ["a", "b"]
    assert list(told[0].events) == []


def test_a_slim_record_stands_as_the_whole_one_does(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch(data=DATA))
    shelf.append(event(what="used", amount_mL="25", id="a"))
    (kept,) = shelf.told([number_of(1)])
    whole = shelf.get(number_of(1))
    assert standings(kept.record, kept.events) == standings(whole, kept.events)
    assert "chemicals" not in kept.record.data
    assert "weigh" not in kept.record.data["answer"]
    (more,) = shelf.told([number_of(1)], whole=True)
    assert more.record.data["chemicals"] == DATA["chemicals"]


def test_a_record_of_another_shape_stands_as_well(
    shelf: SqliteShelf, batch: Make
) -> None:
    shelf.add(batch(1, data={}))
    shelf.add(batch(2, data={"answer": [1], "recipe": "no", "words": {"page": 3}}))
    for kept in shelf.told([number_of(1), number_of(2)]):
        states = standings(kept.record, kept.events)
        assert [state.filled for state in states] == [None, None]


def test_a_batch_and_what_was_poured_for_it_are_kept_together_or_not_at_all(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch(1))
    poured = event(1, "used", id="p", amount_mL="5", note=f"for {number_of(2)}")
    shelf.add(batch(2), events=[poured])
    assert shelf.events(number_of(1)) == [poured]
    shelf.add(batch(2), events=[event(1, "used", id="q")])  # kept once, with its events
    assert shelf.events(number_of(1)) == [poured]


def test_what_is_left_unread_is_the_same_once_it_is_read(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch(data=DATA))
    shelf.append(event(what="used", amount_mL="25", id="b"))
    shelf.append(event(what="opened", id="a", at=datetime(2031, 3, 20)))  # noqa: DTZ001
    kept = shelf.unread(number_of(1))
    assert kept.record.data == {}
    assert kept.whole() == shelf.get(number_of(1))
    assert list(kept.events) == list(shelf.events(number_of(1)))
    assert [e.id for e in kept.events] == ["a", "b"]


def test_what_was_not_recorded_cannot_be_left_unread(shelf: SqliteShelf) -> None:
    with pytest.raises(Unknown):
        shelf.unread(number_of(1))


def test_half_a_surrogate_pair_is_read_as_it_was_kept(
    shelf: SqliteShelf, batch: Make
) -> None:
    shelf.add(batch(data={"note": "\ud83d", "mL": 1.5, "g": "17.30"}))
    assert shelf.get(number_of(1)).data == {"note": "\ud83d", "mL": 1.5, "g": "17.30"}
    assert shelf.unread(number_of(1)).whole() == shelf.get(number_of(1))


def test_a_digest_stands_for_all_that_was_frozen_and_nothing_since(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch(data=DATA))
    before = shelf.unread(number_of(1)).digest
    shelf.append(event())
    assert shelf.unread(number_of(1)).digest == before


OTHERWISE = {
    "recipe": "other",
    "title": "Other",
    "mixed_on": datetime.fromisoformat("2031-03-14T18:05:00+02:00"),
    "made_by": "R. Lindqvist-Amara",
    "discard_after": None,
    "bottles": 3,
    "data": {"volume_mL": "251"},
}


@pytest.mark.parametrize("field", OTHERWISE)
def test_no_two_batches_have_the_same_digest(
    shelf: SqliteShelf, batch: Make, tmp_path: Path, field: str
) -> None:
    shelf.add(batch(data=DATA))
    with open_shelf(tmp_path / "other.sqlite3", create=True) as other:
        other.add(batch(**{"data": DATA, field: OTHERWISE[field]}))
        there = other.unread(number_of(1)).digest
    assert there != shelf.unread(number_of(1)).digest
