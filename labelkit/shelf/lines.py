"""Batches and events as exported lines hold them."""

from collections.abc import Mapping
from datetime import datetime
from types import UnionType
from typing import Any

from labelkit.errors import BadInput
from labelkit.mixing.ports import Event, Record

__all__ = ["event_from_json", "event_json", "record_from_json", "record_json"]

_RECORD: dict[str, type | UnionType] = {
    "number": str,
    "recipe": str,
    "title": str,
    "mixed_on": str,
    "made_by": str,
    "discard_after": str | None,
    "bottles": int,
    "data": dict,
}
_EVENT: dict[str, type | UnionType] = {
    "id": str,
    "batch": str,
    "bottle": int | None,
    "what": str,
    "at": str,
    "by": str,
    "amount_mL": str,
    "note": str,
    "discard_after": str,
}
# Written only where something is said, and missing in what was exported before them.
_EVENT_MORE: dict[str, type | UnionType] = {
    "amount_g": str,
    "treated": str,
    "source": str,
    "place": str,
}


def record_json(record: Record) -> dict[str, Any]:
    """A batch as an exported line holds it."""
    fields = {key: getattr(record, key) for key in _RECORD}
    return {**fields, "mixed_on": record.mixed_on.isoformat()}


def event_json(event: Event) -> dict[str, Any]:
    """An event as an exported line holds it."""
    fields = {key: getattr(event, key) for key in _EVENT}
    said = {key: getattr(event, key) for key in _EVENT_MORE}
    fields |= {key: value for key, value in said.items() if value}
    return {**fields, "at": event.at.isoformat()}


def record_from_json(found: object) -> Record:
    """The batch of an exported line, or `BadInput`."""
    fields = _checked(found, _RECORD)
    return Record(**{**fields, "mixed_on": _moment(fields["mixed_on"], "mixed_on")})


def event_from_json(found: object) -> Event:
    """The event of an exported line, or `BadInput`."""
    fields = _checked(found, _EVENT, _EVENT_MORE)
    if not fields["id"]:
        raise BadInput("an exported event has an id", place="id")
    return Event(**{**fields, "at": _moment(fields["at"], "at")})


def _checked(
    found: object,
    keys: Mapping[str, type | UnionType],
    more: Mapping[str, type | UnionType] | None = None,
) -> dict[str, Any]:
    more = more or {}
    if not isinstance(found, dict) or found.keys() - more.keys() != keys.keys():
        raise BadInput(f"it must hold just these: {', '.join(keys)}")
    for key, kind in {**keys, **more}.items():
        value = found.get(key, "")
        if not isinstance(value, kind) or isinstance(value, bool):
            raise BadInput(f"{value!r} is of the wrong kind", place=key)
    return found


def _moment(written: str, place: str) -> datetime:
    try:
        return datetime.fromisoformat(written)
    except ValueError:
        raise BadInput(f"{written!r} is no date and time", place=place) from None
