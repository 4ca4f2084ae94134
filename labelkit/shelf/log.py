"""Adding to the log, within a transaction that the caller began.

Adding what is already there, word for word, changes nothing; so a shelf is a set of
batches and a set of events, and two shelves merge in either order.
"""

import secrets
import sqlite3
import time
from typing import Any

from labelkit.errors import BadInput, ShelfError, Unknown
from labelkit.mixing.ports import Event, Record
from labelkit.shelf import keys, rows

__all__ = ["find", "keep_batch", "keep_event"]

_DISCARDED = "discarded"

_ADD_BATCH = """
    INSERT INTO batch (number, mixed_key, mixed_on, recipe, title, made_by,
                       discard_after, bottles, words, data)
    VALUES (:number, :mixed_key, :mixed_on, :recipe, :title, :made_by,
            :discard_after, :bottles, :words, :data)
"""
_ADD_BOTTLE = """
    INSERT INTO bottle (batch, bottle, discard_key, discard_after, batch_key)
    VALUES (?, ?, ?, ?, ?)
"""
_ADD_EVENT = """
    INSERT INTO event (id, batch, bottle, what, at_key, at, done_by, amount_mL, note,
                       discard_after, amount_g, treated, source, place)
    VALUES (:id, :batch, :bottle, :what, :at_key, :at, :done_by, :amount_mL, :note,
            :discard_after, :amount_g, :treated, :source, :place)
"""
_DISCARD = """
    UPDATE bottle SET discarded = 1
    WHERE batch = :batch AND (:bottle IS NULL OR bottle = :bottle)
"""
# The earlier date wins, so the order in which events come does not matter.
_BRING_FORWARD = """
    UPDATE bottle SET discard_key = :key, discard_after = :discard_after
    WHERE batch = :batch AND (:bottle IS NULL OR bottle = :bottle)
      AND (discard_key IS NULL
           OR (discard_key, discard_after) > (:key, :discard_after))
"""


def find(connection: sqlite3.Connection, number: str) -> sqlite3.Row:
    """The row of the batch ``number``, or `Unknown`."""
    row = connection.execute(
        "SELECT * FROM batch WHERE number = ?", (number,)
    ).fetchone()
    if row is None:
        raise _unknown(number)
    found: sqlite3.Row = row
    return found


def keep_batch(connection: sqlite3.Connection, record: Record) -> bool:
    """Add a batch; False if just this batch is there already.

    Raises:
        BadInput: the record is not fit to be kept.
        ShelfError: another batch has the number.
    """
    values = rows.record_values(record)
    key = keys.discard_key(record.discard_after) if record.discard_after else None
    there = connection.execute(
        "SELECT * FROM batch WHERE number = ?", (record.number,)
    ).fetchone()
    if there is not None:
        if rows.record_of(there) != rows.record_of(values):
            raise ShelfError(
                f"another batch has the number {record.number}",
                remedy="Nothing is overwritten.",
            )
        return False
    batch = connection.execute(_ADD_BATCH, values).lastrowid
    connection.executemany(
        _ADD_BOTTLE,
        (
            (batch, n + 1, key, record.discard_after, values["mixed_key"])
            for n in range(record.bottles)
        ),
    )
    return True


def keep_event(connection: sqlite3.Connection, event: Event) -> bool:
    """Add an event; False if just this event is there already.

    Raises:
        Unknown: its batch is not on the shelf.
        BadInput: its batch has no such bottle, or it is not fit to be kept.
        ShelfError: another event has the id.
    """
    batch = _batch_with_bottle(connection, event)
    values = {**rows.event_values(event), "id": event.id or _new_id()}
    there = connection.execute(
        "SELECT event.*, number FROM event JOIN batch ON batch.id = batch"
        " WHERE event.id = ?",
        (values["id"],),
    ).fetchone()
    if there is not None:
        if rows.event_of(there) != rows.event_of({**values, "number": event.batch}):
            raise ShelfError(
                f"another event has the id {event.id!r}",
                remedy="Nothing is overwritten.",
            )
        return False
    connection.execute(_ADD_EVENT, {**values, "batch": batch})
    _tell_bottles(connection, {**values, "batch": batch})
    return True


def _batch_with_bottle(connection: sqlite3.Connection, event: Event) -> int:
    row = connection.execute(
        "SELECT id, bottles FROM batch WHERE number = ?", (event.batch,)
    ).fetchone()
    if row is None:
        raise _unknown(event.batch)
    if event.bottle is not None and not 0 < event.bottle <= row["bottles"]:
        raise BadInput(
            f"{event.batch} has no bottle {event.bottle}",
            remedy=f"Its bottles are numbered 1 to {row['bottles']}.",
        )
    return int(row["id"])


def _tell_bottles(connection: sqlite3.Connection, values: dict[str, Any]) -> None:
    if values["what"] == _DISCARDED:
        connection.execute(_DISCARD, values)
    if values["discard_after"]:
        key = keys.discard_key(values["discard_after"])
        connection.execute(_BRING_FORWARD, {**values, "key": key})


def _unknown(number: str) -> Unknown:
    return Unknown(
        f"no batch {number!r} on this shelf",
        remedy="labelkit shelf lists what there is.",
    )


def _new_id() -> str:
    """Unique without asking anyone; later ones sort later, as on one bench they do."""
    return f"{time.time_ns():016x}{secrets.token_hex(8)}"
