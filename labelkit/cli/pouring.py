"""``--stock NAME=BATCH``: which bottle a solution, or a solid, is taken from."""

from collections.abc import Iterator, Sequence

import click
from msgspec import Struct
from msgspec.structs import replace

from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.catalogue import Entry
from labelkit.mixing.check import Check, Level
from labelkit.mixing.dates import last_moment, read_day
from labelkit.mixing.doses import Stock
from labelkit.mixing.found import refuse_found
from labelkit.mixing.kept_stock import stock_from
from labelkit.mixing.ports import Record
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.remarks import is_reserved

__all__ = ["Bottle", "bottle_from", "stock_option", "stock_words"]

stock_option = click.option(
    "--stock",
    multiple=True,
    metavar="NAME=BATCH",
    help="The bottle a solution, or a chemical instead of its powder, is taken from.",
)


class Bottle(Struct, frozen=True):
    """A bottle on the shelf.

    Attributes:
        stock: what it holds, with the date it is good until by batch and log.
        chemicals: the entries of what it holds, as they were known then.
        gone: no such bottle stands on the shelf any more.
    """

    record: Record
    stock: Stock
    chemicals: tuple[Entry, ...]
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

    @property
    def reserved(self) -> str:
        """That it is not for everyone to pour from, HOLD or ASK; "" where it is."""
        record, bottle = self.record, self.stock.bottle
        page = (record.data.get("words") or {}).get("page") or {}
        mark = str(page.get("use_mark") or "")
        named = f"{record.number}/{bottle}" if bottle else record.number
        told = (
            f"{self.stock.title} {named} is marked {mark}. Ask before you pour from it."
        )
        return told if is_reserved(mark) else ""

    def checks(self, recipe: Recipe) -> Iterator[Check]:
        """What is to be said of it where ``recipe`` takes it."""
        added = f"recipe:{self.stock.name}"
        step = next((s.number for s in recipe.steps if s.add == added), None)
        if self.gone:
            named = f"{self.stock.title} ({self.record.number})"
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
        NoAnswer: nobody knows what is in it.
        ShelfError: it is a dry mixture.
    """
    from labelkit.files.chemicals import entries_from_tables

    try:
        record, bottle = place.bottle(batch)
    except BadInput as error:
        raise error.at("--stock") from None
    refuse_found(record)
    tables = record.data["chemicals"]
    entries, _ = entries_from_tables(
        tables, place=f"batch {record.number}", stored=True
    )
    standing = [
        b
        for b in place.shelf.standing()
        if b.number == record.number and bottle in (None, b.bottle)
    ]
    dates = [b.discard_after for b in standing if b.discard_after]
    stock = replace(stock_from(record), bottle=bottle)
    if dates:
        stock = replace(stock, discard_after=read_day(min(dates, key=last_moment)))
    return Bottle(record, stock, tuple(entries), gone=not standing)
