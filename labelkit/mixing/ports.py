"""Where shelf, files, printing and pages meet without knowing one another."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, Protocol

from msgspec import Struct

if TYPE_CHECKING:
    from labelkit.mixing.recipe import Recipe
    from labelkit.mixing.words import CardText

__all__ = [
    "CardBook",
    "Event",
    "LabelMaker",
    "Listed",
    "Log",
    "RecipeBook",
    "Record",
    "Said",
    "Shelf",
    "Shelved",
    "Standing",
]


class Event(Struct, frozen=True):
    """What happened to a bottle: appended, never edited.

    Attributes:
        batch: the batch number, ``ABCD-EFGH-K``.
        bottle: which bottle, from 1; None where the whole batch is meant.
        what: opened, used, topped-up, tested, moved, discarded.
        id: unique wherever it was written, so that shelves can be merged; "" lets
            the shelf make one.
        discard_after: what the bottle's date became where this brings it forward
            (opened, part-full); "" where it changes nothing. Written as in `Record`.
        amount_g: of a dry mixture, instead of ``amount_mL``.
        treated: film or paper that went through it, ``2 roll``; see `mixing.films`.
        source: the batch, or bottle, it was topped up from: ``ABCD-EFGH-K/2``.
        place: where it was moved to.
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
    amount_g: str = ""
    treated: str = ""
    source: str = ""
    place: str = ""


class Said(Struct, frozen=True):
    """What a person says happened, as typed; made into an `Event` when it is kept.

    Attributes:
        bottle: which bottle, from 1; None where the whole batch is meant.
        id: of the form it came from, so that a form sent twice is kept once.
        at: when it happened, a day or a moment such as ``2031-03-14 15:40``; "" for
            this moment.
    """

    number: str
    bottle: int | None
    what: str
    amount: str = ""
    by: str = ""
    note: str = ""
    place: str = ""
    source: str = ""
    id: str = ""
    at: str = ""


class Record(Struct, frozen=True):
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


class Standing(Struct, frozen=True):
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


class Shelved(Struct, frozen=True):
    """A batch in a list.

    Attributes:
        record: its ``data`` holds no more than the words a line says.
        dates: when each bottle that stands is to be discarded after, or None where
            that is not known; () where all are discarded.
    """

    record: Record
    dates: tuple[str | None, ...]


class Listed(Struct, frozen=True):
    """A page of a list.

    Attributes:
        count: of the whole list, or as far as it was counted.
        or_more: whether the list is longer than it was counted.
    """

    batches: Sequence[Shelved]
    count: int
    or_more: bool = False


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

    def listed(
        self,
        show: str,
        at: datetime,
        *,
        words: str = "",
        recipe: str = "",
        skip: int = 0,
        limit: int = 50,
    ) -> Listed:
        """A page of batches: at most ``limit``, after the first ``skip`` of the list.

        Args:
            show: ``standing``, ``in-date``, ``due`` (its date passes within 14 days),
                ``past``, ``discarded`` (no bottle stands), ``held``, ``found`` or
                ``all``. Those that go by the date begin with the earliest, all others
                with the newest.
            at: the moment that dates are compared with.
            words: must be in number, title, recipe or maker; newest first then.
            recipe: whose batches alone are listed; newest first then.
            skip: how many of the list come on pages before.
            limit: how many a page has at most.
        """

    def append(self, event: Event) -> None:
        """Write down what happened; the same event twice is kept once."""

    def events(self, number: str) -> Sequence[Event]:
        """What happened to a batch's bottles, oldest first."""


class Log(Protocol):
    """Where what happened to bottles is written down."""

    def write(self, said: Said) -> Event:
        """Write down what happened, now or earlier; the same form twice is kept once.

        Raises:
            Unknown: there is no such batch.
            BadInput: it cannot be read, or does not go together; places are those of
                ``labelkit log``.
            NoAnswer: its form was sent before, with something else in it.
        """


class RecipeBook(Protocol):
    """The recipes of a bench, by name."""

    def names(self) -> Sequence[str]:
        """Every recipe there is, in alphabetical order."""

    def read(self, name: str) -> "Recipe":
        """The recipe with that name, or `labelkit.errors.Unknown`."""


class CardBook(Protocol):
    """The mixing cards of a bench's recipes, worked out, by name."""

    def names(self) -> Sequence[str]:
        """Every recipe there is, in alphabetical order."""

    def card(self, name: str, make: str | None = None) -> "CardText":
        """The words of a recipe's card, or `labelkit.errors.Unknown`.

        Args:
            name: of the recipe.
            make: a quantity as a person writes it, such as ``750 mL``; without it the
                card tells half, once and twice the recipe's.
        """


class LabelMaker(Protocol):
    """Turns a kept batch into its labels."""

    def labels(self, record: Record, bottle: int | None = None) -> bytes:
        """The labels of a batch, one a bottle, or of one bottle alone, as one PDF.

        Raises:
            LabelkitError: they cannot be printed; the remedy says how they could.
        """
