"""The steps of a mixing card: one row each, measured before they are drawn."""

from collections.abc import Iterator
from itertools import groupby

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.said import in_vessel
from labelkit.mixing.words import CardRow, CardText
from labelkit.printing.boxes import Bar, Box, Frame, Line, Text
from labelkit.printing.card_columns import (
    HAIRLINE,
    AmountSizes,
    amount_lines,
    amount_sizes,
    amount_stops,
    amount_width,
    column_tints,
)
from labelkit.printing.card_layout import CardLayout
from labelkit.printing.card_said import Said, said
from labelkit.printing.card_stop import stop_bar
from labelkit.printing.card_top import between
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm, width_mm
from labelkit.printing.typeset import DESCENT, one_line, width_of

__all__ = ["Measure", "place_rows"]

_WIDEST_UNIT = "mL"
_UNDER_FIGURE = 1.08  # from a figure to the unit under it, of the unit's size


class Measure(Struct, frozen=True):
    """How generously steps are set: height of a row [mm], its words, amounts [pt]."""

    height: float
    what_pt: float
    small_pt: float
    amounts: AmountSizes


def place_rows(
    text: CardText, layout: CardLayout, *, top: float, bottom: float
) -> tuple[Box, ...]:
    """Every step from ``top`` [mm] down, in the most generous setting that fits.

    Raises:
        Misfit: the steps reach below ``bottom`` [mm], or an amount is too wide.
    """
    stops = amount_stops(text, layout)
    amounts = amount_sizes(text, layout, stops)
    tried: list[Misfit] = []
    for measure in _measures(layout, amounts):
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


def _measures(layout: CardLayout, amounts: AmountSizes) -> Iterator[Measure]:
    """From the most generous; words and amounts become smaller together."""
    row = layout.front["rows"]
    if amounts.stacked:
        row = layout.front.get("stacked_rows", row)
    sizes = between(row.text)
    yield Measure(row.height, sizes[0], row.small, amounts.at_most(sizes[0] + 1))
    for size in sizes:
        least = row.smallest or row.height
        yield Measure(least, size, row.small, amounts.at_most(size + 1))


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
        boxes, height = stop_bar(
            caution, self.spots["stop"], x=left, y=self.y, right=self.right
        )
        self.boxes += boxes
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
            small=self.measure.small_pt,
            beside=self._amounts_ink(row),
        )

    def _amounts_ink(self, row: CardRow) -> float:
        """From the capitals of the amounts to their last descenders [mm]."""
        sizes = self.measure.amounts
        size, unit = sizes.of(row), sizes.unit
        if not unit:
            return cap_height_mm(size)
        return cap_height_mm(size) + unit * (_UNDER_FIGURE + DESCENT) * MM_PER_PT

    def _until(self, row: CardRow) -> float:
        """Where the words of a row must end: before its first amount [mm]."""
        if not row.amounts:
            return self.right
        sizes = self.measure.amounts
        wide = amount_width(row, row.amounts[0].text, sizes.of(row), sizes.unit)
        return self.stops[0] - wide - self.spots["columns"].gap

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
        for cell, stop in zip(row.amounts, self.stops, strict=False):
            yield self._amount(row, cell.text, stop, middle)
        if row.amounts and len(self.stops) == 1:
            yield from self._blank(row.amounts[0].text, middle)

    def _amount(self, row: CardRow, shown: str, stop: float, middle: float) -> Text:
        """An amount about ``middle`` [mm], its right edge on ``stop`` [mm]."""
        sizes = self.measure.amounts
        size, unit = sizes.of(row), sizes.unit
        lines = amount_lines(row, shown, size, unit)
        pitch = unit * _UNDER_FIGURE * MM_PER_PT
        ink = cap_height_mm(size) + pitch * (len(lines) - 1)
        base = middle - ink / 2 + cap_height_mm(size)
        first, *others = lines
        block = one_line(
            "amount", first, x=stop, baseline=base, align="right", role="cell"
        )
        if not others:
            return block
        under = Line(stop, base + pitch, others[0], "right")
        wide = max(width_of(first), width_of(others[0]))
        high = block.h + pitch
        return replace(
            block, x=stop - wide, w=wide, h=high, lines=(*block.lines, under)
        )

    def _blank(self, shown: str, middle: float) -> Iterator[Box]:
        """Room to write what the balance really said."""
        spot, size = self.spots["columns"], self.measure.small_pt
        base = middle + cap_height_mm(self.measure.amounts.amount) / 2
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
