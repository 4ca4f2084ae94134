"""What a record page says anew each time: dates, bottles, what happened since."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct

from labelkit.mixing.dates import is_past
from labelkit.mixing.ports import Event, Record
from labelkit.pages.bottles import (
    DateLine,
    bottle_lines,
    date_lines,
    for_the_clock,
    gone,
    happenings,
    states_of,
)
from labelkit.pages.frozen_page import FrozenPage
from labelkit.pages.pouring import entries

__all__ = ["DateShown", "batch_values"]

_NOTHING_ASKED: Mapping[str, str] = {}


class DateShown(Struct, frozen=True):
    """A discard date ready to be shown.

    Attributes:
        machine: for the badge; "" where no date is known.
        past: whether it has passed; None where the page does not know the day.
    """

    bottles: str
    text: str
    machine: str
    why: str
    past: bool | None


def batch_values(
    record: Record,
    frozen: FrozenPage,
    events: Sequence[Event],
    *,
    query: Mapping[str, str] = _NOTHING_ASKED,
    now: datetime | None = None,
) -> dict[str, Any]:
    """What the template of a batch's page is told.

    Args:
        record: the batch; its ``data`` is looked at only where something happened.
        frozen: the half of the page that never changes.
        events: what happened to it.
        query: ``g`` or ``mL``, a dose that is asked for.
        now: the moment dates are compared with; None where the page is kept.
    """
    states = states_of(record, events)
    lines = bottle_lines(states)
    discarded = gone(states)
    over = any(line.over for line in lines)
    pouring = frozen.pouring
    return {
        **frozen.values,
        "record": record,
        "mixed": f"{record.mixed_on:%Y-%m-%d}",
        "dates": [_shown(d, frozen, record, now) for d in date_lines(record, states)],
        "discarded": discarded,
        "marks": _marks(frozen.use_mark, over=over, all_gone=discarded == "all"),
        "bottle_lines": lines,
        "happenings": happenings(record, events),
        "pouring": pouring,
        "entries": entries(pouring, query) if pouring and _asks(query) else (),
    }


def _asks(query: Mapping[str, str]) -> bool:
    return bool(query.get("g") or query.get("mL"))


def _marks(use_mark: str, *, over: bool, all_gone: bool) -> list[str]:
    """What must be seen at once, beside the name."""
    marks = (use_mark, "OVER" if over else "", "DISCARDED" if all_gone else "")
    return [mark for mark in marks if mark]


def _shown(
    line: DateLine, frozen: FrozenPage, record: Record, now: datetime | None
) -> DateShown:
    if line.date == record.discard_after and frozen.discard:
        text = frozen.discard
    else:
        text = (line.date or "no date known: test before use").replace("T", " ")
    past = None if now is None or not line.date else is_past(line.date, now)
    return DateShown(line.bottles, text, for_the_clock(line.date), line.why, past)
