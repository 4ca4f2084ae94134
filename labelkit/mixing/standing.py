"""How each bottle of a batch stands: what is left in it, and how long it is good.

A batch and its log are a set: no figure here depends on the order in which events were
written, so two shelves that were merged tell the same.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from msgspec import Struct

from labelkit.mixing.bottle_state import BottleState, State, Tallied
from labelkit.mixing.dates import clock, last_moment
from labelkit.mixing.films import counted, positive
from labelkit.mixing.found import is_found
from labelkit.mixing.frozen import Frozen, frozen
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.state_text import told

__all__ = ["concerning", "standings", "told"]

NOTHING = Decimal(0)


class _Moved(Struct, frozen=True):
    """What went in and out of a bottle [unit of the bottle]."""

    used: Decimal
    topped_up: Decimal
    unsaid: str
    touched: bool


def standings(record: Record, events: Iterable[Event]) -> tuple[BottleState, ...]:
    """Each bottle of a batch, in their order, as the log tells it."""
    log, said = tuple(events), frozen(record)
    return tuple(
        _state(record, concerning(log, bottle), bottle, said)
        for bottle in range(1, record.bottles + 1)
    )


def concerning(events: Iterable[Event], bottle: int) -> tuple[Event, ...]:
    """What happened to one bottle, or to the whole batch; the oldest first."""
    about = (event for event in events if event.bottle in (None, bottle))
    return tuple(sorted(about, key=lambda e: (clock(e.at), e.id)))


def _state(
    record: Record, events: Sequence[Event], bottle: int, said: Frozen
) -> BottleState:
    filled = said.filled[bottle - 1]
    moved = _moved(events, record.bottles, said.unit)
    discard_after, why = _date(record.discard_after, events)
    discarded = [event for event in events if event.what == "discarded"]
    return BottleState(
        number=record.number,
        bottle=bottle,
        bottles=record.bottles,
        title=record.title,
        mixed_on=record.mixed_on,
        state=_became(record, filled, moved, events),
        unit=said.unit,
        filled=filled,
        used=moved.used,
        topped_up=moved.topped_up,
        remaining=_remaining(filled, moved),
        overdrawn=_overdrawn(filled, moved),
        unsaid=moved.unsaid,
        tallied=_tallied(events, said, filled),
        discard_after=discard_after,
        why=why,
        use_mark=said.use_mark,
        found=is_found(record),
        claim_by=_claim_by(record),
        place=next((e.place for e in reversed(events) if e.place), ""),
        discarded_on=f"{discarded[0].at:%Y-%m-%d}" if discarded else "",
    )


def _moved(events: Iterable[Event], bottles: int, unit: str) -> _Moved:
    used = topped_up = NOTHING
    unsaid = ""
    touched = False
    for event in events:
        if not _takes_or_gives(event):
            continue
        amount = positive(event.amount_g if unit == "g" else event.amount_mL)
        touched = True
        if amount is None:
            unsaid = f"{event.what} {event.at:%Y-%m-%d}, how much was not said"
        elif event.bottle is None and bottles > 1:
            unsaid = f"{event.what} {event.at:%Y-%m-%d}, which bottle was not said"
        elif event.what == "used":
            used += amount
        else:
            topped_up += amount
    return _Moved(used, topped_up, unsaid, touched)


def _takes_or_gives(event: Event) -> bool:
    """Whether it changes how much is in the bottle: a bath film went through is not."""
    return event.what == "topped-up" or (event.what == "used" and not event.treated)


def _became(
    record: Record, filled: Decimal | None, moved: _Moved, events: Sequence[Event]
) -> State:
    if any(event.what == "discarded" for event in events):
        return State.DISCARDED
    if is_found(record):
        return State.UNKNOWN
    return _how_full(filled, moved, events)


def _how_full(filled: Decimal | None, moved: _Moved, events: Sequence[Event]) -> State:
    if moved.touched:
        left = _remaining(filled, moved)
        if left is None or filled is None or NOTHING < left < filled:
            return State.PART_FULL
        return State.OPENED if left else State.EMPTY
    opened = any(event.what in ("opened", "used") for event in events)
    return State.OPENED if opened else State.FULL


def _remaining(filled: Decimal | None, moved: _Moved) -> Decimal | None:
    if filled is None or moved.unsaid:
        return None
    return max(filled + moved.topped_up - moved.used, NOTHING)


def _overdrawn(filled: Decimal | None, moved: _Moved) -> Decimal:
    if filled is None or moved.unsaid:
        return NOTHING
    return max(moved.used - filled - moved.topped_up, NOTHING)


def _tallied(
    events: Iterable[Event], said: Frozen, filled: Decimal | None
) -> Tallied | None:
    """Counted against every bottle it may have gone through, never for none of them.

    Topping up adds nothing: fresh solution does not revive an exhausted bath.
    """
    unit = said.capacity.unit if said.capacity else "roll"
    used = [counted(event.treated, unit) for event in events if event.treated]
    holds = said.holds(filled)
    if holds is None and not used:
        return None
    return Tallied(unit, holds, sum((n for n in used if n is not None), NOTHING))


def _date(own: str | None, events: Iterable[Event]) -> tuple[str | None, str]:
    """The earliest date there is, and what brought it forward."""
    date, why = own or None, ""
    for event in events:
        if last_moment(event.discard_after) < last_moment(date):
            date = event.discard_after
            why = _reason(event)
    return date, why


def _reason(event: Event) -> str:
    day = f"{event.at:%Y-%m-%d}"
    if event.what == "used" and not event.treated:
        return f"part full since {day}"
    source = f" from {event.source}" if event.source else ""
    told = {"used": "in use since", "topped-up": "topped up"}.get(
        event.what, event.what
    )
    return f"{told}{source} {day}"


def _claim_by(record: Record) -> str:
    kept = record.data.get("found")
    return str(kept.get("claim_by") or "") if isinstance(kept, dict) else ""
