"""The heads of a card's columns: batch size, beaker, and a box to tick."""

from collections.abc import Iterator

from labelkit.errors import Misfit
from labelkit.mixing.words import CardColumn, CardText
from labelkit.printing.boxes import Box, Frame, Text
from labelkit.printing.card_columns import amount_stops, column_tints
from labelkit.printing.card_layout import CardLayout
from labelkit.printing.fonts import cap_height_mm, width_mm
from labelkit.printing.typeset import Pieces, one_line

__all__ = ["place_heads"]

_TICK_OFF = 3.2  # of a tick box from the column before, at most [mm]
_NARROW = 22.0  # a column under this has no room for its unit beside the figure [mm]
_SIZE_STEP = 0.5  # [pt]
_BEAKER_OF, _NEXT_BEAKER = "and use a beaker of", "Beaker: the next size up"
# Baselines as a share of the height: the figure, and what stands under it.
_FIRST, _SECOND = 0.51, 0.835


class _Heads:
    """Measures shared by the heads; ``top`` is where they begin [mm]."""

    def __init__(self, text: CardText, layout: CardLayout, top: float) -> None:
        self.columns = text.columns
        self.layout = layout
        self.spot = layout.front["heads"]
        self.words = layout.front["heads_words"]
        self.tick = layout.front["tick"]
        self.stops = amount_stops(text, layout)
        self.top = top
        self.first = top + self.spot.height * _FIRST
        self.second = top + self.spot.height * _SECOND
        many = len(self.stops) > 1
        self.pitch = self.stops[1] - self.stops[0] if many else self.stops[0]
        self.narrow = many and self.pitch < _NARROW

    def told(self) -> Iterator[Text]:
        """The words on the left: which column, and which beaker."""
        ask = "Tick ONE column" if len(self.stops) > 1 else "For one batch of"
        yield self._left(((ask, "semibold", self.words.pt),), self.first - 1.2)
        if any(column.beaker for column in self.columns):
            beaker = (
                "Beaker: the next size up" if self.narrow else "and use a beaker of"
            )
            yield self._left(((beaker, "regular", self.words.small),), self.second)

    def _left(self, pieces: Pieces, baseline: float) -> Text:
        return one_line("heads", pieces, x=self.layout.left, baseline=baseline)

    def column(self, index: int, size: float) -> Iterator[Box]:
        """The head of one column."""
        column, stop = self.columns[index], self.stops[index]
        if len(self.stops) > 1:
            yield self._tick(index)
        over, under = self._figures(column)
        pieces = ((over, "bold", size),)
        yield one_line(
            "quantity", pieces, x=stop, baseline=self.first, align="right", role="cell"
        )
        if under:
            small = ((under, "regular", self.spot.small),)
            yield one_line(
                "beaker",
                small,
                x=stop,
                baseline=self.second,
                align="right",
                role="cell",
            )

    def _figures(self, column: CardColumn) -> tuple[str, str]:
        if not self.narrow:
            return column.quantity, column.beaker
        figure, _, unit = column.quantity.replace("\u00a0", " ").rpartition(" ")
        return (figure, unit) if figure else (unit, "")

    def _tick_left(self, index: int) -> float:
        off = min(_TICK_OFF, self.pitch * 0.12)
        return self.stops[index] - self.pitch + off

    def _tick(self, index: int) -> Frame:
        side = self.tick.side[0]
        middle = self.first - cap_height_mm(self.spot.pt) / 2
        y = max(self.top + 0.8, middle - side / 2)
        return Frame(
            self._tick_left(index), y, side, side, self.tick.line, "tick", True
        )

    def size(self) -> float:
        """Of the quantities: the largest that fits [pt].

        Raises:
            Misfit: they do not fit in the smallest.
        """
        room = self.stops[0]
        if len(self.stops) > 1:
            room = self.stops[0] - self._tick_left(0) - self.tick.side[0] - 0.6
        size, least = self.spot.pt, self.spot.text[-1]
        figures = [self._figures(column)[0] for column in self.columns]
        while any(width_mm(figure, "bold", size) > room for figure in figures):
            if size <= least:
                raise Misfit("the batch sizes do not fit abreast", place="columns")
            size = max(size - _SIZE_STEP, least)
        return size


def place_heads(text: CardText, layout: CardLayout, top: float) -> tuple[Box, ...]:
    """Over each column its batch size and beaker, with a box to tick if several.

    Raises:
        Misfit: the batch sizes are too long to stand side by side.
    """
    heads = _Heads(text, layout, top)
    size = heads.size()
    boxes: list[Box] = [
        *column_tints(layout, heads.stops, top, top + heads.spot.height)
    ]
    boxes += heads.told()
    for index in range(len(heads.columns)):
        boxes += heads.column(index, size)
    return tuple(boxes)
