"""How a bottle stands, in short sentences that terminal, page and list share."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.display import figures, show_amount
from labelkit.mixing.bottle_state import BottleState, State, Tallied
from labelkit.mixing.films import told_treated, told_units
from labelkit.mixing.ports import Event
from labelkit.mixing.said import NBSP, bound, capital

__all__ = [
    "STAYS_CLOSED",
    "date_words",
    "happened",
    "left_words",
    "marks",
    "numbers_told",
    "short_left",
    "tally_marks",
    "tally_words",
    "told",
]

STAYS_CLOSED = "Leave it closed."
NO_DATE = "No discard date known: test before use."


def told(state: BottleState) -> str:
    """Everything of one bottle: ``Part full: 190 mL of 250 mL left. Discard after …``.

    Discarded, it says no more than that.
    """
    if not state.stands:
        return f"Discarded {bound(state.discarded_on)}."
    parts = [left_words(state), tally_words(state), date_words(state)]
    if state.place:
        parts.append(f"Stands: {state.place}.")
    if state.use_mark:
        parts.append(f"{state.use_mark}.")
    return " ".join(part for part in parts if part)


def left_words(state: BottleState) -> str:
    """What is left in it, such as ``Part full: 190 mL of 250 mL left``, a sentence."""
    if state.found:
        return "UNKNOWN: what is in it is not known."
    word = capital(state.state.value)
    if state.overdrawn:
        return f"{word}: {_amount(state.overdrawn, state.unit)} more used than it held."
    if state.state is State.EMPTY:
        return f"{word}."
    if state.unsaid:
        return f"{word}: what is left is not known ({state.unsaid})."
    if state.filled is None or state.remaining is None:
        return f"{word}."
    left = _amount(state.remaining, state.unit)
    if state.state is State.PART_FULL:
        return f"{word}: {left} of {_amount(state.filled, state.unit)} left."
    return f"{word}: {left}."


def short_left(state: BottleState) -> str:
    """The same for a column: ``190 of 250 mL``, ``not known``."""
    if state.filled is None:
        return "not known" if state.found or state.unsaid else ""
    filled = _amount(state.filled, state.unit)
    if state.remaining is None:
        return f"? of {filled}"
    if state.remaining == state.filled:
        return filled
    left = _amount(state.remaining, state.unit)
    number, _, unit = left.partition(NBSP)
    same = filled.endswith(f"{NBSP}{unit}") or not state.remaining
    return f"{number if same else left} of {filled}"


def tally_words(state: BottleState) -> str:
    """How much film it is still good for: ``7 of 10 rolls left.``; "" for none."""
    tally = state.tallied
    if tally is None:
        return ""
    if tally.holds is None:
        return f"{_units(tally, tally.used)} through it; no capacity known."
    holds = _units(tally, tally.holds)
    if tally.over:
        used = _units(tally, tally.used)
        used = f"more than {used}" if used == holds else used
        return f"OVER: {used} through it, good for {holds}."
    assert tally.left is not None
    if not tally.used:
        return f"Good for {holds}."
    if not tally.left:
        return f"Its capacity of {holds} is used up."
    last = f"Last {tally.unit}: " if tally.last else ""
    return f"{last}{figures(tally.left, 3)} of {holds} left."


def date_words(state: BottleState) -> str:
    """``Discard after 2031-05-01 (opened 2031-04-01).``, or that none is known."""
    if state.found:
        return f"Claim by {bound(state.claim_by)}." if state.claim_by else ""
    if not state.discard_after:
        return NO_DATE
    why = f" ({state.why})" if state.why else ""
    day = bound(state.discard_after.replace("T", " "))
    return f"Discard after {day}{why}."


def marks(state: BottleState, at: datetime) -> tuple[str, ...]:
    """What must be seen first, in capitals where it forbids; () for nothing.

    Args:
        state: of the bottle.
        at: the moment that its date is compared with.
    """
    past = "PAST ITS CLAIM DATE" if state.found else "PAST ITS DATE"
    found = [
        *([past] if state.is_past(at) else []),
        *tally_marks(state),
        *(["FOUND"] if state.found else []),
        state.use_mark,
    ]
    return tuple(mark for mark in found if mark) if state.stands else ()


def tally_marks(state: BottleState) -> tuple[str, ...]:
    """OVER, ``used up`` or ``last roll``; () where there is more left."""
    tally = state.tallied
    if tally is None or not tally.last:
        return ()
    if tally.over:
        return ("OVER",)
    return (f"last {tally.unit}" if tally.left else "used up",)


def happened(event: Event) -> str:
    """An event in words: ``used 60 mL``, ``topped up 100 mL from ABCD-EFGH-K``."""
    amount = ""
    if event.amount_mL:
        amount = f" {event.amount_mL}{NBSP}mL"
    elif event.amount_g:
        amount = f" {event.amount_g}{NBSP}g"
    elif event.treated:
        amount = f" for {told_treated(event.treated)}"
    source = f" from {event.source}" if event.source else ""
    place = f" to {event.place}" if event.place else ""
    return f"{event.what}{amount}{source}{place}"


def numbers_told(bottles: Sequence[int]) -> str:
    """Which bottles, in order: ``2``, ``1, 2`` or ``1, 3 to 12``."""
    runs: list[list[int]] = []
    for number in bottles:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run))
        for run in runs
    )


def _amount(number: Decimal, unit: str) -> str:
    """With its unit, bound to it; nothing left is told too."""
    if not number:
        return f"0{NBSP}{unit}"
    dimension = Dimension.MASS if unit == "g" else Dimension.VOLUME
    return bound(show_amount(Amount(number, dimension)))


def _units(tally: Tallied, number: Decimal) -> str:
    return bound(told_units(number, tally.unit))
