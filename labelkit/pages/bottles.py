"""What became of a batch's bottles: their dates, what is left, which are gone."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from msgspec import Struct

from labelkit.mixing.bottle_state import BottleState
from labelkit.mixing.dates import last_moment
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.standing import standings
from labelkit.mixing.state_text import happened, told

__all__ = [
    "BottleLine",
    "DateLine",
    "Happening",
    "bottle_lines",
    "date_lines",
    "for_the_clock",
    "gone",
    "happenings",
    "states_of",
]

_DAY = len("2032-03-14")


class DateLine(Struct, frozen=True):
    """A discard date and the bottles that have it.

    Attributes:
        bottles: ``bottle 2``, ``bottles 1 to 3, 5``; "" where all bottles have it.
        date: as the shelf keeps it; None where none is known.
        why: what brought it forward, ``opened 2031-04-01``; "" for the batch's own.
    """

    bottles: str
    date: str | None
    why: str = ""


class BottleLine(Struct, frozen=True):
    """How one bottle stands, in words.

    Attributes:
        name: ``Bottle 2``; "" where there is only one.
        told: ``Part full: 180 mL of 250 mL left.``, and what went through it.
        over: whether more film went through it than it is good for.
    """

    name: str
    told: str
    over: bool


class Happening(Struct, frozen=True):
    """An event in words."""

    when: str
    bottle: str
    what: str
    by: str
    note: str


def states_of(record: Record, events: Sequence[Event]) -> tuple[BottleState, ...]:
    """How the bottles stand; () where nothing happened: all as they were filled."""
    return standings(record, events) if events else ()


def date_lines(record: Record, states: Sequence[BottleState]) -> tuple[DateLine, ...]:
    """The dates of the bottles that are not discarded, the earliest first.

    Args:
        record: the batch.
        states: of its bottles, from `states_of`.
    """
    if not states:
        return (DateLine("", record.discard_after),)
    dated: dict[tuple[str | None, str], list[int]] = {}
    for state in states:
        if state.stands:
            dated.setdefault((state.discard_after, state.why), []).append(state.bottle)
    all_alike = len(dated) == 1 and all(state.stands for state in states)
    lines = (
        DateLine("" if all_alike else _bottles(bottles), date, why)
        for (date, why), bottles in dated.items()
    )
    return tuple(sorted(lines, key=lambda line: (last_moment(line.date), line.bottles)))


def bottle_lines(states: Sequence[BottleState]) -> tuple[BottleLine, ...]:
    """What is left in each bottle, and what went through it."""
    return tuple(
        BottleLine(
            f"Bottle {state.bottle}" if len(states) > 1 else "",
            told(state),
            state.tallied is not None and state.tallied.over and state.stands,
        )
        for state in states
    )


def gone(states: Sequence[BottleState]) -> str:
    """Which bottles are discarded: ``all``, ``bottle 2``, or "" for none."""
    numbers = [state.bottle for state in states if not state.stands]
    if not numbers:
        return ""
    return "all" if len(numbers) == len(states) else _bottles(numbers)


def happenings(record: Record, events: Iterable[Event]) -> tuple[Happening, ...]:
    """Every event in words, in the order given."""
    return tuple(
        Happening(
            _when(event.at),
            "all" if event.bottle is None and record.bottles > 1 else _one(event),
            happened(event),
            event.by,
            _note(event),
        )
        for event in events
    )


def for_the_clock(date: str | None) -> str:
    """A discard date as a machine reads it, by the room's own clock; "" for none.

    ``2032-03-14`` or ``2032-03-14T22:00`` (ISO 8601).
    """
    if not date:
        return ""
    moment = datetime.fromisoformat(date)
    if len(date) <= _DAY:
        return moment.date().isoformat()
    return moment.replace(tzinfo=None).isoformat(timespec="minutes")


def _when(at: datetime) -> str:
    """Midnight is how a day without a time is kept."""
    told = f"{at:%Y-%m-%d %H:%M}"
    return told.removesuffix(" 00:00")


def _note(event: Event) -> str:
    date = event.discard_after.replace("T", " ")
    brought = f"discard after {date}" if date else ""
    return "; ".join(part for part in (event.note, brought) if part)


def _one(event: Event) -> str:
    return str(event.bottle or 1)


def _bottles(numbers: Sequence[int]) -> str:
    """``bottle 2``, or ``bottles 1 to 3, 5``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = ", ".join(_run(run) for run in runs)
    return f"bottle{'s' if len(numbers) > 1 else ''} {told}"


def _run(run: Sequence[int]) -> str:
    if len(run) < 3:
        return ", ".join(map(str, run))
    return f"{run[0]} to {run[-1]}"
