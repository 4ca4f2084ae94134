"""The columns of amounts on a card: where they stand and how large they are set."""

from itertools import pairwise

from labelkit.errors import Misfit
from labelkit.mixing.words import CardRow, CardText
from labelkit.printing.boxes import Bar
from labelkit.printing.card_layout import CardLayout
from labelkit.printing.card_top import between
from labelkit.printing.typeset import Pieces, width_of

__all__ = ["HAIRLINE", "amount_pieces", "amount_size", "amount_stops", "column_tints"]

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


def amount_size(
    text: CardText, layout: CardLayout, stops: tuple[float, ...], *, fill: bool
) -> float:
    """The largest size [pt] in which every amount keeps to its column.

    What is filled up to has an arrow before it and may be set smaller than the rest.

    Raises:
        Misfit: one is too wide even in the smallest.
    """
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
            if width_of(amount_pieces(row, told, size)) > wide
        ]
        if not wider:
            return size
    raise Misfit(f"the amount '{wider[0]}' is wider than its column", place="columns")


def amount_pieces(row: CardRow, shown: str, size: float) -> Pieces:
    """An amount; an arrow leads what is filled up to, unlike what is added."""
    if row.kind != "fill":
        return ((shown, "semibold", size),)
    arrow = "" if shown.startswith(_ARROW) else f"{_ARROW} "
    return ((f"{arrow}{shown}".replace(" ", "\u00a0"), "bold", size),)
