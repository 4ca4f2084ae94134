"""Where shelf, files, printing and pages meet without knowing one another."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Protocol

from labelkit.mixing.recipe import Recipe
from labelkit.mixing.words import CardText

__all__ = [
    "CardBook",
    "Event",
    "LabelMaker",
    "RecipeBook",
    "Record",
    "Shelf",
    "Standing",
]


@dataclass(frozen=True, slots=True)
class Event:
    """What happened to a bottle: appended, never edited.

    Attributes:
        batch: the batch number, ``ABCD-EFGH-K``.
        bottle: which bottle, from 1; None where the whole batch is meant.
        what: opened, used, topped-up, tested, moved, discarded.
        id: unique wherever it was written, so that shelves can be merged; "" lets
            the shelf make one.
        discard_after: what the bottle's date became where this brings it forward
            (opened, part-full); "" where it changes nothing. Written as in `Record`.
    """

    batch: str
    bottle: int | None
    what: str
    at: datetime
    by: str = ""
    amount_mL: str = ""
    note: str = ""
    id: str = ""
    discard_after: str = ""


@dataclass(frozen=True, slots=True)
class Record:
    """A batch as it was frozen when it was mixed.

    Attributes:
        number: ``ABCD-EFGH-K``.
        discard_after: ``2032-03-14`` or, where it keeps for hours,
            ``2032-03-14T22:00``; None where no date is known.
        data: the plain JSON made by ``mixing.record``: recipe, chemicals, plan,
            weights as read, words of label, card and page, the rules' version.
    """

    number: str
    recipe: str
    title: str
    mixed_on: datetime
    made_by: str
    discard_after: str | None
    bottles: int
    data: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Standing:
    """A bottle that has not been discarded, for lists: its batch without frozen data.

    Attributes:
        bottle: which of the batch's bottles, from 1.
        bottles: how many there were.
        discard_after: of this bottle: the earliest that batch and log name; or None.
    """

    number: str
    bottle: int
    bottles: int
    recipe: str
    title: str
    mixed_on: datetime
    made_by: str
    discard_after: str | None


class Shelf(Protocol):
    """All batches and what happened to them since."""

    def add(self, record: Record) -> None:
        """Keep a batch for good, in one transaction."""

    def get(self, number: str) -> Record:
        """The batch with that number, or `labelkit.errors.Unknown`."""

    def all(self, limit: int | None = None, after: str = "") -> Iterable[Record]:
        """Batches, newest first: at most ``limit``, from the one after ``after``."""

    def search(self, words: str, limit: int | None = None) -> Iterable[Record]:
        """Batches whose number, title, recipe and maker hold every word."""

    def standing(self) -> Sequence[Standing]:
        """Every bottle that has not been discarded, newest batch first."""

    def due(self, at: date) -> Sequence[Standing]:
        """Bottles on the shelf past their date, longest past first.

        A bottle is good through its last day. A plain date is the start of that day;
        a datetime also tells bottles that keep for hours.
        """

    def append(self, event: Event) -> None:
        """Write down what happened; the same event twice is kept once."""

    def events(self, number: str) -> Sequence[Event]:
        """What happened to a batch's bottles, oldest first."""


class RecipeBook(Protocol):
    """The recipes of a bench, by name."""

    def names(self) -> Sequence[str]:
        """Every recipe there is, in alphabetical order."""

    def read(self, name: str) -> Recipe:
        """The recipe with that name, or `labelkit.errors.Unknown`."""


class CardBook(Protocol):
    """The mixing cards of a bench's recipes, worked out, by name."""

    def names(self) -> Sequence[str]:
        """Every recipe there is, in alphabetical order."""

    def card(self, name: str) -> CardText:
        """The words of a recipe's card, or `labelkit.errors.Unknown`."""


class LabelMaker(Protocol):
    """Turns a kept batch into its labels."""

    def labels(self, record: Record) -> bytes:
        """The labels of every bottle of the batch, as one PDF."""
