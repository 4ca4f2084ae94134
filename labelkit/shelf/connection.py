"""The shelf's open file: how it is written, and how it is shared.

**One file.** The rollback journal is used, not the write-ahead log: that one needs
memory shared by all who have the file open, so it fails on a network drive, and it
keeps batches in a second file that a copied or synchronised folder may miss. Between
two commands ``shelf.sqlite3`` is all there is. The price, that a reader waits some
milliseconds for a writer, is not felt on a bench.

**Safe when it says so.** ``synchronous = EXTRA``: what is recorded stays recorded when
the power goes in the next moment, the deletion of the journal included.

**Shared.** Every write takes the lock before it reads. Another program is waited for;
threads of one program take turns.
"""

import os
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from urllib.parse import quote

from labelkit.errors import ShelfError
from labelkit.shelf.faults import told_plainly

__all__ = ["ShelfFile", "connect"]

_WAIT_S = 10.0


class ShelfFile:
    """The open file: one connection that is used by one thread at a time."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path = path
        self._connection = connection
        self._lock = threading.RLock()
        self._identity = _identity(path)

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """The connection, for one statement."""
        with self._lock, told_plainly(self.path):
            self._is_still_there()
            yield self._connection

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """The connection within one transaction: all of it is kept, or nothing."""
        with self.reading() as connection:
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
                connection.execute("COMMIT")
            except BaseException:
                with suppress(sqlite3.Error):
                    connection.execute("ROLLBACK")
                raise

    @contextmanager
    def snapshot(self) -> Iterator[sqlite3.Connection]:
        """The connection, for several statements that see the shelf at one moment."""
        with self.reading() as connection:
            connection.execute("BEGIN")
            try:
                connection.execute("SELECT count(*) FROM migration").fetchone()
                yield connection
            finally:
                with suppress(sqlite3.Error):
                    connection.execute("ROLLBACK")

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            self._connection.close()

    def _is_still_there(self) -> None:
        """A deleted file would go on being read and written, out of sight."""
        if _identity(self.path) != self._identity:
            raise ShelfError(
                "was moved, deleted or replaced while it was open",
                place=str(self.path),
                remedy="Run the command again.",
            )


def connect(
    path: Path, *, mode: str = "rw", wait_s: float = _WAIT_S
) -> sqlite3.Connection:
    """A connection that begins no transaction by itself; ``mode`` as in a URI."""
    whole = path.absolute().as_posix()
    rooted = whole if whole.startswith("/") else f"/{whole}"
    connection = sqlite3.connect(
        f"file://{quote(os.fsencode(rooted))}?mode={mode}",
        uri=True,
        timeout=wait_s,
        isolation_level=None,
        check_same_thread=False,
    )
    connection.row_factory = sqlite3.Row
    try:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = EXTRA")
    except BaseException:
        connection.close()
        raise
    return connection


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        there = path.stat()
    except OSError:
        return None
    return there.st_dev, there.st_ino
