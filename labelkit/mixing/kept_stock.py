"""A batch that was kept, as a solution that other recipes take by the mL."""

from datetime import date, datetime
from decimal import Decimal

from labelkit.errors import ShelfError
from labelkit.mixing.dates import Day
from labelkit.mixing.doses import Stock
from labelkit.mixing.ledger import Ledger
from labelkit.mixing.plain import from_plain
from labelkit.mixing.ports import Record

__all__ = ["stock_from"]


def stock_from(record: Record) -> Stock:
    """What the batch is to a recipe that takes it by the mL.

    Raises:
        ShelfError: it was made by mass, so no volume of it is known.
    """
    volume = record.data["volume_mL"]
    if volume is None:
        raise ShelfError(
            f"{record.number} was made by mass, so no mL of it can be poured",
            remedy="Name a batch of a solution.",
        )
    return Stock(
        record.recipe,
        record.title,
        from_plain(Ledger, record.data["ledger"]),
        Decimal(volume),
        batch=record.number,
        part=record.data["recipe"]["part"],
        discard_after=_day(record.discard_after),
    )


def _day(text: str | None) -> Day | None:
    """A day or a moment as it is kept."""
    if text is None:
        return None
    timed = len(text) > len("2032-03-14")
    return datetime.fromisoformat(text) if timed else date.fromisoformat(text)
