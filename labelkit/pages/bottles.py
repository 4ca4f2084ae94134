"""What became of a batch's bottles: the date each now has, and which are gone."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from labelkit.mixing.ports import Event, Record

__all__ = [
    "DateLine",
    "Happening",
    "date_lines",
    "for_the_clock",
    "gone",
    "good_until",
    "happenings",
]

_DAY = len("2032-03-14")
_DAY_IS_OVER = "T24:00"  # sorts after every minute of the day
_FOR_EVER = "~"  # sorts after every date
_DISCARDED = "discarded"


@dataclass(frozen=True, slots=True)
class DateLine:
    """A discard date and the bottles that have it.

    Attributes:
        bottles: ``bottle 2``, ``bottles 1 to 3, 5``; "" where all bottles have it.
        date: as the shelf keeps it; None where none is known.
        why: what brought it forward, ``opened 2031-04-01``; "" for the batch's own.
    """

    bottles: str
    date: str | None
    why: str = ""


@dataclass(frozen=True, slots=True)
class Happening:
    """An event in words."""

    when: str
    bottle: str
    what: str
    by: str
    note: str


def date_lines(record: Record, events: Sequence[Event]) -> tuple[DateLine, ...]:
    """The dates of the bottles that are not discarded, the earliest first."""
    standing = sorted(set(range(1, record.bottles + 1)) - gone(record, events))
    dated: dict[tuple[str | None, str], list[int]] = {}
    for bottle in standing:
        dated.setdefault(_date_of(record, events, bottle), []).append(bottle)
    all_alike = len(dated) == 1 and len(standing) == record.bottles
    lines = (
        DateLine("" if all_alike else _bottles(bottles), date, why)
        for (date, why), bottles in dated.items()
    )
    return tuple(sorted(lines, key=lambda line: (good_until(line.date), line.bottles)))


def gone(record: Record, events: Iterable[Event]) -> set[int]:
    """Which bottles are discarded."""
    every = range(1, record.bottles + 1)
    discarded = [event.bottle for event in events if event.what == _DISCARDED]
    return {n for bottle in discarded for n in (every if bottle is None else (bottle,))}


def happenings(record: Record, events: Iterable[Event]) -> tuple[Happening, ...]:
    """Every event in words, in the order given."""
    return tuple(
        Happening(
            _when(event.at),
            "all" if event.bottle is None and record.bottles > 1 else _one(event),
            f"{event.what} {event.amount_mL} mL" if event.amount_mL else event.what,
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


def good_until(date: str | None) -> str:
    """What sorts discard dates: a bottle is good through its last day or minute."""
    machine = for_the_clock(date)
    if not machine:
        return _FOR_EVER
    return machine if len(machine) > _DAY else f"{machine}{_DAY_IS_OVER}"


def _date_of(
    record: Record, events: Iterable[Event], bottle: int
) -> tuple[str | None, str]:
    """The earliest date that batch and log name for a bottle, and why."""
    date, why = record.discard_after, ""
    for event in events:
        concerned = event.bottle is None or event.bottle == bottle
        earlier = good_until(event.discard_after) < good_until(date)
        if concerned and event.discard_after and earlier:
            date, why = event.discard_after, f"{event.what} {event.at:%Y-%m-%d}"
    return date, why


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
