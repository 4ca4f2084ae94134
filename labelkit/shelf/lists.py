"""What is asked of the whole shelf; each question is answered from an index."""

import sqlite3
from collections.abc import Iterator
from datetime import date, datetime

from labelkit.mixing.ports import Record, Standing
from labelkit.shelf import keys, log, rows
from labelkit.shelf.connection import ShelfFile

__all__ = ["due", "records", "standing"]

_PAGE = 100
_NEWEST = ("~", "")  # sorts after every moment

_NEXT = "SELECT * FROM batch WHERE (mixed_key, number) < (?, ?)"
_HOLDS = " AND instr(words, ?) > 0"
_IN_ORDER = " ORDER BY mixed_key DESC, number DESC LIMIT ?"

_STANDING = """
    SELECT number, bottle, bottles, recipe, title, mixed_on, made_by,
           bottle.discard_after AS discard_after
    FROM bottle JOIN batch ON batch.id = bottle.batch
    WHERE discarded = 0
"""


def records(
    file: ShelfFile, words: str, limit: int | None, after: str
) -> Iterator[Record]:
    """Batches that hold every word, newest first, from the one after ``after``.

    They are fetched in pages, each beginning where the last one ended, so the file is
    never locked while the caller works. Unknown ``after`` is refused at once.
    """
    place = _NEWEST
    if after:
        with file.reading() as connection:
            row = log.find(connection, after)
        place = row["mixed_key"], row["number"]
    return _paged(file, keys.search_words(words).split(), limit, place)


def standing(file: ShelfFile) -> list[Standing]:
    """Every bottle that has not been discarded, newest batch first."""
    with file.reading() as connection:
        found = connection.execute(
            f"{_STANDING} ORDER BY mixed_key DESC, number DESC, bottle"
        ).fetchall()
    return [_standing_of(row) for row in found]


def due(file: ShelfFile, at: date) -> list[Standing]:
    """Bottles on the shelf that are past their date at ``at``, longest past first."""
    with file.reading() as connection:
        found = connection.execute(
            f"{_STANDING} AND discard_key <= ? ORDER BY discard_key, number, bottle",
            (keys.due_key(at),),
        ).fetchall()
    return [_standing_of(row) for row in found]


def _paged(
    file: ShelfFile, words: list[str], limit: int | None, place: tuple[str, str]
) -> Iterator[Record]:
    left = limit
    while left is None or left > 0:
        size = _PAGE if left is None else min(_PAGE, left)
        page = _page(file, words, place, size)
        yield from (rows.record_of(row) for row in page)
        if len(page) < size:
            return
        place = page[-1]["mixed_key"], page[-1]["number"]
        left = None if left is None else left - size


def _page(
    file: ShelfFile, words: list[str], place: tuple[str, str], size: int
) -> list[sqlite3.Row]:
    query = _NEXT + _HOLDS * len(words) + _IN_ORDER
    with file.reading() as connection:
        return connection.execute(query, (*place, *words, size)).fetchall()


def _standing_of(row: sqlite3.Row) -> Standing:
    return Standing(
        number=row["number"],
        bottle=row["bottle"],
        bottles=row["bottles"],
        recipe=row["recipe"],
        title=row["title"],
        mixed_on=datetime.fromisoformat(row["mixed_on"]),
        made_by=row["made_by"],
        discard_after=row["discard_after"],
    )
