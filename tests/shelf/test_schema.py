"""The file records its migrations, and the log in it cannot be changed."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from labelkit.shelf import SqliteShelf, open_shelf, schema

Make = Callable[..., Any]


@pytest.fixture
def outside(
    path: Path, shelf: SqliteShelf, batch: Make, event: Make
) -> Iterator[sqlite3.Connection]:
    """A connection that some other program made, with all of its defaults."""
    shelf.add(batch())
    shelf.append(event(id="one"))
    shelf.close()
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        yield connection


def told(connection: sqlite3.Connection, pragma: str) -> Any:
    return connection.execute(f"PRAGMA {pragma}").fetchone()[0]


def test_the_file_says_whose_it_is_and_what_it_has_been_through(
    outside: sqlite3.Connection,
) -> None:
    assert told(outside, "application_id").to_bytes(4, "big") == b"lbkt"
    assert told(outside, "user_version") == len(schema.MIGRATIONS)
    versions = outside.execute("SELECT version FROM migration").fetchall()
    assert versions == [(n + 1,) for n in range(len(schema.MIGRATIONS))]
    assert told(outside, "journal_mode") == "delete"


def test_the_tables_that_are_looked_for_are_those_that_are_made(
    outside: sqlite3.Connection,
) -> None:
    rows = outside.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    assert {name for (name,) in rows} == schema.TABLES


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE batch SET title = 'water'",
        "UPDATE event SET note = 'never mind'",
        "DELETE FROM batch",
        "DELETE FROM event",
        "INSERT OR REPLACE INTO event SELECT * FROM event",
        "INSERT OR REPLACE INTO event (id, batch, bottle, what, at_key, at, done_by,"
        " amount_mL, note, discard_after) SELECT id, batch, bottle, what, at_key, at,"
        " done_by, amount_mL, 'never mind', discard_after FROM event",
        "INSERT OR REPLACE INTO batch SELECT * FROM batch",
        "INSERT OR REPLACE INTO batch SELECT id + 1, number, mixed_key, mixed_on,"
        " recipe, 'water', made_by, discard_after, bottles, words, data FROM batch",
        "INSERT OR REPLACE INTO batch SELECT id, '0', mixed_key, mixed_on, recipe,"
        " 'water', made_by, discard_after, bottles, words, data FROM batch",
    ],
)
def test_no_statement_changes_the_log(
    outside: sqlite3.Connection, statement: str
) -> None:
    def everything() -> list[Any]:
        return [
            outside.execute(f"SELECT * FROM {table}").fetchall()
            for table in ("batch", "event")
        ]

    before = everything()
    with pytest.raises(sqlite3.IntegrityError, match="the log is only added to"):
        outside.execute(statement)
    assert everything() == before


def test_an_older_file_is_brought_up_to_date_and_keeps_its_batches(
    path: Path, shelf: SqliteShelf, batch: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf.add(batch())
    shelf.close()
    newer = (*schema.MIGRATIONS, ("CREATE TABLE place (name TEXT)",))
    monkeypatch.setattr(schema, "MIGRATIONS", newer)
    with open_shelf(path, create=False) as opened:
        assert list(opened.all()) == [batch()]
    with closing(sqlite3.connect(path)) as connection:
        assert told(connection, "user_version") == len(newer)
        assert connection.execute("SELECT * FROM place").fetchall() == []
        applied = connection.execute("SELECT count(*) FROM migration").fetchone()
    assert applied == (len(newer),)


def test_a_migration_that_fails_leaves_the_file_as_it_was(
    path: Path, shelf: SqliteShelf, batch: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf.add(batch())
    shelf.close()
    before = path.read_bytes()
    faulty = ("CREATE TABLE place (name TEXT)", "CREATE NONSENSE")
    with monkeypatch.context() as patch:
        patch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, faulty))
        with pytest.raises(sqlite3.OperationalError, match="NONSENSE"):
            open_shelf(path, create=False)
    assert path.read_bytes() == before
    with open_shelf(path, create=False) as opened:
        assert list(opened.all()) == [batch()]
