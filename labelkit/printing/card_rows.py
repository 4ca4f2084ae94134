"""The steps of a mixing card: one row each, measured before they are drawn."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from labelkit.errors import Misfit
from labelkit.mixing.words import CardRow, CardText, Run
from labelkit.printing.boxes import Bar, Box, Frame, Line, Text
from labelkit.printing.card_columns import (
    HAIRLINE,
    amount_pieces,
    amount_size,
    amount_stops,
    column_tints,
)
from labelkit.printing.card_layout import CardLayout
from labelkit.printing.card_said import Said, in_vessel, said
from labelkit.printing.card_top import between
from labelkit.printing.fonts import cap_height_mm, width_mm
from labelkit.printing.typeset import fold, leading_mm, one_line, width_of

__all__ = ["Measure", "place_rows"]

_WIDEST_UNIT = "mL"


@dataclass(frozen=True, slots=True)
class Measure:
    """How generously steps are set: height of a row [mm], its words, amounts [pt]."""

    height: float
    what_pt: float
    amount_pt: float
    fill_pt: float

    def amount(self, row: CardRow) -> float:
        """Size of a row's amounts [pt]."""
        return self.fill_pt if row.kind == "fill" else self.amount_pt


def place_rows(
    text: CardText, layout: CardLayout, *, top: float, bottom: float
) -> tuple[Box, ...]:
    """Every step from ``top`` [mm] down, in the most generous setting that fits.

    Raises:
        Misfit: the steps reach below ``bottom`` [mm], or an amount is too wide.
    """
    stops = amount_stops(text, layout)
    amount_pt = amount_size(text, layout, stops, fill=False)
    fill_pt = min(amount_pt, amount_size(text, layout, stops, fill=True))
    tried: list[Misfit] = []
    for measure in _measures(layout, amount_pt, fill_pt):
        rows = _Rows(layout, stops, measure, top)
        try:
            rows.place(text.rows)
        except Misfit as misfit:
            tried.append(misfit)
            continue
        if rows.y <= bottom + 1e-6:
            return (*rows.tints, *rows.boxes)
        tried.append(_too_long(len(text.rows), rows.y - bottom))
    raise tried[-1]


def _too_long(count: int, over: float) -> Misfit:
    return Misfit(f"{count} steps need {over:.1f} mm more height", place="steps")


def _measures(
    layout: CardLayout, amount_pt: float, fill_pt: float
) -> Iterator[Measure]:
    row = layout.front["rows"]
    sizes = between(row.text)
    yield Measure(row.height, sizes[0], amount_pt, fill_pt)
    for size in sizes:
        most = size + 1
        least = row.smallest or row.height
        yield Measure(least, size, min(amount_pt, most), min(fill_pt, most))


class _Rows:
    """The stack of rows; ``y`` is where the next one begins [mm]."""

    def __init__(
        self,
        layout: CardLayout,
        stops: tuple[float, ...],
        measure: Measure,
        top: float,
    ) -> None:
        self.layout = layout
        self.spots = layout.front
        self.stops = stops
        self.measure = measure
        self.right = layout.right
        self.left = layout.left
        self.y = top
        self.boxes: list[Box] = []
        self.tints: list[Bar] = []  # drawn first, under every rule
        self.bare = False  # the next row needs no hairline above it

    def place(self, rows: tuple[CardRow, ...]) -> None:
        for vessel, group in groupby(rows, key=lambda row: row.vessel):
            if vessel:
                self._vessel(vessel, tuple(group))
            else:
                for row in group:
                    self._row(row, self.left)
        self._rule(self.left, HAIRLINE)

    def _vessel(self, vessel: str, rows: tuple[CardRow, ...]) -> None:
        """The rows of another vessel hang on an upright bar under its name."""
        spot = self.spots["vessel"]
        top, inside = self.y, self.left + spot.indent
        self._rule(self.left, HAIRLINE)
        cap = cap_height_mm(spot.pt)
        self.boxes.append(
            one_line(
                "vessel",
                ((in_vessel(vessel), "semibold", spot.pt),),
                x=inside,
                baseline=self.y + (spot.height + cap) / 2,
            )
        )
        self.y += spot.height
        for row in rows:
            self._row(row, inside)
        upright = Bar(self.left, top, spot.line, self.y - top, field="vessel bar")
        self.boxes.append(upright)
        self.bare = False

    def _row(self, row: CardRow, left: float) -> None:
        if row.caution:
            self._stop(row.caution, left)
        fill = row.kind == "fill"
        if fill:
            self._rule(left, self.spots["fill"].line, spend=True)
        elif not self.bare:
            self._rule(left, HAIRLINE)
        self.bare = False
        words = self._words(row, left)
        height = max(
            self.spots["fill"].height if fill else self.measure.height,
            words.height,
        )
        if row.amounts:
            under = 2 * words.amounts_middle(self.y + height / 2) - self.y
            self.tints += column_tints(self.layout, self.stops, self.y, under)
        self.boxes += self._cells(row, left, self.y + height / 2, words)
        self.y += height

    def _rule(self, left: float, line: float, *, spend: bool = False) -> None:
        """A rule across; a heavy one takes room, a hairline stands on the edge."""
        self.boxes.append(Bar(left, self.y, self.right - left, line))
        if spend:
            self.y += line

    def _stop(self, caution: str, left: float) -> None:
        spot = self.spots["stop"]
        word = ("STOP", "bold", spot.pt)
        start = left + 1.6 + width_of((word,)) + 3
        lines = fold((Run(caution, strong=True),), spot.small, self.right - 1.6 - start)
        pitch = leading_mm(spot.small)
        height = spot.height + pitch * (len(lines) - 1)
        base = self.y + (spot.height + cap_height_mm(spot.small)) / 2
        stop_base = self.y + (spot.height + cap_height_mm(spot.pt)) / 2
        said = Line(left + 1.6, stop_base, (word,), white=True)
        told = tuple(
            Line(start, base + pitch * index, pieces, white=True)
            for index, pieces in enumerate(lines)
        )
        self.boxes.append(
            Bar(left, self.y, self.right - left, height, field="stop bar")
        )
        self.boxes.append(
            Text("caution", left, self.y, self.right - left, height, (said, *told))
        )
        self.y += height
        self.bare = True

    def _words(self, row: CardRow, left: float) -> Said:
        start = left + self.spots["what"].indent
        return said(
            row,
            x=start,
            width=self._until(row) - start,
            whole=self.right - start,
            size=self.measure.what_pt,
            small=self.spots["rows"].small,
        )

    def _until(self, row: CardRow) -> float:
        """Where the words of a row must end: before its first amount [mm]."""
        if not row.amounts:
            return self.right
        first = amount_pieces(row, row.amounts[0].text, self.measure.amount(row))
        return self.stops[0] - width_of(first) - self.spots["columns"].gap

    def _cells(
        self, row: CardRow, left: float, middle: float, words: Said
    ) -> Iterator[Box]:
        tick, number = self.spots["tick"], self.spots["number"]
        side = tick.side[0]
        yield Frame(left, middle - side / 2, side, side, tick.line, "tick", True)
        yield one_line(
            "number",
            ((str(row.number), "bold", number.pt),),
            x=left + number.indent,
            baseline=middle + cap_height_mm(number.pt) / 2,
            role="cell",
        )
        yield from words.blocks(middle)
        middle = words.amounts_middle(middle)
        size = self.measure.amount(row)
        base = middle + cap_height_mm(size) / 2
        for cell, stop in zip(row.amounts, self.stops, strict=False):
            pieces = amount_pieces(row, cell.text, size)
            yield one_line(
                "amount", pieces, x=stop, baseline=base, align="right", role="cell"
            )
        if row.amounts and len(self.stops) == 1:
            yield from self._blank(row.amounts[0].text, middle)

    def _blank(self, shown: str, middle: float) -> Iterator[Box]:
        """Room to write what the balance really said."""
        spot, size = self.spots["columns"], self.spots["rows"].small
        base = middle + cap_height_mm(self.measure.amount_pt) / 2
        unit = shown.replace("\u00a0", " ").rpartition(" ")[2]
        start, wide = self.right - spot.blank, width_mm(_WIDEST_UNIT, "regular", size)
        after = max(wide, width_mm(unit, "regular", size))
        yield one_line(
            "as read", (("as read", "regular", size),), x=start, baseline=base
        )
        yield one_line(
            "as read", ((unit, "regular", size),), x=self.right - after, baseline=base
        )
        begin = start + width_mm("as read", "regular", size) + 1
        end = self.right - after - 1
        yield Bar(begin, base + 0.4, end - begin, HAIRLINE, field="blank")
