"""What happened to bottles, written down from pages as `labelkit log` does."""

from collections.abc import Iterable
from datetime import datetime
from threading import Lock

from msgspec.structs import replace

from labelkit.cli.params import parse_moment
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, NoAnswer
from labelkit.mixing.dates import moment_words
from labelkit.mixing.happening import event_for
from labelkit.mixing.ports import Event, Record, Said
from labelkit.mixing.said import NBSP
from labelkit.mixing.state_text import happened
from labelkit.mixing.topping_up import Source, source_from

__all__ = ["LogBook"]


class LogBook:
    """The log of a workplace's shelf; implements `mixing.ports.Log`."""

    def __init__(self, place: Workplace) -> None:
        self._place = place
        self._one_at_a_time = Lock()

    def write(self, said: Said) -> Event:
        """Write down what happened; see `mixing.ports.Log.write`."""
        place = self._place.afresh()
        with self._one_at_a_time:
            record = place.shelf.get(said.number)
            before = _of_the_same_form(place.shelf.events(record.number), said.id)
            event = _event(place, record, said, before)
            if before is None:
                place.shelf.append(event)
                return event
        if replace(event, discard_after=before.discard_after) == before:
            return before
        told = happened(before).replace(NBSP, " ")
        raise NoAnswer(
            f"This form was sent before, and written down as: {told} on "
            f"{moment_words(before.at)}",
            remedy="Nothing was written twice. Send it if this happened as well.",
        )


def _of_the_same_form(events: Iterable[Event], form: str) -> Event | None:
    return next((event for event in events if form and event.id == form), None)


def _event(place: Workplace, record: Record, said: Said, before: Event | None) -> Event:
    event = event_for(
        record,
        said.what,
        _at(said.at) or (before.at if before else place.now),
        now=place.now,
        bottle=said.bottle,
        amount=said.amount,
        by=said.by,
        note=said.note,
        place=said.place,
        source=_source(place, said.source),
    )
    return replace(event, id=said.id)


def _at(typed: str) -> datetime | None:
    """When it happened, read as ``--on`` is; None where nothing is said."""
    line = " ".join(typed.split())
    if not line:
        return None
    try:
        return parse_moment(line)
    except BadInput as error:
        raise error.at("--on") from None


def _source(place: Workplace, named: str) -> Source | None:
    if not named.strip():
        return None
    try:
        record, bottle = place.bottle(named)
    except BadInput as error:
        raise error.at("--from") from None
    return source_from(record, place.shelf.events(record.number), bottle)
