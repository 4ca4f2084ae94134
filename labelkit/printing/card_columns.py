"""The columns of amounts on a card: where they stand and how large they are set."""

from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.words import CardRow, CardText
from labelkit.printing.boxes import Bar
from labelkit.printing.card_layout import CardLayout
from labelkit.printing.card_top import between
from labelkit.printing.typeset import Pieces, width_of

__all__ = [
    "HAIRLINE",
    "AmountSizes",
    "amount_lines",
    "amount_sizes",
    "amount_stops",
    "amount_width",
    "column_tints",
]

HAIRLINE = 0.2  # [mm]
_TINT = 0.075  # share of black behind every second column of amounts
_ARROW = "→"


def amount_stops(text: CardText, layout: CardLayout) -> tuple[float, ...]:
    """Right edges of the columns of amounts [mm].

    Raises:
        Misfit: the layout has not that many columns.
    """
    count = len(text.columns)
    stops = layout.front["columns"].stops.get(count) if count else ()
    if stops is None:
        raise Misfit(
            f"{count} batch sizes do not fit side by side",
            place="columns",
        )
    return stops


def column_tints(
    layout: CardLayout, stops: tuple[float, ...], top: float, bottom: float
) -> tuple[Bar, ...]:
    """A light grey behind every second column, so that an eye stays in its own."""
    half = layout.front["columns"].gap / 2
    return tuple(
        Bar(
            left + half,
            top,
            min(right + half, layout.right) - left - half,
            bottom - top,
            _TINT,
            "tint",
        )
        for left, right in list(pairwise(stops))[::2]
    )


class AmountSizes(Struct, frozen=True):
    """How large amounts are set [pt].

    Attributes:
        fill: of what is filled up to: an arrow stands before it.
        stacked: the unit stands under the figure, in ``unit``.
    """

    amount: float
    fill: float
    unit: float = 0.0

    @property
    def stacked(self) -> bool:
        """Whether figures have their units under them."""
        return bool(self.unit)

    def at_most(self, size: float) -> "AmountSizes":
        """The same, no larger than ``size`` [pt]."""
        return replace(self, amount=min(self.amount, size), fill=min(self.fill, size))

    def of(self, row: CardRow) -> float:
        """Size of a row's amounts [pt]."""
        return self.fill if row.kind == "fill" else self.amount


def amount_sizes(
    text: CardText, layout: CardLayout, stops: tuple[float, ...]
) -> AmountSizes:
    """The largest sizes in which every amount keeps to its column.

    Where a layout says so, units go under the figures rather than that these become
    small.

    Raises:
        Misfit: one is too wide even in the smallest.
    """
    spot = layout.front["amounts"]
    try:
        sizes = _sizes(text, layout, stops, 0.0)
    except Misfit:
        if not spot.small:
            raise
        return _sizes(text, layout, stops, spot.text[-1])
    if spot.small and min(sizes.amount, sizes.fill) < spot.small:
        return _sizes(text, layout, stops, spot.text[-1])
    return sizes


def _sizes(
    text: CardText, layout: CardLayout, stops: tuple[float, ...], unit: float
) -> AmountSizes:
    wanted = tuple(
        _size(text, layout, stops, unit, fill=fill) for fill in (False, True)
    )
    amount = wanted[0]
    return AmountSizes(amount, min(wanted), unit)


def _size(
    text: CardText,
    layout: CardLayout,
    stops: tuple[float, ...],
    unit: float,
    *,
    fill: bool,
) -> float:
    gap = layout.front["columns"].gap
    room = [right - left - gap for left, right in pairwise(stops)]
    cells = [
        (row, cell.text, wide)
        for row in text.rows
        if (row.kind == "fill") == fill
        for cell, wide in zip(row.amounts[1:], room, strict=False)
    ]
    wider: list[str] = []
    for size in between(layout.front["amounts"].text):
        wider = [
            told
            for row, told, wide in cells
            if amount_width(row, told, size, unit) > wide
        ]
        if not wider:
            return size
    raise Misfit(f"the amount '{wider[0]}' is wider than its column", place="columns")


def amount_width(row: CardRow, shown: str, size: float, unit: float) -> float:
    """How wide an amount is set [mm], its unit under it where ``unit`` has a size."""
    return max(width_of(line) for line in amount_lines(row, shown, size, unit))


def amount_lines(
    row: CardRow, shown: str, size: float, unit: float
) -> tuple[Pieces, ...]:
    """An amount on one line, or its figure over its unit."""
    figure, _, under = shown.replace("\u00a0", " ").rpartition(" ")
    if not unit or not figure:
        return (amount_pieces(row, shown, size),)
    return (amount_pieces(row, figure, size), ((under, "semibold", unit),))


def amount_pieces(row: CardRow, shown: str, size: float) -> Pieces:
    """An amount; an arrow leads what is filled up to, unlike what is added."""
    if row.kind != "fill":
        return ((shown, "semibold", size),)
    arrow = "" if shown.startswith(_ARROW) else f"{_ARROW} "
    return ((f"{arrow}{shown}".replace(" ", "\u00a0"), "bold", size),)
