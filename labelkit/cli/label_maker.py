"""Labels for pages: those of a kept batch, as `labelkit label` prints them."""

from threading import Lock

from labelkit.cli.prints import LabelOrder, label_pdf, placements
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.found import is_found
from labelkit.mixing.ports import Record
from labelkit.mixing.record import bottle_texts

__all__ = ["BenchLabels"]


class BenchLabels:
    """Prints with a workplace's settings and layouts; a `mixing.ports.LabelMaker`."""

    def __init__(self, place: Workplace) -> None:
        self._place = place
        self._one_at_a_time = Lock()

    def labels(self, record: Record, bottle: int | None = None) -> bytes:
        """The labels as one PDF; see `mixing.ports.LabelMaker.labels`."""
        _refuse_unreadable(record)
        place, order = self._place.afresh(), LabelOrder()
        with self._one_at_a_time:
            placed = placements(place, record, bottle, order)
            pdf, _ = label_pdf(place, placed, order, [record])
        return pdf


def _refuse_unreadable(record: Record) -> None:
    """A record may have come from another bench, or from a newer labelkit."""
    if is_found(record):
        return
    try:
        bottle_texts(record)
    except (KeyError, TypeError, ValueError, ArithmeticError, AttributeError):
        raise BadInput(
            f"the words that batch {record.number} was kept with cannot be read",
            remedy="Print it where it was mixed.",
        ) from None
