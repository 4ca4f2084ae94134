"""How bottles stand and what happened to them, as JSON: keys are never renamed."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from labelkit.mixing.answers import number
from labelkit.mixing.bottle_state import BottleState, Tallied
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.said import NBSP
from labelkit.mixing.standing import standings, told
from labelkit.mixing.state_text import marks

__all__ = ["batch_answer", "event_json", "state_json"]

Json = dict[str, Any]


def batch_answer(record: Record, events: Sequence[Event], at: datetime) -> Json:
    """A batch as it was frozen, what happened since, and how its bottles stand."""
    frozen: Json = record.data["answer"]
    return frozen | {
        "events": [event_json(event) for event in events],
        "standing": [state_json(state, at) for state in standings(record, events)],
    }


def state_json(state: BottleState, at: datetime) -> Json:
    """One bottle; ``left`` is null where it is not known, and ``told`` says why.

    Args:
        state: of the bottle.
        at: the moment that its date is compared with.
    """
    return {
        "bottle": state.bottle,
        "state": state.state.value,
        "filled": _amount(state.filled, state.unit),
        "used": _amount(state.used, state.unit),
        "topped_up": _amount(state.topped_up, state.unit),
        "left": _amount(state.remaining, state.unit),
        "capacity": _tally(state.tallied),
        "discard_after": state.discard_after,
        "why": state.why,
        "past": state.is_past(at),
        "use": state.use_mark,
        "found": state.found,
        "claim_by": state.claim_by or None,
        "place": state.place,
        "discarded_on": state.discarded_on or None,
        "marks": list(marks(state, at)),
        "told": told(state).replace(NBSP, " "),
    }


def event_json(event: Event) -> Json:
    """What happened, as ``show`` tells it."""
    return {
        "bottle": event.bottle,
        "what": event.what,
        "at": f"{event.at:%Y-%m-%d %H:%M}",
        "by": event.by,
        "mL": event.amount_mL or None,
        "note": event.note,
        "g": event.amount_g or None,
        "treated": event.treated or None,
        "from": event.source or None,
        "place": event.place or None,
        "discard_after": event.discard_after or None,
    }


def _amount(value: Decimal | None, unit: str) -> Json | None:
    return None if value is None else {unit: number(value)}


def _tally(tally: Tallied | None) -> Json | None:
    if tally is None:
        return None
    return {
        "of": tally.unit,
        "holds": number(tally.holds),
        "used": number(tally.used),
        "left": number(tally.left),
        "last": tally.last,
        "over": tally.over,
    }
