"""``--stock NAME=BATCH``: which bottle a solution, or a solid, is taken from."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import click

from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.catalogue import Entry
from labelkit.mixing.check import Check, Level
from labelkit.mixing.doses import Stock
from labelkit.mixing.ports import Record
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.record import stock_from

__all__ = ["Bottle", "bottle_from", "stock_option", "stock_words"]

stock_option = click.option(
    "--stock",
    multiple=True,
    metavar="NAME=BATCH",
    help="The bottle a solution, or a chemical instead of its powder, is taken from.",
)


@dataclass(frozen=True, slots=True)
class Bottle:
    """A bottle on the shelf.

    Attributes:
        chemicals: the entries of what it holds, as they were known then.
        late: the date it is past, "" where it is good.
        gone: no bottle of the batch stands on the shelf any more.
    """

    record: Record
    stock: Stock
    chemicals: tuple[Entry, ...]
    late: str
    gone: bool

    def refuse_another(self, name: str) -> None:
        """Refuse a bottle of another recipe than the one the recipe takes.

        Raises:
            BadInput: it is one.
        """
        if self.record.recipe != name:
            raise BadInput(
                f"batch {self.record.number} is {self.record.recipe}, not {name}",
                place="--stock",
                remedy=f"Write {self.record.recipe}={self.record.number}, or name "
                "another batch.",
            )

    def checks(self, recipe: Recipe) -> Iterator[Check]:
        """What is to be said of it where ``recipe`` takes it."""
        added = f"recipe:{self.stock.name}"
        step = next((s.number for s in recipe.steps if s.add == added), None)
        named = f"{self.stock.title}, batch {self.record.number},"
        if self.late:
            text = f"{named} is past its date ({self.late}): test it first."
            yield Check("expired-stock", Level.WARN, step, text)
        if self.gone:
            text = f"{named} was discarded: is this the right bottle?"
            yield Check("expired-stock", Level.WARN, step, text)


def stock_words(words: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Each ``NAME=BATCH`` as name and batch.

    Raises:
        BadInput: one has no '='.
    """
    for word in words:
        name, equals, batch = word.partition("=")
        if not equals:
            raise BadInput(
                f"'{word}' has no '='",
                place="--stock",
                remedy="Write NAME=BATCH, such as pyro-a=ABCD-EFGH-K.",
            )
        yield name.strip(), batch


def bottle_from(batch: str, place: Workplace) -> Bottle:
    """The bottle of that batch, ``NUMBER`` or ``NUMBER/2``.

    Raises:
        BadInput: there is none, or its number cannot be read.
        ShelfError: it is a dry mixture.
    """
    from labelkit.files.chemicals import entries_from_tables
    from labelkit.mixing.numbers import read_bottle

    try:
        number, bottle = read_bottle(batch)
        record = place.shelf.get(number)
    except BadInput as error:
        raise error.at("--stock") from None
    tables = record.data["chemicals"]
    entries, _ = entries_from_tables(tables, place=f"batch {number}", stored=True)
    late = [
        b.discard_after or ""
        for b in place.shelf.due(place.now)
        if b.number == number and bottle in (None, b.bottle)
    ]
    standing = [
        b
        for b in place.shelf.standing()
        if b.number == number and bottle in (None, b.bottle)
    ]
    return Bottle(
        record,
        stock_from(record),
        tuple(entries),
        late=min(late, default=""),
        gone=not standing,
    )
