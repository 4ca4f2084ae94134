"""Batches with what happened to them, without the bulk of their frozen records."""

import json
import sqlite3
from collections.abc import Iterable, Sequence
from hashlib import sha256
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from labelkit.mixing.ports import Event, Record
from labelkit.shelf import log, rows
from labelkit.shelf.connection import ShelfFile

__all__ = ["Told", "Unread", "events", "told", "unread"]

# What tells how its bottles stand, and what besides tells what is in them.
_STANDING = (
    "recipe.document",
    "answer.bottles",
    "answer.make",
    "volume_mL",
    "words.page.use_mark",
    "found",
)
_CONTENTS = ("answer.contents", "chemicals")
_PAGE = 500

_EVENTS = """
    SELECT event.*, number FROM event JOIN batch ON batch.id = event.batch
    WHERE number IN (SELECT value FROM json_each(?)) ORDER BY at_key, event.id
"""
_RECORDS = """
    SELECT number, recipe, title, mixed_on, made_by, discard_after, bottles,
           json_extract(data, {}) AS said
    FROM batch WHERE number IN (SELECT value FROM json_each(?))
"""


class Told(Struct, frozen=True):
    """A batch and its log.

    Attributes:
        record: its ``data`` holds only what was asked for.
        events: the oldest first.
    """

    record: Record
    events: Sequence[Event]


class Unread(Struct, frozen=True):
    """A batch whose frozen data was not read yet, and its log.

    Attributes:
        record: its ``data`` is empty.
        text: the frozen data as it is kept.
        events: the oldest first.
    """

    record: Record
    text: str
    events: Sequence[Event]

    @property
    def digest(self) -> bytes:
        """Of everything that was frozen: no two batches have the same."""
        return sha256(f"{self.record!r}\n{self.text}".encode()).digest()

    def whole(self) -> Record:
        """The batch with its data."""
        return replace(self.record, data=rows.frozen(self.text))


def unread(file: ShelfFile, number: str) -> Unread:
    """The batch ``number``, or `Unknown`."""
    with file.reading() as connection:
        row = log.find(connection, number)
        happened = events(connection, number)
    return Unread(rows.record_with(row, {}), row["data"], happened)


def events(connection: sqlite3.Connection, number: str) -> list[Event]:
    """What happened to one batch's bottles, oldest first."""
    found = connection.execute(
        "SELECT event.*, number FROM batch JOIN event ON batch = batch.id"
        " WHERE number = ? ORDER BY at_key, event.id",
        (number,),
    )
    return [rows.event_of(row) for row in found]


def told(file: ShelfFile, numbers: Iterable[str], *, whole: bool) -> list[Told]:
    """The batches that are there, in the order asked for, each once."""
    wanted = list(dict.fromkeys(numbers))
    keys = (*_STANDING, *_CONTENTS) if whole else _STANDING
    found: list[Told] = []
    with file.snapshot() as connection:
        for start in range(0, len(wanted), _PAGE):
            found += _page(connection, wanted[start : start + _PAGE], keys)
    return found


def _page(
    connection: sqlite3.Connection, numbers: Sequence[str], keys: Sequence[str]
) -> list[Told]:
    asked = json.dumps(numbers)
    happened: dict[str, list[Event]] = {}
    for row in connection.execute(_EVENTS, (asked,)):
        happened.setdefault(row["number"], []).append(rows.event_of(row))
    there = {
        row["number"]: Told(_record(row, keys), happened.get(row["number"], ()))
        for row in connection.execute(_records(keys), (asked,))
    }
    return [there[number] for number in numbers if number in there]


def _records(keys: Sequence[str]) -> str:
    return _RECORDS.format(", ".join(f"'$.{key}'" for key in keys))


def _record(row: sqlite3.Row, keys: Sequence[str]) -> Record:
    data: dict[str, Any] = {}
    for key, value in zip(keys, json.loads(row["said"]), strict=True):
        if value is not None:
            _put(data, key.split("."), value)
    return rows.record_with(row, data)


def _put(data: dict[str, Any], path: Sequence[str], value: object) -> None:
    *above, last = path
    for key in above:
        data = data.setdefault(key, {})
    data[last] = value
