"""Topping a bottle up from another: which one it is, what its age brings along."""

from collections.abc import Sequence
from datetime import datetime

from msgspec import Struct

from labelkit.mixing.dates import Day, last_moment, read_day
from labelkit.mixing.frozen import Frozen
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.standing import standings

__all__ = ["Source", "brought_along", "named", "other_solution", "source_from"]


class Source(Struct, frozen=True):
    """The bottle that another is topped up from.

    Attributes:
        name: ``ABCD-EFGH-K``, or ``ABCD-EFGH-K/2`` where it has several.
        discard_after: the earliest that its batch and log name, as it is kept.
    """

    name: str
    recipe: str
    title: str
    mixed_on: datetime
    discard_after: str | None


def source_from(record: Record, events: Sequence[Event], bottle: int | None) -> Source:
    """A bottle to top up from; of several that may be meant, the earliest date."""
    states = [s for s in standings(record, events) if bottle in (None, s.bottle)]
    meant = [state for state in states if state.stands] or states
    dates = [state.discard_after for state in meant]
    return Source(
        named(record, bottle),
        record.recipe,
        record.title,
        record.mixed_on,
        min(dates, key=last_moment),
    )


def named(record: Record, bottle: int | None) -> str:
    """A bottle by its number, as `Source` has it."""
    one_of_several = bottle is not None and record.bottles > 1
    return f"{record.number}/{bottle}" if one_of_several else record.number


def brought_along(record: Record, said: Frozen, source: Source) -> tuple[Day, ...]:
    """The dates that an older bottle brings: its own, and this one's from its mixing.

    Topping up or merging keeps the older mix date (common practice, no source).
    """
    days = []
    if source.discard_after:
        days.append(read_day(source.discard_after))
    if said.keeps is not None and _is_older(source, record):
        mixed = source.mixed_on.replace(tzinfo=None)
        days.append(
            said.keeps.after(mixed if said.keeps.by_the_clock else mixed.date())
        )
    return tuple(days)


def other_solution(record: Record, source: Source) -> str:
    """That the source is another solution than the bottle's own; "" for the same."""
    if source.recipe == record.recipe:
        return ""
    return f"{source.title} is another solution"


def _is_older(source: Source, record: Record) -> bool:
    return source.mixed_on.replace(tzinfo=None) < record.mixed_on.replace(tzinfo=None)
