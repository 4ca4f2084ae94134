"""A shelf as an earlier form wrote it opens, keeps all it held, and takes what is new.

``form-1`` holds a shelf of the first form, as SQL and as it was exported.
"""

import sqlite3
from contextlib import closing
from datetime import datetime
from decimal import Decimal
from pathlib import Path

import pytest
from msgspec.structs import replace

from labelkit.mixing.bottle_state import State
from labelkit.mixing.ports import Event
from labelkit.mixing.standing import standings
from labelkit.shelf import SqliteShelf, open_shelf, schema

FORM_1 = Path(__file__).parent / "form-1"
NUMBER = "0000-0001-Y"


@pytest.fixture
def old(path: Path) -> Path:
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.executescript((FORM_1 / "shelf.sql").read_text("utf-8"))
        connection.execute(f"PRAGMA application_id = {schema.APPLICATION_ID}")
        connection.execute("PRAGMA user_version = 1")
    return path


def test_what_it_held_is_all_there(old: Path) -> None:
    with open_shelf(old, create=False) as shelf:
        record = shelf.get(NUMBER)
        assert (record.title, record.bottles) == ("Plain fixer", 2)
        assert [event.id for event in shelf.events(NUMBER)] == [
            "a-opened",
            "b-used",
            "c-discarded",
        ]
        (standing,) = shelf.standing()
        assert (standing.bottle, standing.discard_after) == (1, "2031-06-02")
        assert shelf.draft("pyro-a") == {"step": 2}
        assert list(shelf.export()) == (
            (FORM_1 / "shelf.jsonl").read_text("utf-8").splitlines()
        )


def test_its_bottles_are_told_as_those_of_today(old: Path) -> None:
    with open_shelf(old, create=False) as shelf:
        (told,) = shelf.told([NUMBER])
    first, second = standings(told.record, told.events)
    assert (first.state, first.remaining) == (State.PART_FULL, Decimal(190))
    # 20 rolls to the litre, so 5 to a bottle of 250 mL
    assert first.tallied is not None
    assert first.tallied.holds == 5
    assert first.use_mark == "HOLD"
    assert second.state is State.DISCARDED


def test_it_takes_what_could_not_be_said_before(old: Path) -> None:
    new = Event(
        NUMBER, 1, "used", datetime.fromisoformat("2031-04-05T09:00:00"),
        id="d-used", treated="2 roll", source="", place="window sill",
    )  # fmt: skip
    with open_shelf(old, create=False) as shelf:
        shelf.append(new)
        shelf.append(new)
        assert shelf.events(NUMBER)[-1] == new
        assert len(shelf.events(NUMBER)) == 4
    with closing(sqlite3.connect(old)) as connection:
        (version,) = connection.execute("PRAGMA user_version").fetchone()
    assert version == len(schema.MIGRATIONS)


def test_an_export_of_that_time_is_taken_in(shelf: SqliteShelf) -> None:
    lines = (FORM_1 / "shelf.jsonl").read_text("utf-8").splitlines()
    merged = shelf.import_lines(lines)
    assert (merged.batches, merged.events, merged.refused) == (1, 3, ())
    assert list(shelf.export()) == lines


def test_what_is_new_is_carried_by_an_export(old: Path, tmp_path: Path) -> None:
    new = Event(
        NUMBER, 1, "topped-up", datetime.fromisoformat("2031-04-05T09:00:00"),
        id="d", amount_mL="50", source="0000-0002-W/2",
    )  # fmt: skip
    dry = replace(new, id="e", what="used", amount_mL="", amount_g="12", source="")
    film = replace(dry, id="f", amount_g="", treated="4 4x5 sheet")
    moved = replace(dry, id="g", what="moved", amount_g="", place="cupboard B")
    with open_shelf(old, create=False) as shelf:
        for event in (new, dry, film, moved):
            shelf.append(event)
        lines = list(shelf.export())
        with open_shelf(tmp_path / "other.sqlite3", create=True) as other:
            other.import_lines(lines)
            again = other.import_lines(lines)
            assert other.events(NUMBER) == shelf.events(NUMBER)
    assert (again.events, again.events_known) == (0, 7)
