"""The words of one step on a card: what is done and its detail."""

from msgspec import Struct

from labelkit.mixing.words import CardRow, Run, Words
from labelkit.printing.boxes import Line, Text
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm
from labelkit.printing.typeset import DESCENT, Pieces, fold, width_of

__all__ = ["Said", "said"]

_TIGHT = 1.08  # lines of one step stand closer than those of a sentence
_DETAIL = 1.15
_WHITE, _WHITE_ROUND_THREE = 2.9, 4.2  # above and below the words of a row [mm]
_MOST_BESIDE = 2  # lines of detail left of the amounts; longer ones go under them


class Said(Struct, frozen=True):
    """What is done and its detail, folded; it knows how high its ink is.

    Attributes:
        across: the detail runs under the amounts, over the whole width.
        beside: how high the amounts are [mm].
    """

    x: float
    lines: tuple[Pieces, ...]
    detail: tuple[Pieces, ...]
    size: float
    small: float
    across: bool = False
    beside: float = 0.0

    @property
    def pitch(self) -> float:
        """Of the lines of what is done [mm]."""
        return self.size * _TIGHT * MM_PER_PT

    @property
    def detail_pitch(self) -> float:
        """Of the lines of detail [mm]."""
        return self.small * _DETAIL * MM_PER_PT

    @property
    def own_ink(self) -> float:
        """From the first line's capitals to the last baseline of what is done [mm]."""
        return cap_height_mm(self.size) + self.pitch * (len(self.lines) - 1)

    @property
    def what_ink(self) -> float:
        """The same; with the amounts, where the detail runs under them [mm]."""
        return max(self.own_ink, self.beside) if self.across else self.own_ink

    @property
    def ink(self) -> float:
        """The same, down to the last line of detail [mm]."""
        return self.what_ink + self.detail_pitch * len(self.detail)

    @property
    def height(self) -> float:
        """The ink and the white that it needs above and below [mm]."""
        count = len(self.lines) + len(self.detail)
        return self.ink + (_WHITE if count < 3 else _WHITE_ROUND_THREE)

    def top(self, middle: float) -> float:
        """Where the first line's capitals begin, in a row about ``middle`` [mm]."""
        lift = 0.15 if self.detail else 0.0  # descenders of the smaller line
        return middle - self.ink / 2 - lift

    def amounts_middle(self, middle: float) -> float:
        """What the amounts stand level with [mm]."""
        return self.top(middle) + self.what_ink / 2 if self.across else middle

    def blocks(self, middle: float) -> tuple[Text, ...]:
        """The words, what is done and its detail, in a row about ``middle`` [mm]."""
        top = self.top(middle)
        base = top + (self.what_ink - self.own_ink) / 2 + cap_height_mm(self.size)
        what = self._block("what", self.lines, base, self.pitch, self.size)
        if not self.detail:
            return (what,)
        base = top + self.what_ink + self.detail_pitch
        small = self._block("detail", self.detail, base, self.detail_pitch, self.small)
        return what, small

    def _block(
        self,
        field: str,
        folded: tuple[Pieces, ...],
        base: float,
        pitch: float,
        size: float,
    ) -> Text:
        lines = tuple(
            Line(self.x, base + pitch * index, pieces)
            for index, pieces in enumerate(folded)
        )
        top = base - cap_height_mm(size)
        bottom = lines[-1].y + DESCENT * size * MM_PER_PT
        wide = max(map(width_of, folded))
        return Text(field, self.x, top, wide, bottom - top, lines, "cell")


def said(
    row: CardRow,
    *,
    x: float,
    width: float,
    whole: float,
    size: float,
    small: float,
    beside: float = 0.0,
) -> Said:
    """The words of a row, folded.

    Args:
        row: the step.
        x: left edge [mm].
        width: room left of the first amount [mm].
        whole: room if there were no amounts [mm].
        size: of what is done [pt].
        small: of the detail [pt].
        beside: how high the amounts are [mm].

    Raises:
        Misfit: a word is wider than the room.
    """
    lines = fold(_evened(row), size, width, "semibold", "bold")
    if not row.detail:
        return Said(x, lines, (), size, small)
    words = (Run(row.detail),)
    detail = fold(words, small, width)
    if len(detail) > _MOST_BESIDE and whole > width:
        under = fold(words, small, whole)
        return Said(x, lines, under, size, small, across=True, beside=beside)
    return Said(x, lines, detail, size, small)


def _evened(row: CardRow) -> Words:
    """What is done in one weight, but for "up to", which must not be overlooked."""
    if not all(run.strong for run in row.what):
        return row.what
    light = tuple(Run(run.text) for run in row.what)
    if row.kind == "fill" and len(light) > 1:
        return (*light[:-1], Run(row.what[-1].text.replace(" ", "\u00a0"), strong=True))
    return light
