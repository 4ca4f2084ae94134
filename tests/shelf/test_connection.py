"""When the file cannot be used, one line says so and nothing is half-written."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import pytest

from labelkit.errors import ShelfError
from labelkit.shelf import SqliteShelf, open_shelf
from labelkit.shelf.connection import ShelfFile, connect

Make = Callable[..., Any]
WRITABLE = "See that the file and its folder exist and may be written to."
AGAIN = "Run the command again."


@contextmanager
def opened(path: Path, **how: Any) -> Iterator[tuple[SqliteShelf, sqlite3.Connection]]:
    with closing(connect(path, **how)) as connection:
        yield SqliteShelf(ShelfFile(path, connection)), connection


def refusal(path: Path, act: Callable[[], object]) -> str:
    with pytest.raises(ShelfError) as caught:
        act()
    line = str(caught.value)
    assert line.startswith(f"{path}: ")
    return line.removeprefix(f"{path}: ")


def test_a_shelf_that_may_only_be_read_can_be_read(
    path: Path, shelf: SqliteShelf, batch: Make
) -> None:
    shelf.add(batch())
    with opened(path, mode="ro") as (read_only, _):
        assert list(read_only.all()) == [batch()]
        line = refusal(path, lambda: read_only.add(batch(2)))
        assert line == f"cannot be written to. {WRITABLE}"
    assert list(shelf.all()) == [batch()]


def test_a_full_disk_keeps_what_was_there_and_nothing_half(
    path: Path, shelf: SqliteShelf, batch: Make
) -> None:
    shelf.add(batch())
    with opened(path) as (cramped, connection):
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count = {pages}")
        line = refusal(path, lambda: cramped.add(batch(2, data={"w": "w" * 50_000})))
        assert line == f"does not fit on the disk: it is full. Make room. {AGAIN}"
        connection.execute("PRAGMA max_page_count = 1000")
        cramped.add(batch(3))
    assert {record.number for record in shelf.all()} == {
        batch(1).number,
        batch(3).number,
    }
    assert len(shelf.standing()) == 4


@pytest.mark.parametrize("lock", ["IMMEDIATE", "EXCLUSIVE"])
def test_a_locked_file_is_waited_for_and_then_told_of(
    path: Path, shelf: SqliteShelf, batch: Make, lock: str
) -> None:
    shelf.add(batch())
    with (
        closing(sqlite3.connect(path, isolation_level=None)) as other,
        opened(path, wait_s=0.05) as (hasty, _),
    ):
        other.execute(f"BEGIN {lock}")
        assert refusal(path, lambda: hasty.add(batch(2))) == (
            f"is locked by another program. Close whatever else has it open. {AGAIN}"
        )
        other.execute("ROLLBACK")
        hasty.add(batch(2))
    assert len(list(shelf.all())) == 2


def test_a_file_that_vanished_or_was_replaced_is_noticed(
    path: Path, shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch())
    moved = path.rename(path.with_name("moved.sqlite3"))
    line = f"was moved, deleted or replaced while it was open. {AGAIN}"
    for act in (
        lambda: shelf.add(batch(2)),
        lambda: shelf.append(event()),
        lambda: list(shelf.all()),
        lambda: shelf.get(batch().number),
        lambda: list(shelf.export()),
    ):
        assert refusal(path, act) == line
    open_shelf(path, create=True).close()
    assert refusal(path, lambda: shelf.add(batch(2))) == line
    with open_shelf(moved, create=False) as there:
        assert list(there.all()) == [batch()]


def test_a_fault_of_ours_is_not_blamed_on_the_file(
    path: Path, shelf: SqliteShelf
) -> None:
    with (
        opened(path) as (_, connection),
        pytest.raises(sqlite3.OperationalError, match="no such table"),
        ShelfFile(path, connection).writing() as own,
    ):
        own.execute("SELECT * FROM nowhere")
    assert list(shelf.all()) == []


def test_whatever_interrupts_a_transaction_undoes_it(
    path: Path, shelf: SqliteShelf, batch: Make
) -> None:
    def lines() -> Iterator[str]:
        yield from exported
        raise KeyboardInterrupt

    shelf.add(batch())
    exported = list(shelf.export())
    with open_shelf(path.with_name("other.sqlite3"), create=True) as other:
        with pytest.raises(KeyboardInterrupt):
            other.import_lines(lines())
        assert list(other.all()) == []
        other.add(batch(2))
        assert list(other.all()) == [batch(2)]
