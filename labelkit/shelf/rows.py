"""Batches and events as the database holds them.

The frozen record is JSON text; a Decimal in it is written as a string.
"""

import json
import sqlite3
from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any

from msgspec import DecodeError
from msgspec.json import decode

from labelkit.errors import BadInput
from labelkit.mixing.numbers import read_number
from labelkit.mixing.ports import Event, Record
from labelkit.shelf.keys import clock_key, search_words

__all__ = [
    "Row",
    "as_text",
    "event_of",
    "event_values",
    "frozen",
    "record_of",
    "record_values",
    "record_with",
]

Row = sqlite3.Row | Mapping[str, Any]

_MOST_BOTTLES = 9999


def as_text(data: Mapping[str, Any]) -> str:
    """``data`` as one line of JSON, in plain ASCII; a Decimal becomes a string."""
    return json.dumps(data, default=_exact, allow_nan=False, separators=(",", ":"))


def record_values(record: Record) -> dict[str, Any]:
    """The columns of a batch.

    Raises:
        BadInput: the number, the bottles or a date are not what they should be.
    """
    if read_number(record.number) != record.number:
        raise BadInput(f"{record.number!r} is not written as printed", place="number")
    if not 0 < record.bottles <= _MOST_BOTTLES:
        raise BadInput(
            f"{record.bottles} is not a number of bottles",
            place="bottles",
            remedy=f"Write 1 to {_MOST_BOTTLES}.",
        )
    found = " ".join((record.number, record.title, record.recipe, record.made_by))
    return _encodable(
        {
            "number": record.number,
            "mixed_key": clock_key(record.mixed_on),
            "mixed_on": record.mixed_on.isoformat(),
            "recipe": record.recipe,
            "title": record.title,
            "made_by": record.made_by,
            "discard_after": record.discard_after or None,
            "bottles": record.bottles,
            "words": search_words(found),
            "data": as_text(record.data),
        }
    )


def record_of(row: Row) -> Record:
    """The batch that a row holds."""
    return record_with(row, frozen(row["data"]))


def frozen(text: str) -> dict[str, Any]:
    """Frozen data as it was kept; `json` alone also reads half a surrogate pair."""
    try:
        data: dict[str, Any] = decode(text)
    except DecodeError:
        data = json.loads(text)
    return data


def record_with(row: Row, data: dict[str, Any]) -> Record:
    """The batch of a row, with as much of its frozen data as was read."""
    return Record(
        number=row["number"],
        recipe=row["recipe"],
        title=row["title"],
        mixed_on=datetime.fromisoformat(row["mixed_on"]),
        made_by=row["made_by"],
        discard_after=row["discard_after"],
        bottles=row["bottles"],
        data=data,
    )


def event_values(event: Event) -> dict[str, Any]:
    """The columns of an event, but for the batch it belongs to."""
    if not event.what:
        raise BadInput("it does not say what happened", place="what")
    return _encodable(
        {
            "id": event.id,
            "bottle": event.bottle,
            "what": event.what,
            "at_key": clock_key(event.at),
            "at": event.at.isoformat(),
            "done_by": event.by,
            "amount_mL": event.amount_mL,
            "note": event.note,
            "discard_after": event.discard_after,
            "amount_g": event.amount_g,
            "treated": event.treated,
            "source": event.source,
            "place": event.place,
        }
    )


def event_of(row: Row) -> Event:
    """The event that a row holds, joined with its batch's number."""
    return Event(
        batch=row["number"],
        bottle=row["bottle"],
        what=row["what"],
        at=datetime.fromisoformat(row["at"]),
        by=row["done_by"],
        amount_mL=row["amount_mL"],
        note=row["note"],
        id=row["id"],
        discard_after=row["discard_after"],
        amount_g=row["amount_g"],
        treated=row["treated"],
        source=row["source"],
        place=row["place"],
    )


def _exact(value: object) -> str:
    if isinstance(value, Decimal):
        return str(value)
    raise TypeError(f"{type(value).__name__} does not belong in a frozen record")


def _encodable(values: dict[str, Any]) -> dict[str, Any]:
    for key, value in values.items():
        try:
            str(value).encode()
        except UnicodeEncodeError:
            raise BadInput(
                f"{value!r} holds a character that cannot be kept", place=key
            ) from None
    return values
