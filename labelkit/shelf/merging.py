"""Taking in what another bench exported: numbers are unique, nothing is overwritten."""

import json
import sqlite3
from collections import Counter

from msgspec import Struct

from labelkit.errors import BadInput, Fault, LabelkitError, ShelfError
from labelkit.mixing.ports import Event, Record
from labelkit.shelf import lines, log

__all__ = ["FORM", "Merged", "Merger"]

FORM = 1
_MOST_FAULTS = 20


class Merged(Struct, frozen=True):
    """What an import did.

    Attributes:
        batches: how many were new.
        batches_known: how many were here already, word for word.
        refused: a line for each batch whose number another batch has here (its events
            stay out with it), and for each event whose id another event has.
    """

    batches: int
    batches_known: int
    events: int
    events_known: int
    refused: tuple[Fault, ...] = ()


class Merger:
    """Takes lines one by one, within a transaction that the caller began.

    Events wait for the end, so the order of the lines does not matter.
    """

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self._waiting: list[tuple[str, Event]] = []
        self._other: set[str] = set()
        self._told: Counter[str] = Counter(batches=0, events=0)
        self._met: Counter[str] = Counter()
        self._new: Counter[str] = Counter()
        self._known: Counter[str] = Counter()
        self._refused: list[Fault] = []
        self._faults: list[Fault] = []
        self._begun = False

    def take(self, place: str, line: str) -> None:
        """Take one line; what cannot be read is told at the end, all together."""
        if not line.strip():
            return
        try:
            self._take(place, _object(line))
        except BadInput as error:
            self._blame(error, place)

    def finish(self) -> Merged:
        """Take in the events and say what was done.

        Raises:
            BadInput: there were lines that cannot be read, or some are missing.
        """
        for place, event in self._waiting:
            try:
                self._take_event(place, event)
            except BadInput as error:
                self._blame(error, place)
        faults = self._faults or self._missing()
        if faults:
            raise BadInput.of(faults)
        return Merged(
            batches=self._new["batches"],
            batches_known=self._known["batches"],
            events=self._new["events"],
            events_known=self._known["events"],
            refused=tuple(self._refused),
        )

    def _take(self, place: str, found: dict[str, object]) -> None:
        if found.get("labelkit") == "shelf":
            self._take_head(found)
        elif not self._begun:
            raise BadInput.of([_FOREIGN])
        elif found.keys() == {"batch"}:
            self._met["batches"] += 1
            self._take_batch(place, lines.record_from_json(found["batch"]))
        elif found.keys() == {"event"}:
            self._met["events"] += 1
            self._waiting.append((place, lines.event_from_json(found["event"])))
        else:
            raise BadInput("it is neither a batch nor an event")

    def _take_head(self, found: dict[str, object]) -> None:
        if found.get("form") != FORM:
            raise BadInput(
                f"form {found.get('form')!r} is not known here",
                remedy="Install the newer labelkit.",
            )
        self._begun = True
        for what in self._told:
            count = found.get(what)
            if not isinstance(count, int):
                raise BadInput("it does not say how much follows", place=what)
            self._told[what] += count

    def _take_batch(self, place: str, record: Record) -> None:
        try:
            new = log.keep_batch(self._connection, record)
        except ShelfError as error:
            self._other.add(record.number)
            self._refused += error.at(place).faults
        else:
            (self._new if new else self._known)["batches"] += 1

    def _take_event(self, place: str, event: Event) -> None:
        if event.batch in self._other:
            return
        try:
            new = log.keep_event(self._connection, event)
        except ShelfError as error:
            self._refused += error.at(place).faults
        else:
            (self._new if new else self._known)["events"] += 1

    def _missing(self) -> list[Fault]:
        return [
            Fault(
                "",
                f"{self._met[what]} of {told} {what} are there",
                "It was cut short: export it again.",
            )
            for what, told in self._told.items()
            if told != self._met[what]
        ] or ([] if self._begun else [_FOREIGN])

    def _blame(self, error: LabelkitError, place: str) -> None:
        self._faults += error.at(place).faults
        if len(self._faults) >= _MOST_FAULTS or not self._begun:
            raise BadInput.of(self._faults)


_FOREIGN = Fault("", "it is no exported shelf", "Write one with: labelkit export")


def _object(line: str) -> dict[str, object]:
    try:
        found = json.loads(line.removeprefix("\ufeff"), parse_constant=_refuse)
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        raise BadInput("it is not JSON, or cut short")
    return found


def _refuse(constant: str) -> None:
    raise ValueError(constant)
