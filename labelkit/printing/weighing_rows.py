"""The steps of a weighing-out sheet: planned amounts, and columns to write in."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from labelkit.mixing.said import in_vessel
from labelkit.mixing.weighing_sheet import WeighingRow
from labelkit.mixing.words import CardRow, Run
from labelkit.printing.boxes import Bar, Box, Frame
from labelkit.printing.card_columns import HAIRLINE, amount_pieces
from labelkit.printing.card_said import Said, said
from labelkit.printing.card_stop import stop_bar
from labelkit.printing.card_top import between
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm
from labelkit.printing.paged import PagedLayout, Piece
from labelkit.printing.typeset import Pieces, fold, one_line, width_of

__all__ = ["WeighingRows"]

_COLUMNS = (
    ("planned", "planned"),
    ("lot", "lot"),
    ("tare", "tare"),
    ("read", "as read"),
    ("initials", "initials"),
)
_LINE_ABOVE = 3.0  # of a line to write on, from the row's lower edge [mm]
_GAP = 2.0  # [mm]
_UNDER_PLANNED = 1.15

Boxes = tuple[Box, ...]


class WeighingRows:
    """The rows as pieces, and what is told again where they go over a page."""

    def __init__(self, layout: PagedLayout) -> None:
        self.layout = layout
        self.spots = layout.page

    def pieces(self, rows: Sequence[WeighingRow], *, gap: float) -> Iterator[Piece]:
        """Heads, then each step with the bar that warns of it."""
        yield self._heads(gap)
        for vessel, group in groupby(rows, key=lambda row: row.step.vessel):
            if vessel:
                yield self._vessel(vessel, continued=False)
            for row in group:
                yield self._row(row, vessel)
        yield Piece(
            0.0, lambda y: (Bar(self.layout.left, y, self.layout.wide, HAIRLINE),)
        )

    def again(self, piece: Piece) -> tuple[Piece, ...]:
        """The heads, and the vessel, above a step that begins a page."""
        if not piece.group:
            return ()
        vessel = piece.group.removeprefix(_ROW)
        if not vessel or piece.name == _VESSEL:
            return (self._heads(0.0),)
        return (self._heads(0.0), self._vessel(vessel, continued=True))

    def _heads(self, gap: float) -> Piece:
        spot = self.spots["heads"]

        def draw(y: float) -> Boxes:
            base = y + spot.height - 2.0
            return tuple(self._head(key, word, base) for key, word in _COLUMNS)

        return Piece(spot.height, draw, gap)

    def _head(self, key: str, word: str, base: float) -> Box:
        spot, right = self.spots[key], key == "planned"
        pieces = ((word, "regular", self.spots["heads"].pt),)
        align = "right" if right else "left"
        return one_line("heads", pieces, x=spot.x, baseline=base, align=align)

    def _vessel(self, vessel: str, *, continued: bool) -> Piece:
        spot, left = self.spots["vessel"], self.layout.left
        told = f"{in_vessel(vessel)}{', continued' if continued else ''}"

        def draw(y: float) -> Boxes:
            base = y + (spot.height + cap_height_mm(spot.pt)) / 2
            pieces = ((told, "semibold", spot.pt),)
            return (
                Bar(left, y, self.layout.wide, HAIRLINE),
                one_line("vessel", pieces, x=left + spot.indent, baseline=base),
                Bar(left, y, spot.line, spot.height, field="vessel bar"),
            )

        return Piece(spot.height, draw, group=f"{_ROW}{vessel}", name=_VESSEL)

    def _row(self, row: WeighingRow, vessel: str) -> Piece:
        left = self.layout.left + (self.spots["vessel"].indent if vessel else 0.0)
        words, stop = self._words(row, left), self._stop_height(row.step.caution, left)
        least = self.spots["fill" if row.step.kind == "fill" else "rows"].height
        height = max(least, words.height)

        def draw(y: float) -> Boxes:
            boxes: list[Box] = [*self._over(row.step, left, y)]
            boxes += self._cells(row, words, left, y + stop, height)
            if vessel:
                bar = self.spots["vessel"].line
                upright = Bar(
                    self.layout.left, y, bar, stop + height, field="vessel bar"
                )
                boxes.append(upright)
            return tuple(boxes)

        name = f"step {row.step.number}"
        return Piece(stop + height, draw, group=f"{_ROW}{vessel}", name=name)

    def _over(self, step: CardRow, left: float, y: float) -> Iterator[Box]:
        """The bar that warns of a step, else a rule; a heavy one over a fill."""
        right = self.layout.right
        if step.caution:
            boxes, high = stop_bar(
                step.caution, self.spots["stop"], x=left, y=y, right=right
            )
            yield from boxes
            y += high
            if step.kind != "fill":
                return
        line = self.spots["fill"].line if step.kind == "fill" else HAIRLINE
        yield Bar(left, y, right - left, line)

    def _stop_height(self, caution: str, left: float) -> float:
        if not caution:
            return 0.0
        right = self.layout.right
        return stop_bar(caution, self.spots["stop"], x=left, y=0, right=right)[1]

    def _words(self, row: WeighingRow, left: float) -> Said:
        start = left + self.spots["what"].indent
        spot, right = self.spots["rows"], self.layout.right
        until = right
        if row.read:
            wide = width_of(self._planned(row.step))
            until = self.spots["planned"].x - wide - _GAP
        *larger, least = between(spot.text)
        for size in larger:
            if len(fold(row.step.what, size, until - start)) <= 2:
                return self._said(row, start, until, size)
        return self._said(row, start, until, least)

    def _said(self, row: WeighingRow, start: float, until: float, size: float) -> Said:
        return said(
            row.step,
            x=start,
            width=until - start,
            whole=until - start,
            size=size,
            small=self.spots["rows"].small,
        )

    def _planned(self, step: CardRow) -> Pieces:
        return amount_pieces(step, step.amounts[0].text, self.spots["planned"].pt)

    def _cells(
        self, row: WeighingRow, words: Said, left: float, y: float, height: float
    ) -> Iterator[Box]:
        tick, number, middle = self.spots["tick"], self.spots["number"], y + height / 2
        side = tick.side[0]
        yield Frame(left, middle - side / 2, side, side, tick.line, "tick", True)
        yield one_line(
            "number",
            ((str(row.step.number), "bold", number.pt),),
            x=left + number.indent,
            baseline=middle + cap_height_mm(number.pt) / 2,
            role="cell",
        )
        yield from words.blocks(middle)
        if row.read:
            yield from self._amount(row, middle)
            yield from self._blanks(row, y + height - _LINE_ABOVE)

    def _amount(self, row: WeighingRow, middle: float) -> Iterator[Box]:
        """What to weigh, and under it how badly the balance knows it."""
        spot = self.spots["planned"]
        pitch = spot.small * _UNDER_PLANNED * MM_PER_PT if row.known else 0.0
        base = middle - pitch / 2 + cap_height_mm(spot.pt) / 2
        pieces = self._planned(row.step)
        yield one_line(
            "planned", pieces, x=spot.x, baseline=base, align="right", role="cell"
        )
        if row.known:
            known = ((row.known, "regular", spot.small),)
            yield one_line(
                "known",
                known,
                x=spot.x,
                baseline=base + pitch,
                align="right",
                role="cell",
            )

    def _blanks(self, row: WeighingRow, base: float) -> Iterator[Box]:
        unit = row.step.amounts[0].text.replace("\u00a0", " ").rpartition(" ")[2]
        if row.weighed:
            yield from self._lot(row, base)
            yield from self._blank("tare", unit, base)
        yield from self._blank("read", unit, base)
        yield from self._blank("initials", "", base)

    def _blank(self, key: str, unit: str, base: float) -> Iterator[Box]:
        spot, after = self.spots[key], self.spots["unit"]
        wide = spot.width - (after.width if unit else 0.0)
        yield Bar(spot.x, base, wide, HAIRLINE, field="blank")
        if unit:
            pieces = ((unit, "regular", after.pt),)
            x = spot.x + wide + 1.0
            yield one_line("unit", pieces, x=x, baseline=base, role="cell")

    def _lot(self, row: WeighingRow, base: float) -> Iterator[Box]:
        """A line for the lot; the one in the cupboard is told above it."""
        spot, size = self.spots["lot"], self.spots["planned"].small
        yield Bar(spot.x, base, spot.width, HAIRLINE, field="blank")
        if not row.lots:
            return
        (pieces, *more) = fold((Run(row.lots),), size, spot.width)
        if not more:
            yield one_line("lot", pieces, x=spot.x, baseline=base - 1.2, role="cell")


_ROW, _VESSEL = "row ", "vessel"
