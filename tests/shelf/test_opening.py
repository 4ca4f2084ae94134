"""What is no shelf of ours is refused in one line, and is left as it is."""

import os
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from labelkit.errors import ShelfError
from labelkit.shelf import SqliteShelf, open_shelf, schema
from labelkit.shelf.opening import fresh_file

Make = Callable[..., Any]
ROOT = Path(__file__).resolve().parents[2]
DAMAGED = "is damaged, or no shelf at all. Put a backup in its place."
EMPTY = (
    "is empty: what it held is lost, or it was never a shelf. "
    "Put a backup in its place, or remove it to begin a new shelf."
)
FOREIGN = "is a database of another program, not a shelf. Name another bench or file."
UNWRITABLE = "See that the file and its folder exist and may be written to."


def refused(path: Path, *, create: bool = False) -> str:
    with pytest.raises(ShelfError) as caught:
        open_shelf(path, create=create)
    line = str(caught.value)
    assert line.startswith(f"{path}: ")
    assert len(line.splitlines()) == 1
    return line.removeprefix(f"{path}: ")


def start(script: str, *arguments: object) -> "subprocess.Popen[str]":
    return subprocess.Popen(
        [sys.executable, "-c", script, *map(str, arguments)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
    )


def full_shelf(path: Path, batch: Make) -> None:
    with open_shelf(path, create=True) as shelf:
        for n in range(40):
            shelf.add(batch(n, data={"words": "w" * 2000}))


def test_a_shelf_is_made_only_when_asked(path: Path) -> None:
    assert refused(path) == "no shelf is there. Set one up: labelkit init"
    assert not path.exists()
    open_shelf(path, create=True).close()
    assert [p.name for p in path.parent.iterdir()] == [path.name]
    open_shelf(path, create=False).close()


@pytest.mark.parametrize("create", [False, True])
@pytest.mark.parametrize(
    ("content", "line"),
    [
        pytest.param(b"", EMPTY, id="empty"),
        pytest.param(b"borax 17.3 g\n", DAMAGED, id="short text"),
        pytest.param(b"borax 17.3 g\n" * 500, DAMAGED, id="long text"),
        pytest.param(bytes(8192), DAMAGED, id="zeros, as a lost block leaves"),
        pytest.param(b"SQLite format 3\0", DAMAGED, id="the first bytes only"),
        pytest.param(b"%PDF-1.4\n" + bytes(range(256)) * 8, DAMAGED, id="a print"),
    ],
)
def test_what_is_no_database_is_refused_and_left_alone(
    path: Path, content: bytes, line: str, create: bool
) -> None:
    path.write_bytes(content)
    assert refused(path, create=create) == line
    assert path.read_bytes() == content


@pytest.mark.parametrize("create", [False, True])
@pytest.mark.parametrize(
    "statements",
    [
        ["CREATE TABLE notes (text)"],
        ["CREATE TABLE batch (number)", "PRAGMA user_version = 1"],
        ["CREATE TABLE notes (text)", "PRAGMA application_id = 252006673"],
        [f"PRAGMA application_id = {schema.APPLICATION_ID}"],
    ],
)
def test_another_programs_database_is_refused_and_left_alone(
    path: Path, statements: list[str], create: bool
) -> None:
    with closing(sqlite3.connect(path)) as connection:
        for statement in statements:
            connection.execute(statement)
    before = path.read_bytes()
    assert refused(path, create=create) == FOREIGN
    assert path.read_bytes() == before


def test_a_shelf_without_its_tables_is_damaged(path: Path) -> None:
    open_shelf(path, create=True).close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TABLE event")
    assert refused(path) == DAMAGED


@pytest.mark.parametrize("left", [99, 100, 4095, 4096, 5000, 8192, 40_960])
def test_a_file_cut_short_is_refused(path: Path, batch: Make, left: int) -> None:
    full_shelf(path, batch)
    assert path.stat().st_size > left
    path.write_bytes(path.read_bytes()[:left])
    assert refused(path) == DAMAGED


def test_a_damaged_page_is_told_when_it_is_read(path: Path, batch: Make) -> None:
    full_shelf(path, batch)
    content = bytearray(path.read_bytes())
    content[8 * 4096 :] = b"\xff" * (len(content) - 8 * 4096)
    path.write_bytes(content)
    with open_shelf(path, create=False) as shelf, pytest.raises(ShelfError) as caught:
        list(shelf.all())
    assert str(caught.value) == f"{path}: {DAMAGED}"


def test_a_newer_shelf_is_refused_and_left_alone(path: Path) -> None:
    open_shelf(path, create=True).close()
    newer = len(schema.MIGRATIONS) + 1
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"PRAGMA user_version = {newer}")
    before = path.read_bytes()
    assert refused(path) == (
        f"was written by a newer labelkit (form {newer}; this one reads up to "
        f"{newer - 1}). Install the newer labelkit."
    )
    assert path.read_bytes() == before


def test_where_no_file_can_be_the_line_says_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    for path in (
        tmp_path,
        tmp_path / "file" / "shelf.sqlite3",
        tmp_path / "missing" / "shelf.sqlite3",
    ):
        assert refused(path, create=True) == f"cannot be opened. {UNWRITABLE}"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["file"]


def test_a_path_may_hold_what_an_address_may_not(tmp_path: Path, batch: Make) -> None:
    path = tmp_path / "50 % #1? é.sqlite3"
    with open_shelf(path, create=True) as shelf:
        shelf.add(batch())
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


def test_a_file_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "there"

    def write_both() -> None:
        with fresh_file(path) as made:
            made.write_text("new")
            path.write_text("old")

    with pytest.raises(FileExistsError):
        write_both()
    assert path.read_text() == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["there"]


def test_a_drive_without_second_names_gets_a_copy(
    path: Path, batch: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(self: Path, target: Path) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    with open_shelf(path, create=True) as shelf:
        shelf.add(batch())
        assert list(shelf.all()) == [batch()]
    assert [p.name for p in path.parent.iterdir()] == [path.name]


def test_a_copy_that_fails_leaves_nothing(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(self: Path, target: Path) -> None:
        raise PermissionError(1, "Operation not permitted")

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    monkeypatch.setattr(os, "fsync", full)
    assert refused(path, create=True) == (
        f"cannot be read or written: no space left on device. {UNWRITABLE}"
    )
    assert list(path.parent.iterdir()) == []


ADD_FROM = """
import sys
from datetime import datetime
from pathlib import Path
from labelkit.mixing.numbers import number_from
from labelkit.mixing.ports import Record
from labelkit.shelf import open_shelf
with open_shelf(Path(sys.argv[1]), create=True) as shelf:
    for n in range(40):
        shelf.add(Record(number_from([int(sys.argv[2]), n // 32, n, 0, 0, 0, 0, 0]),
            "r", "t", datetime(2031, 3, 14), "M. Osei", None, 1, {"n": n}))
"""


def test_processes_that_make_and_fill_one_shelf_lose_nothing(path: Path) -> None:
    running = [start(ADD_FROM, path, which) for which in range(3)]
    for process in running:
        with process:
            assert process.wait(60) == 0
    with open_shelf(path, create=False) as shelf:
        assert len(list(shelf.all())) == 3 * 40
    assert [p.name for p in path.parent.iterdir()] == [path.name]


ADD_AND_HANG = """
import sys, time
from datetime import datetime
from pathlib import Path
from labelkit.mixing.numbers import number_from
from labelkit.mixing.ports import Record
from labelkit.shelf import log
from labelkit.shelf.opening import open_file
file = open_file(Path(sys.argv[1]), create=False)
with file.writing() as connection:
    connection.execute("PRAGMA cache_size = 4")
    for n in range(200):
        log.keep_batch(connection, Record(number_from([9, n // 32, n, 0, 0, 0, 0, 0]),
            "r", "t", datetime(2031, 3, 14), "M. Osei", None, 1, {"w": "w" * 3000}))
    print("half done", flush=True)
    time.sleep(60)
"""


def test_killed_in_the_middle_of_a_transaction_the_shelf_is_as_it_was(
    path: Path, batch: Make, shelf: SqliteShelf
) -> None:
    shelf.add(batch())
    shelf.close()
    before = path.read_bytes()
    with start(ADD_AND_HANG, path) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "half done\n"
        process.send_signal(signal.SIGKILL)
        process.wait(60)
    assert path.read_bytes() != before  # pages had reached the file
    with open_shelf(path, create=False) as opened:
        assert list(opened.all()) == [batch()]
        opened.add(batch(2))
        assert len(list(opened.all())) == 2
    with closing(sqlite3.connect(path)) as connection:
        verdict = connection.execute("PRAGMA integrity_check").fetchone()
    assert verdict == ("ok",)
