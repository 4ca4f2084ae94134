"""What a person says happened to a bottle, made into an event for the log."""

from collections.abc import Sequence
from datetime import datetime, time
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.amounts import Dimension, parse_amount
from labelkit.chemistry.display import plain
from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput
from labelkit.mixing.bottle_state import BottleState
from labelkit.mixing.dates import last_moment, moment_words, written
from labelkit.mixing.films import counted, read_treated
from labelkit.mixing.frozen import Frozen, frozen
from labelkit.mixing.opened import brought_forward, earliest
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.standing import standings
from labelkit.mixing.topping_up import (
    Source,
    brought_along,
    named,
    other_solution,
)

__all__ = ["HAPPENINGS", "event_for", "poured_into"]

HAPPENINGS = ("opened", "used", "topped-up", "tested", "moved", "discarded")
LONGEST = 300  # characters of a name or note
_MEASURED = ("used", "topped-up")
_WRITE_IN = {"mL": "Write mL or L.", "g": "It is a dry mixture: write g or kg."}


class _Amount(Struct, frozen=True):
    """What was taken or added, as the log keeps it; "" for what was not said."""

    mL: str = ""
    g: str = ""
    treated: str = ""


def event_for(
    record: Record,
    what: str,
    at: datetime,
    *,
    now: datetime,
    bottle: int | None = None,
    amount: str = "",
    by: str = "",
    note: str = "",
    place: str = "",
    source: Source | None = None,
) -> Event:
    """The event, with the date that it brings forward.

    Args:
        record: the batch.
        what: one of `HAPPENINGS`.
        at: when it happened; midnight stands for a day without a time.
        now: this moment.
        bottle: which of its bottles; None for the whole batch.
        amount: as it was written: ``60 mL``, ``2 rolls``; "" where none was said.
        by: who did it.
        note: a remark.
        place: where it was moved to.
        source: what it was topped up from.

    Raises:
        BadInput: something cannot be read or does not go together; it lies in the
            future, or before the batch was mixed.
    """
    _check(record, what, at, now, bottle)
    _check_words(what, amount, place, source)
    said = frozen(record)
    try:
        measured = _measured(amount, what, said)
    except BadInput as error:
        raise error.at("amount") from None
    if source is not None and source.name == named(record, bottle):
        raise BadInput(
            f"{source.name} cannot be topped up from itself",
            place="--from",
            remedy="Name the bottle it was poured from.",
        )
    return Event(
        record.number,
        bottle,
        what,
        at,
        by=_line(by, "--by"),
        amount_mL=measured.mL,
        amount_g=measured.g,
        treated=measured.treated,
        note=_note(note, record, source),
        place=_line(place, "--to"),
        source=source.name if source else "",
        discard_after=_sooner(record, said, what, at, measured, source),
    )


def poured_into(
    record: Record,
    events: Sequence[Event],
    volume_mL: Decimal,
    into: str,
    *,
    at: datetime,
    by: str = "",
    bottle: int | None = None,
) -> Event:
    """What a batch took from a bottle on the shelf: used, for that batch.

    A bottle that was not named is chosen only where no more than one stands.

    Args:
        record: the batch it was poured from.
        events: what happened to it.
        volume_mL: how much was poured [mL].
        into: number of the batch that took it.
        at: when that one was mixed.
        by: who mixed it.
        bottle: which bottle it was poured from, where that was said.
    """
    if bottle is None:
        bottle = _only_one(standings(record, events))
    at = max(at, record.mixed_on, key=lambda moment: moment.replace(tzinfo=None))
    measured = _Amount(mL=plain(volume_mL))
    return Event(
        record.number,
        bottle,
        "used",
        at,
        by=by,
        amount_mL=measured.mL,
        note=f"for {into}",
        discard_after=_sooner(record, frozen(record), "used", at, measured, None),
    )


def _only_one(states: Sequence[BottleState]) -> int | None:
    """The bottle that is meant where none is named; None for several or for one."""
    standing = [state.bottle for state in states if state.stands]
    return standing[0] if len(states) > 1 and len(standing) == 1 else None


def _check(
    record: Record, what: str, at: datetime, now: datetime, bottle: int | None
) -> None:
    if what not in HAPPENINGS:
        raise BadInput(
            f"{quoted(what)} is nothing that happens to a bottle",
            remedy=f"Write one of: {', '.join(HAPPENINGS)}.",
        )
    if bottle is not None and not 0 < bottle <= record.bottles:
        raise BadInput(
            f"batch {record.number} has no bottle {bottle}",
            remedy=f"Its bottles are numbered 1 to {record.bottles}.",
        )
    here, mixed = at.replace(tzinfo=None), record.mixed_on.replace(tzinfo=None)
    if here > now.replace(tzinfo=None):
        raise BadInput(
            f"{moment_words(at)} lies in the future",
            place="--on",
            remedy="Write down what has happened, when it has.",
        )
    whole_day = here.time() == time() and here.date() == mixed.date()
    begun = min(mixed.replace(second=0, microsecond=0), now.replace(tzinfo=None))
    if here < begun and not whole_day:
        since = f"{'mixed' if record.recipe else 'found'}, {moment_words(mixed)}"
        raise BadInput(
            f"{moment_words(at)} is before it was {since}",
            place="--on",
            remedy="Write a later day, or look whether this is the right bottle.",
        )


def _check_words(what: str, amount: str, place: str, source: Source | None) -> None:
    if amount.strip() and what not in _MEASURED:
        instead = " or --to PLACE" if what == "moved" else ""
        raise BadInput(
            f"{quoted(amount)} says nothing about {what}",
            place="amount",
            remedy=f"Give amounts with used and topped-up; else --note{instead}.",
        )
    if place.strip() and what != "moved":
        raise BadInput(
            f"a place does not go with {what}", place="--to", remedy="Write: moved."
        )
    if source is not None and what != "topped-up":
        raise BadInput(
            f"a bottle to pour from does not go with {what}",
            place="--from",
            remedy="Write: topped-up.",
        )


def _measured(amount: str, what: str, said: Frozen) -> _Amount:
    if not amount.strip():
        return _Amount()
    own = said.capacity.unit if said.capacity else ""
    treated = read_treated(amount, own)
    if treated is None:
        return _poured(amount, said.unit)
    if what != "used":
        raise BadInput(
            f"{quoted(amount)} is not what a bottle is topped up with",
            remedy=_WRITE_IN[said.unit],
        )
    if own and counted(str(treated), own) is None:
        raise BadInput(
            f"{quoted(amount)} cannot be counted in {own}, as this recipe does",
            remedy=f"Write how many {own}s it was.",
        )
    return _Amount(treated=str(treated))


def _poured(amount: str, unit: str) -> _Amount:
    read = parse_amount(amount)
    is_mass = read.dimension is Dimension.MASS
    if is_mass != (unit == "g"):
        raise BadInput(
            f"{quoted(amount)} is not a {'mass' if unit == 'g' else 'volume'}",
            remedy=_WRITE_IN[unit],
        )
    kept = plain(read.number)
    return _Amount(g=kept) if is_mass else _Amount(mL=kept)


def _sooner(
    record: Record,
    said: Frozen,
    what: str,
    at: datetime,
    measured: _Amount,
    source: Source | None,
) -> str:
    """The date it brings forward, as it is kept; "" where the batch's own is sooner."""
    sooner = brought_forward(said, what, at, poured=not measured.treated)
    if source is not None:
        sooner = earliest(sooner, *brought_along(record, said, source))
    kept = written(sooner)
    own_ends = last_moment(record.discard_after)
    return kept if kept and last_moment(kept) < own_ends else ""


def _note(note: str, record: Record, source: Source | None) -> str:
    """The remark, and that the bottle no longer holds what its label says."""
    line = _line(note, "--note")
    other = other_solution(record, source) if source else ""
    return "; ".join(part for part in (line, other) if part)


def _line(text: str, place: str) -> str:
    line = " ".join(text.split())
    if len(line) > LONGEST:
        raise BadInput(
            f"{quoted(line)} has {len(line)} characters",
            place=place,
            remedy=f"Write {LONGEST} at most.",
        )
    return line
