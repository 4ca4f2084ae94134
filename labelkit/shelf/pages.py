"""A page of a list of batches: read from an index, and no further than the page.

However long the shelf is, a page costs what the page is long; only a search for words
that are rare looks through the numbers and titles of all of it.
"""

import json
import sqlite3
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from itertools import islice

from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput
from labelkit.mixing.ports import Listed, Record, Shelved
from labelkit.shelf import keys
from labelkit.shelf.connection import ShelfFile
from labelkit.shelf.rows import record_with
from labelkit.shelf.schema import HELD

__all__ = ["COUNTED", "SOON", "listed", "query_for"]

SOON = timedelta(days=14)
COUNTED = 1000  # how far a list is counted

_STANDS = """
    SELECT batch FROM bottle WHERE discarded = 0{} ORDER BY {}
"""
_BY_DATE = "discard_key, batch"
_NEWEST = "batch_key DESC, batch DESC"
_A_BOTTLE = "EXISTS (SELECT 1 FROM bottle WHERE batch = batch.id AND discarded = 0{})"

# What a bottle's date must be, in the lists that go by it.
_DATES = {
    "in-date": " AND discard_key > :now",
    "due": " AND discard_key > :now AND discard_key <= :soon",
    "past": " AND discard_key <= :now",
}
_GONE = """
    SELECT batch FROM bottle AS one WHERE discarded = 1
      AND NOT EXISTS (
        SELECT 1 FROM bottle WHERE batch = one.batch AND discarded = 0
      )
    ORDER BY batch_key DESC, batch DESC
"""
_BATCHES = """
    SELECT id FROM batch WHERE {} ORDER BY mixed_key DESC, number DESC
"""
_LISTS = {
    "standing": _STANDS.format("", _NEWEST),
    **{show: _STANDS.format(date, _BY_DATE) for show, date in _DATES.items()},
    "discarded": _GONE,
    "held": _BATCHES.format(f"{HELD} AND {_A_BOTTLE.format('')}"),
    "found": _BATCHES.format(f"recipe = '' AND {_A_BOTTLE.format('')}"),
    "all": _BATCHES.format("TRUE"),
}
# The same lists as a condition on a batch, for a search or one recipe's batches.
_CONDITIONS = {
    "standing": _A_BOTTLE.format(""),
    **{show: _A_BOTTLE.format(date) for show, date in _DATES.items()},
    "discarded": f"NOT {_A_BOTTLE.format('')}",
    "held": f"{HELD} AND {_A_BOTTLE.format('')}",
    "found": f"recipe = '' AND {_A_BOTTLE.format('')}",
    "all": "TRUE",
}
_LINES = """
    SELECT id, number, recipe, title, mixed_on, made_by, discard_after, bottles,
           json_extract(data, '$.words.page.headline', '$.words.page.hazard.signal',
                        '$.words.page.part', '$.words.page.use_mark', '$.found') AS told
    FROM batch WHERE id IN (SELECT value FROM json_each(?))
"""
_BOTTLES = """
    SELECT batch, discard_after FROM bottle
    WHERE discarded = 0 AND batch IN (SELECT value FROM json_each(?))
    ORDER BY batch, bottle
"""


def listed(
    file: ShelfFile,
    show: str,
    at: datetime,
    *,
    words: str,
    recipe: str,
    skip: int,
    limit: int,
) -> Listed:
    """A page of the list ``show``, and how long the list is as far as it is counted.

    Raises:
        BadInput: there is no such list.
    """
    if show not in _LISTS:
        raise BadInput(
            f"there is no list {quoted(show)}",
            place="show",
            remedy=f"Write one of {', '.join(_LISTS)}.",
        )
    query, values = query_for(show, at, words=words, recipe=recipe)
    with file.snapshot() as connection:
        found, more = _distinct(
            connection.execute(query, values), max(COUNTED, skip + limit)
        )
        page = list(islice(found, skip, skip + limit))
        return Listed(_shelved(connection, page), len(found), more)


def query_for(
    show: str, at: datetime, *, words: str = "", recipe: str = ""
) -> tuple[str, dict[str, str]]:
    """The statement that yields the ids of a list, in its order, and its values.

    A batch of several bottles may come up once for each.
    """
    asked = keys.search_words(words).split()
    values = {"now": keys.due_key(at), "soon": _soon(at), "recipe": recipe}
    values |= {f"word{n}": word for n, word in enumerate(asked)}
    holds = ["recipe = :recipe"] if recipe else []
    holds += [f"instr(words, :word{n}) > 0" for n in range(len(asked))]
    if not holds:
        return _LISTS[show], values
    return _BATCHES.format(" AND ".join((*holds, _CONDITIONS[show]))), values


def _soon(at: datetime) -> str:
    """What the dates of bottles that are due sort up to: the end of the last day."""
    return keys.discard_key((at + SOON).date().isoformat())


def _distinct(rows: Iterable[sqlite3.Row], most: int) -> tuple[dict[int, None], bool]:
    """The batches of ``rows``, each once, and whether there are more than ``most``."""
    found: dict[int, None] = {}
    for (batch,) in rows:
        if batch not in found and len(found) == most:
            return found, True
        found[batch] = None
    return found, False


def _shelved(connection: sqlite3.Connection, page: Sequence[int]) -> list[Shelved]:
    wanted = json.dumps(page)
    dates: dict[int, list[str | None]] = {}
    for row in connection.execute(_BOTTLES, (wanted,)):
        dates.setdefault(row["batch"], []).append(row["discard_after"])
    lines = {row["id"]: row for row in connection.execute(_LINES, (wanted,))}
    return [Shelved(_record(lines[n]), tuple(dates.get(n, ()))) for n in page]


def _record(row: sqlite3.Row) -> Record:
    headline, signal, part, use_mark, found = json.loads(row["told"])
    page = {
        "headline": headline,
        "hazard": {"signal": signal},
        "part": part,
        "use_mark": use_mark,
    }
    return record_with(row, {"words": {"page": page}, "found": found})
