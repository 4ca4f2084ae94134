"""Labels for pages: those of a kept batch, as `labelkit label` prints them."""

from threading import Lock

from labelkit.cli.prints import LabelOrder, label_pdf, placements
from labelkit.cli.workplace import Workplace
from labelkit.mixing.ports import Record

__all__ = ["BenchLabels"]


class BenchLabels:
    """Prints with a workplace's settings and layouts; a `mixing.ports.LabelMaker`."""

    def __init__(self, place: Workplace) -> None:
        self._place = place
        self._one_at_a_time = Lock()

    def labels(self, record: Record, bottle: int | None = None) -> bytes:
        """The labels as one PDF; see `mixing.ports.LabelMaker.labels`."""
        place, order = self._place.afresh(), LabelOrder()
        with self._one_at_a_time:
            placed = placements(place, record, bottle, order)
            pdf, _ = label_pdf(place, placed, order, [record])
        return pdf
