"""What the database says when it can't, told so that a person can mend it."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from labelkit.errors import ShelfError

__all__ = ["damaged", "files_told_plainly", "told_plainly"]

_WRITABLE = "See that the file and its folder exist and may be written to."
_AGAIN = "Run the command again."

# By the beginning of SQLite's own name for what went wrong; the first that fits.
_PLAIN = (
    ("SQLITE_READONLY_DBMOVED", "was moved or deleted while it was open", _AGAIN),
    (
        "SQLITE_BUSY",
        "is locked by another program",
        f"Close whatever else has it open. {_AGAIN}",
    ),
    ("SQLITE_READONLY", "cannot be written to", _WRITABLE),
    ("SQLITE_CANTOPEN", "cannot be opened", _WRITABLE),
    ("SQLITE_PERM", "cannot be opened", _WRITABLE),
    ("SQLITE_FULL", "does not fit on the disk: it is full", f"Make room. {_AGAIN}"),
    ("SQLITE_IOERR", "cannot be read or written: the disk or drive fails", _AGAIN),
)
_DAMAGED = ("SQLITE_CORRUPT", "SQLITE_NOTADB")


def damaged(path: Path) -> ShelfError:
    """The line for a file that is no database, is cut short, or holds nonsense."""
    return ShelfError(
        "is damaged, or no shelf at all",
        place=str(path),
        remedy="Put a backup in its place.",
    )


@contextmanager
def told_plainly(path: Path) -> Iterator[None]:
    """Turn the database's errors about ``path`` into `ShelfError`.

    An error of the SQL itself is a fault of ours and passes as it is.
    """
    try:
        yield
    except sqlite3.Error as error:
        raise _plain(error, path) from error


@contextmanager
def files_told_plainly(path: Path) -> Iterator[None]:
    """The same, and what the drive answers while a file is made or opened."""
    try:
        with told_plainly(path):
            yield
    except OSError as error:
        why = (error.strerror or "the drive refuses").lower()
        raise ShelfError(
            f"cannot be read or written: {why}", place=str(path), remedy=_WRITABLE
        ) from error


def _plain(error: sqlite3.Error, path: Path) -> Exception:
    name = getattr(error, "sqlite_errorname", "")
    if name.startswith(_DAMAGED) or "decode to UTF-8" in str(error):
        return damaged(path)
    for beginning, problem, remedy in _PLAIN:
        if name.startswith(beginning):
            return ShelfError(problem, place=str(path), remedy=remedy)
    return error
