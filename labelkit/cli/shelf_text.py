"""What stands on the shelf, on the terminal: what matters first, 78 wide."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from enum import StrEnum

from labelkit.cli.words import WIDTH, fitted
from labelkit.mixing.bottle_state import BottleState
from labelkit.mixing.dates import is_past, last_moment
from labelkit.mixing.said import NBSP
from labelkit.mixing.state_text import marks, short_left, tally_marks, tally_words
from labelkit.shelf.pages import SOON

__all__ = ["Group", "group_of", "in_order", "shelf_as_text"]

NUMBER, LEFT, STATE, DATE = 16, 16, 9, 16
TITLE = WIDTH - NUMBER - LEFT - STATE - DATE - 4  # a space between columns


class Group(StrEnum):
    """Bottles that ask for the same, the most urgent first."""

    PAST = "Past its date: discard or test"
    OVER = "More went through it than it is good for: mix fresh"
    FOUND = "Found, nobody knows what is in it: leave it closed"
    SOON = "Discard within 14 days"
    IN_DATE = "In date"
    UNDATED = "No discard date known: test before use"


def group_of(state: BottleState, at: datetime) -> Group:
    """Where a bottle is listed ``at`` a moment."""
    if state.found:
        return Group.FOUND
    if state.is_past(at):
        return Group.PAST
    if state.tallied is not None and state.tallied.over:
        return Group.OVER
    if state.discard_after is None:
        return Group.UNDATED
    return Group.SOON if is_past(state.discard_after, at + SOON) else Group.IN_DATE


def in_order(states: Iterable[BottleState], at: datetime) -> list[BottleState]:
    """By group, then the earliest date, then as they came."""
    groups = list(Group)

    def place(state: BottleState) -> tuple[int, str]:
        ends = min(last_moment(state.discard_after), last_moment(state.claim_by))
        return groups.index(group_of(state, at)), ends

    return sorted(states, key=place)


def shelf_as_text(states: Sequence[BottleState], at: datetime) -> str:
    """The list; a heading where another group begins."""
    if not states:
        return "Nothing."
    return "\n".join(_lines(states, at)).replace(NBSP, " ")


def _lines(states: Sequence[BottleState], at: datetime) -> Iterator[str]:
    yield _columns("number", "title", "left", "state", "discard after")
    heading = None
    for alike in _together(states, at):
        first = alike[0]
        group = group_of(first, at)
        if group is not heading:
            yield ""
            yield group.value
            heading = group
        held = short_left(first)
        several = f"{len(alike)} x {held}" if len(alike) > 1 and held else held
        name = f"{first.name}-{alike[-1].bottle}" if len(alike) > 1 else first.name
        yield _columns(name, first.title, several, first.state.value, _date(first))
        beside = _beside(first, at)
        if beside:
            yield textwrap.fill(
                beside, WIDTH, initial_indent="  ", subsequent_indent="  "
            )


def _together(
    states: Sequence[BottleState], at: datetime
) -> Iterator[list[BottleState]]:
    """Bottles of one batch that follow one another and stand alike."""
    alike: list[BottleState] = []
    for state in states:
        if alike and not _follows(alike[-1], state, at):
            yield alike
            alike = []
        alike.append(state)
    if alike:
        yield alike


def _follows(before: BottleState, state: BottleState, at: datetime) -> bool:
    if (before.number, before.bottle + 1) != (state.number, state.bottle):
        return False
    return _said(before, at) == _said(state, at)


def _said(state: BottleState, at: datetime) -> tuple[str, ...]:
    return (short_left(state), state.state.value, _date(state), _beside(state, at))


def _columns(number: str, title: str, held: str, state: str, date: str) -> str:
    cells = (
        (number, NUMBER),
        (title, TITLE),
        (held, LEFT),
        (state, STATE),
        (date, DATE),
    )
    return " ".join(fitted(text, width) for text, width in cells).rstrip()


def _date(state: BottleState) -> str:
    if state.found:
        return f"claim {state.claim_by}" if state.claim_by else "-"
    return (state.discard_after or "-").replace("T", " ")


def _beside(state: BottleState, at: datetime) -> str:
    """What else must be seen: marks, film that went through it, where it stands."""
    said = list(marks(state, at))
    if state.tallied is not None and state.tallied.used:
        said = [m for m in said if m not in tally_marks(state)]
        said.append(tally_words(state).rstrip("."))
    if state.why:
        said.append(state.why)
    if state.place:
        said.append(f"at {state.place}")
    return "; ".join(said)
