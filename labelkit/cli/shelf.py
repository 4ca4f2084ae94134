"""``labelkit shelf``: what stands on the shelf."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any

import click

from labelkit.cli.params import answer, in_a_workplace, json_option
from labelkit.cli.shelf_text import in_order, shelf_as_text
from labelkit.cli.state_json import state_json
from labelkit.cli.workplace import Workplace
from labelkit.errors import NoAnswer
from labelkit.mixing.bottle_state import BottleState
from labelkit.mixing.ports import Record, Standing
from labelkit.mixing.standing import standings
from labelkit.shelf import SqliteShelf
from labelkit.shelf.keys import search_words

__all__ = ["command"]

MOST_FOUND = 10_000


@click.command("shelf")
@click.argument("words", nargs=-1)
@click.option("--due", is_flag=True, help="Only what is past its date; exits 1 if any.")
@json_option
@in_a_workplace
def command(place: Workplace, words: tuple[str, ...], due: bool, as_json: bool) -> None:
    """List the bottles that stand on the shelf, the most urgent first.

    WORDS narrow it down: all of them must be in number, title, recipe or maker.
    """
    listed = list(_listed(place.shelf, words, place.now, due=due))
    records = {record.number: record for record, _ in listed}
    states = in_order((state for _, state in listed), place.now)
    if as_json:
        items = [_as_json(records[s.number], s, place.now) for s in states]
        answer({"items": items})
    else:
        click.echo(shelf_as_text(states, place.now))
    if due and states:
        raise _late(states)
    if words and not states and not due:
        raise NoAnswer(
            f"no bottle on the shelf holds {' '.join(words)!r} in its words",
            remedy="labelkit shelf lists all.",
        )


def _late(states: Sequence[BottleState]) -> NoAnswer:
    found = sum(state.found for state in states)
    told, remedies = [], []
    if found < len(states):
        told.append(f"{len(states) - found} past their date")
        remedies.append("Discard or test them.")
    if found:
        told.append(f"{found} found and not claimed in time")
        remedies.append("Leave what was found closed: it goes to hazardous waste.")
    return NoAnswer(", ".join(told), remedy=" ".join(remedies))


def _listed(
    shelf: SqliteShelf, words: tuple[str, ...], at: datetime, *, due: bool
) -> Iterator[tuple[Record, BottleState]]:
    numbers = _due(shelf, at) if due else _standing(shelf, words)
    for kept in shelf.told(numbers):
        if due and not _holds(kept.record, words):
            continue
        for state in standings(kept.record, kept.events):
            if state.stands and (state.is_past(at) or not due):
                yield kept.record, state


def _standing(shelf: SqliteShelf, words: tuple[str, ...]) -> list[str]:
    return [bottle.number for bottle in shelf.standing() if _holds(bottle, words)]


def _due(shelf: SqliteShelf, at: datetime) -> list[str]:
    """Of bottles past their date, and found ones, whose claim may be over."""
    found = shelf.listed("found", at, limit=MOST_FOUND)
    late = [bottle.number for bottle in shelf.due(at)]
    return [*late, *(shelved.record.number for shelved in found.batches)]


def _holds(kept: Standing | Record, words: tuple[str, ...]) -> bool:
    said = search_words(f"{kept.number} {kept.title} {kept.recipe} {kept.made_by}")
    return all(word in said for word in search_words(" ".join(words)).split())


def _as_json(record: Record, state: BottleState, at: datetime) -> dict[str, Any]:
    return {
        "batch": state.number,
        "bottle": state.bottle,
        "bottles": state.bottles,
        "recipe": record.recipe,
        "title": state.title,
        "mixed_on": f"{record.mixed_on:%Y-%m-%d %H:%M}",
        "made_by": record.made_by,
    } | state_json(state, at)
