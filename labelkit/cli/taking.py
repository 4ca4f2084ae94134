"""What a batch took from bottles on the shelf, as the log keeps it."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.mixing.batch import Batch
from labelkit.mixing.doses import Stock
from labelkit.mixing.happening import poured_into
from labelkit.mixing.ports import Event
from labelkit.mixing.remarks import remarks_on
from labelkit.shelf import SqliteShelf

__all__ = ["remarks_after", "taken_from_bottles"]


def taken_from_bottles(shelf: SqliteShelf, batch: Batch) -> tuple[Event, ...]:
    """An event for every bottle that something was poured from."""
    taken: dict[tuple[str, int | None], Decimal] = {}
    for stock, volume_mL in _pourings(batch):
        bottle = (stock.batch, stock.bottle)
        taken[bottle] = taken.get(bottle, Decimal(0)) + volume_mL
    return tuple(
        poured_into(
            shelf.get(number),
            shelf.events(number),
            volume_mL,
            batch.number,
            at=batch.mixed_on,
            by=batch.made_by,
            bottle=bottle,
        )
        for (number, bottle), volume_mL in taken.items()
    )


def remarks_after(shelf: SqliteShelf, batch: Batch) -> Iterator[str]:
    """What is to be said of the bottles that a kept batch was poured from."""
    for number in dict.fromkeys(stock.batch for stock, _ in _pourings(batch)):
        record, events = shelf.get(number), shelf.events(number)
        for event in events:
            if event.what == "used" and event.note == f"for {batch.number}":
                others = [other for other in events if other.id != event.id]
                yield from remarks_on(record, others, event)


def _pourings(batch: Batch) -> Iterator[tuple[Stock, Decimal]]:
    job = batch.plan.job
    for dose in job.doses:
        stock = job.stocks.get(dose.chemical.removeprefix("recipe:"))
        if dose.batch and stock is not None and dose.volume_mL is not None:
            yield stock, dose.volume_mL
