"""How the shelf's file is made, and what is looked at before it is trusted."""

import os
import secrets
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from labelkit.errors import ShelfError
from labelkit.shelf import schema
from labelkit.shelf.connection import ShelfFile, connect
from labelkit.shelf.faults import damaged, files_told_plainly

__all__ = ["fresh_file", "open_file"]


def open_file(path: Path, *, create: bool) -> ShelfFile:
    """Open the shelf at ``path``; with ``create``, make an empty one if none is there.

    Raises:
        ShelfError: it is not there, no shelf of ours, damaged, of a newer labelkit,
            or cannot be opened.
    """
    with files_told_plainly(path):
        if not path.exists():
            _make(path, create=create)
        return ShelfFile(path, _trusted(path))


def _make(path: Path, *, create: bool) -> None:
    if not create:
        raise ShelfError(
            "no shelf is there", place=str(path), remedy="Set one up: labelkit init"
        )
    with (
        suppress(FileExistsError),
        fresh_file(path) as made,
        closing(connect(made, mode="rwc")) as connection,
    ):
        schema.migrate(connection)


@contextmanager
def fresh_file(path: Path) -> Iterator[Path]:
    """A name to write to, which becomes ``path`` when all went well.

    So a file is there whole or not at all, and none is ever written over.

    Raises:
        FileExistsError: something of that name is there by now.
    """
    made = path.with_name(f".{path.name}.{secrets.token_hex(4)}.new")
    try:
        yield made
        _name(made, path)
    finally:
        with suppress(OSError):
            made.unlink()


def _name(made: Path, path: Path) -> None:
    try:
        path.hardlink_to(made)
    except FileExistsError:
        raise
    except OSError:  # some drives know no second name for a file
        _copy(made, path)


def _copy(made: Path, path: Path) -> None:
    with path.open("xb") as target:
        try:
            with made.open("rb") as source:
                shutil.copyfileobj(source, target)
            target.flush()
            os.fsync(target.fileno())
        except BaseException:
            path.unlink()
            raise


def _trusted(path: Path) -> sqlite3.Connection:
    connection = connect(path)
    try:
        _refuse_if_foreign(connection, path)
        if schema.version_of(connection) < len(schema.MIGRATIONS):
            schema.migrate(connection)
        _refuse_if_incomplete(connection, path)
    except BaseException:
        connection.close()
        raise
    return connection


def _refuse_if_foreign(connection: sqlite3.Connection, path: Path) -> None:
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    version = schema.version_of(connection)
    if not path.stat().st_size:
        raise ShelfError(
            "is empty: what it held is lost, or it was never a shelf",
            place=str(path),
            remedy="Put a backup in its place, or remove it to begin a new shelf.",
        )
    if application != schema.APPLICATION_ID or version < 1:
        raise ShelfError(
            "is a database of another program, not a shelf",
            place=str(path),
            remedy="Name another bench or file.",
        )
    if version > len(schema.MIGRATIONS):
        raise ShelfError(
            f"was written by a newer labelkit (form {version}; this one reads up to "
            f"{len(schema.MIGRATIONS)})",
            place=str(path),
            remedy="Install the newer labelkit.",
        )


def _refuse_if_incomplete(connection: sqlite3.Connection, path: Path) -> None:
    rows = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    if schema.TABLES - {name for (name,) in rows}:
        raise damaged(path)
