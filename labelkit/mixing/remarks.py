"""What to be told when something was written down about a bottle."""

from collections.abc import Iterable, Iterator, Sequence

from labelkit.mixing.bottle_state import BottleState
from labelkit.mixing.dates import is_past
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.said import bound
from labelkit.mixing.standing import standings
from labelkit.mixing.state_text import (
    STAYS_CLOSED,
    date_words,
    left_words,
    tally_words,
)
from labelkit.mixing.topping_up import Source

__all__ = ["concerned", "is_reserved", "remarks_on"]

TAKES = ("opened", "used", "topped-up")
RESERVED = ("HOLD", "ASK")


def is_reserved(mark: str) -> bool:
    """Whether a bottle so marked is not for everyone to pour from: HOLD, ASK."""
    return mark.startswith(RESERVED)


def concerned(states: Iterable[BottleState], event: Event) -> tuple[BottleState, ...]:
    """The bottles that an event is about."""
    return tuple(s for s in states if event.bottle in (None, s.bottle))


def remarks_on(
    record: Record,
    before: Sequence[Event],
    event: Event,
    source: Source | None = None,
) -> tuple[str, ...]:
    """What an event gives cause to say, each a sentence; it is written down anyway.

    Args:
        record: the batch.
        before: what happened until then.
        event: what is written down now.
        source: what it was topped up from.
    """
    was = concerned(standings(record, before), event)
    now = concerned(standings(record, (*before, event)), event)
    found = [*_of_the_wrong_bottle(was, event)]
    if event.what in TAKES:
        found += _of_taking(was, event)
    if source is not None:
        found += _of_the_source(record, source, event)
    if event.what == "used":
        for state in now:
            found += _of_what_is_left(state)
        found += _of_which(record, event)
    return tuple(dict.fromkeys(found))


def _of_the_wrong_bottle(was: Sequence[BottleState], event: Event) -> Iterator[str]:
    gone = [state for state in was if not state.stands]
    if gone and len(gone) == len(was):
        state = gone[0]
        yield (
            f"{state.name} was discarded {bound(state.discarded_on)}; it is written "
            "down all the same. Is this the right bottle?"
        )


def _of_taking(was: Sequence[BottleState], event: Event) -> Iterator[str]:
    for state in was:
        if state.found:
            yield f"{state.name} is UNKNOWN. {STAYS_CLOSED}"
        elif state.stands and state.is_past(event.at):
            yield f"{state.name} was past its date: {date_words(state)}"
        if is_reserved(state.use_mark):
            yield f"{state.name} is marked {state.use_mark}."


def _of_the_source(record: Record, source: Source, event: Event) -> Iterator[str]:
    if source.recipe != record.recipe:
        yield (
            f"{source.name} is {source.title}, not {record.title}: what this bottle "
            "holds now is not what its label says. Label it anew, or discard it."
        )
    if is_past(source.discard_after, event.at):
        yield f"{source.name} was past its date, {source.discard_after}."


def _of_what_is_left(state: BottleState) -> Iterator[str]:
    if state.overdrawn:
        yield f"{state.name}: {left_words(state)}"
    tally = state.tallied
    if tally is not None and tally.last:
        fresh = " Mix fresh." if tally.over or not tally.left else ""
        yield f"{state.name}: {tally_words(state)}{fresh}"


def _of_which(record: Record, event: Event) -> Iterator[str]:
    if event.bottle is None and record.bottles > 1:
        yield (
            f"Which of the {record.bottles} bottles is not said, so each counts as in "
            f"use: write {event.batch}/1 and so on."
        )
