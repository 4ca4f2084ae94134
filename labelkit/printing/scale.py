"""The twin measuring scale: round millilitres above, round grams below."""

from decimal import Decimal
from functools import lru_cache

from msgspec import Struct

from labelkit.mixing.words import Scale
from labelkit.printing.boxes import Bar, Box, Line, Text
from labelkit.printing.fonts import cap_height_mm, width_mm

__all__ = ["SCALE_HEIGHT_MM", "Rule", "rule_for", "twin_scale"]

LINE_MM = 0.35
MAJOR_MM, MAJOR_LINE_MM = 2.0, 0.25
MINOR_MM, MINOR_LINE_MM = 1.1, 0.16
FIGURES_OFF_MM = 2.5
FIGURES_PT = 6.6
SCALE_HEIGHT_MM = 2 * (FIGURES_OFF_MM + 1.63)
_FIFTHS = 5
_APART_MM = 1.2  # between two figures

_GRAMS = tuple(
    Decimal(step) for step in ("0.1", "0.2", "0.5", "1", "2", "5", "10", "20", "50")
)
_MILLILITRES = tuple(
    Decimal(step).scaleb(tens) for tens in range(-3, 6) for step in ("1", "2", "5")
)
_FEWEST, _MOST = 3, 7
_LONG_MM = 100
_SHORTEST_END_ML = 25  # a scale that ends below this is finer than a cylinder


class Rule(Struct, frozen=True):
    """How a scale is divided: steps of grams, and of millilitres [g, mL]."""

    end_g: Decimal
    step_g: Decimal
    end_mL: Decimal
    step_mL: Decimal


def rule_for(scale: Scale, width: float, volume_mL: Decimal) -> Rule | None:
    """Divide a scale ``width`` [mm] long for a bottle of ``volume_mL`` [mL].

    Steps of 1 g, finer where the bottle would run out first, coarser where the whole
    scale would be too small to pour by; None where no step will do.
    """
    majors = 5 if width > _LONG_MM else 4
    too_small = majors * scale.mL_per_g < _SHORTEST_END_ML
    middle = _GRAMS.index(Decimal(1))
    steps = _GRAMS[middle:] if too_small else _GRAMS[middle::-1]
    shortest = _SHORTEST_END_ML if too_small else 0
    for step in steps:
        for count in range(majors, _FEWEST - 1, -1):
            end_mL = step * count * scale.mL_per_g
            if shortest <= end_mL <= volume_mL:
                return Rule(step * count, step, end_mL, _step_mL(end_mL))
    return None


def _step_mL(end_mL: Decimal) -> Decimal:
    """The round step of millilitres: about four of them, ending on the line's end."""
    counts = {step: int(end_mL / step) for step in _MILLILITRES}
    fitting = [s for s, n in counts.items() if _FEWEST <= n <= _MOST]
    return min(fitting, key=lambda s: (end_mL % s != 0, abs(counts[s] - 4), s))


@lru_cache(maxsize=1024)
def twin_scale(
    scale: Scale,
    *,
    x: float,
    line_y: float,
    w: float,
    volume_mL: Decimal,
    figures_pt: float = FIGURES_PT,
) -> tuple[Box, ...]:
    """The scale as boxes, its line at ``line_y`` [mm]; none where no step will do."""
    rule = rule_for(scale, w, volume_mL)
    if rule is None:
        return ()
    above = _Side(rule.step_mL, rule.end_mL, "mL", "scale-mL", figures_pt)
    below = _Side(rule.step_g, rule.end_g, "g", "scale-g", figures_pt)
    cap = cap_height_mm(figures_pt)
    return (
        above.figures(x, line_y - FIGURES_OFF_MM, w),
        Bar(x, line_y - LINE_MM / 2, w, LINE_MM, field="scale"),
        *above.ticks(x, line_y, w, up=True),
        *below.ticks(x, line_y, w, up=False),
        below.figures(x, line_y + FIGURES_OFF_MM + cap, w),
    )


class _Side(Struct, frozen=True):
    """One of the two divisions."""

    step: Decimal
    end: Decimal
    unit: str
    field: str
    figures_pt: float

    def ticks(self, x: float, y: float, w: float, *, up: bool) -> tuple[Bar, ...]:
        fifth = self.step / _FIFTHS
        return tuple(
            self._tick(index, x + w * float(fifth * index / self.end), y, x, w, up=up)
            for index in range(int(self.end / fifth) + 1)
        )

    def _tick(
        self, index: int, at: float, y: float, x: float, w: float, *, up: bool
    ) -> Bar:
        major = index % _FIFTHS == 0
        length, line = (MAJOR_MM, MAJOR_LINE_MM) if major else (MINOR_MM, MINOR_LINE_MM)
        left = min(max(at - line / 2, x), x + w - line)
        return Bar(left, y - length if up else y, line, length, field="scale")

    def figures(self, x: float, baseline: float, w: float) -> Text:
        count = int(self.end / self.step)
        lines: list[Line] = []
        free_from = x
        for index in range(count + 1):
            line, left, right = self._figure(index, index == count, x, baseline, w)
            if left >= free_from or not lines:
                lines.append(line)
                free_from = right + _APART_MM
            elif index == count:
                lines[-1] = line
        top = baseline - cap_height_mm(self.figures_pt)
        return Text(self.field, x, top, w, baseline - top, tuple(lines))

    def _figure(
        self, index: int, last: bool, x: float, baseline: float, w: float
    ) -> tuple[Line, float, float]:
        value = (self.step * index).normalize()
        text = f"{value:f}\u00a0{self.unit}" if last else f"{value:f}"
        at = x + w * float(self.step * index / self.end)
        wide = width_mm(text, "semibold", self.figures_pt)
        left = at - width_mm(f"{value:f}", "semibold", self.figures_pt) / 2
        left = min(max(left, x), x + w - wide)
        pieces = ((text, "semibold", self.figures_pt),)
        return Line(left, baseline, pieces), left, left + wide
