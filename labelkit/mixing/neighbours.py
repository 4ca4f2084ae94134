"""What is wrong on a shelf: bottles too near each other, too old, or used too far.

Bottles are looked at rule by rule, not pair by pair: a shelf of thousands is as quickly
looked through as a small one, and one rule tells what it finds in one line.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct

from labelkit.mixing.bottle_state import BottleState, State
from labelkit.mixing.caution import Apart
from labelkit.mixing.found import is_found
from labelkit.mixing.ports import Record
from labelkit.mixing.state_text import date_words, tally_words

__all__ = ["Stood", "Trouble", "tags_in", "troubles"]

MOST_NAMED = 3
TO_WASTE = "Leave it closed; it goes to hazardous waste."


class Stood(Struct, frozen=True):
    """A bottle on the shelf, and the tags of everything in it."""

    state: BottleState
    tags: frozenset[str]


class Trouble(Struct, frozen=True):
    """One thing that is wrong on the shelf.

    Attributes:
        kind: ``apart``, ``past``, ``over`` or ``unclaimed``.
        place: where the bottles stand; "" where that was never said.
        bottles: those it is about; of ``apart`` the one side.
        others: of ``apart``, the side that must not stand with them.
        text: what is wrong, without a full stop.
        remedy: what to do, in sentences.
        severity: ``deadly``, ``serious`` or ``quality``; "" where it is no rule's.
        source: of the rule.
    """

    kind: str
    place: str
    bottles: tuple[str, ...]
    text: str
    remedy: str
    others: tuple[str, ...] = ()
    severity: str = ""
    source: str = ""


def tags_in(record: Record) -> frozenset[str]:
    """The tags of all that a batch holds, as its chemicals were known when mixed."""
    if is_found(record):
        return frozenset()
    answer = record.data.get("answer") or {}
    contents = answer.get("contents") or []
    held = {content["chemical"] for content in contents}
    tables: Iterable[Mapping[str, Any]] = record.data.get("chemicals") or []
    return frozenset(
        tag for table in tables if table["id"] in held for tag in table.get("tags", ())
    )


def troubles(
    stood: Sequence[Stood], rules: Iterable[Apart], at: datetime
) -> tuple[Trouble, ...]:
    """All that is wrong, the deadly first.

    Args:
        stood: every bottle that stands; those without a place count as one place.
        rules: what must stand apart, in the order of the file.
        at: the moment that dates are compared with.
    """
    places: dict[str, list[Stood]] = {}
    for one in stood:
        if one.state.state is not State.EMPTY:
            places.setdefault(one.state.place.casefold(), []).append(one)
    ranked = sorted(rules, key=lambda rule: rule.severity.rank)
    near = [
        trouble
        for rule in ranked
        for bottles in places.values()
        for trouble in _too_near(rule, bottles)
    ]
    each = [trouble for one in stood for trouble in _of_itself(one.state, at)]
    return (*near, *each)


def _too_near(rule: Apart, bottles: Iterable[Stood]) -> Iterator[Trouble]:
    """The bottles of one place that a rule parts; one batch is never beside itself."""
    here = list(bottles)
    one = [b.state for b in here if b.tags & rule.tags_a]
    other = [b.state for b in here if b.tags & rule.tags_b]
    numbers, others = {s.number for s in one}, {s.number for s in other}
    if not numbers or not others or len(numbers | others) == 1:
        return
    place = next((s.place for s in one if s.place), "")
    where = f"stand together at {place}" if place else "stand together"
    yield Trouble(
        "apart",
        place,
        tuple(state.name for state in one),
        f"{_named(one)} and {_named(other)} {where}, and must not: "
        f"{rule.named_a} with {rule.named_b}. {rule.text.removesuffix('.')}",
        "Move one side to another shelf and tray, and write it down: "
        f"labelkit log {other[0].name} moved --to PLACE.",
        others=tuple(state.name for state in other),
        severity=rule.severity.value,
        source=rule.source,
    )


def _of_itself(state: BottleState, at: datetime) -> Iterator[Trouble]:
    def trouble(kind: str, text: str, remedy: str) -> Trouble:
        told = f"{_named([state])} {text.removesuffix('.')}"
        return Trouble(kind, state.place, (state.name,), told, remedy)

    if state.found and state.is_past(at):
        text = f"was to be claimed by {state.claim_by}, and nobody knows what is in it"
        yield trouble("unclaimed", text, TO_WASTE)
    elif state.is_past(at):
        text = f"is past its date: {date_words(state)}"
        yield trouble("past", text, "Discard it, or test it before use.")
    if state.tallied is not None and state.tallied.over:
        yield trouble("over", f"is {tally_words(state)}", "Mix fresh and discard it.")


def _named(states: Sequence[BottleState]) -> str:
    """A few bottles by number and title, one a batch, and how many more there are."""
    batches = {state.number: state for state in reversed(states)}
    first = list(reversed(batches.values()))[:MOST_NAMED]
    told = [f"{state.name} ({state.title})" for state in first]
    more = len(states) - len(told)
    beyond = f" and {more} more" if more else ""
    return f"{', '.join(told)}{beyond}"
