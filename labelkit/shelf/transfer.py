"""The shelf whole: backed up as a file, exported and merged as JSON Lines.

The first line says what it is and how much follows, so that a file cut short is told
from a whole one. Then come the batches and the events, one a line.
"""

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing
from pathlib import Path

from labelkit.errors import BadInput, ShelfError
from labelkit.shelf import lines as written
from labelkit.shelf import rows
from labelkit.shelf.connection import ShelfFile, connect
from labelkit.shelf.faults import damaged, files_told_plainly
from labelkit.shelf.merging import FORM, Merged, Merger
from labelkit.shelf.opening import fresh_file

__all__ = ["backup", "export", "import_lines"]

_PAGE = 200


def backup(file: ShelfFile, path: Path) -> None:
    """Copy the shelf to ``path``, checked, and there entirely or not at all."""
    taken = ShelfError(
        "is there already; a backup overwrites nothing",
        place=str(path),
        remedy="Name a new file, such as shelf-2031-03-14.sqlite3.",
    )
    with files_told_plainly(path):
        if path.exists():
            raise taken
        try:
            with fresh_file(path) as made:
                _copy(file, made)
        except FileExistsError:
            raise taken from None


def export(file: ShelfFile) -> Iterator[str]:
    """The lines of the shelf as it stands now; what is added meanwhile stays out."""
    with file.reading() as connection:
        bounds = connection.execute(
            "SELECT (SELECT count(*) FROM batch) AS batches,"
            " (SELECT count(*) FROM event) AS events,"
            " (SELECT max(id) FROM batch) AS last_batch,"
            " (SELECT max(rowid) FROM event) AS last_event"
        ).fetchone()
    return _lines(file, bounds)


def import_lines(file: ShelfFile, lines: Iterable[str]) -> Merged:
    """Merge exported lines in one transaction."""
    with file.writing() as connection:
        merger = Merger(connection)
        try:
            for at, line in enumerate(lines, 1):
                merger.take(f"line {at}", line)
        except UnicodeDecodeError:
            raise BadInput("the file is not text in UTF-8") from None
        return merger.finish()


def _lines(file: ShelfFile, bounds: sqlite3.Row) -> Iterator[str]:
    counts = {"batches": bounds["batches"], "events": bounds["events"]}
    yield rows.as_text({"labelkit": "shelf", "form": FORM, **counts})
    batches = "SELECT * FROM batch WHERE id <= ? AND number > ? ORDER BY number LIMIT ?"
    for row in _pages(file, batches, bounds["last_batch"], "number"):
        yield rows.as_text({"batch": written.record_json(rows.record_of(row))})
    events = (
        "SELECT event.*, number FROM event JOIN batch ON batch.id = batch"
        " WHERE event.rowid <= ? AND event.id > ? ORDER BY event.id LIMIT ?"
    )
    for row in _pages(file, events, bounds["last_event"], "id"):
        yield rows.as_text({"event": written.event_json(rows.event_of(row))})


def _pages(
    file: ShelfFile, query: str, last: int | None, key: str
) -> Iterator[sqlite3.Row]:
    place = ""
    while last is not None:
        with file.reading() as connection:
            page = connection.execute(query, (last, place, _PAGE)).fetchall()
        yield from page
        if len(page) < _PAGE:
            return
        place = page[-1][key]


def _copy(file: ShelfFile, made: Path) -> None:
    with closing(connect(made, mode="rwc")) as target:
        with file.snapshot() as source:
            source.backup(target)
        (verdict,) = target.execute("PRAGMA quick_check(1)").fetchone()
    if verdict != "ok":
        raise damaged(file.path)
