"""Words into lines: breaking, leading, and blocks of text stacked one under another.

A line is a tuple of pieces (text, weight, size in points). Lines break at the plain
space only, never inside a word and never at a no-break space.
"""

import re
from functools import lru_cache
from struct import unpack_from

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.words import Run, Words
from labelkit.printing.boxes import Line, Text, Weight
from labelkit.printing.fonts import MM_PER_PT, typeface, width_mm

__all__ = [
    "ASCENT",
    "BASELINE",
    "DESCENT",
    "LEADING",
    "Flow",
    "Piece",
    "Pieces",
    "bearing_mm",
    "bind",
    "fold",
    "join",
    "leading_mm",
    "one_line",
    "paragraph",
    "plain",
    "width_of",
]

Piece = tuple[str, Weight, float]
Pieces = tuple[Piece, ...]

LEADING = 1.2  # of the type size: Regulation (EU) 2024/2865, line distance
ASCENT = 0.74  # of the type size, from the font's ascender
DESCENT = 0.2  # of the type size, from its descender
BASELINE = 0.78  # of the leading, from the top of a line
_BODY_BEARING_MM = 0.15  # white before a letter of small type, left where it is
_SLACK_MM = 1e-6

_UNITS = (
    r"(?:%(?: ?[wv]/[wv])?|°[CF]|(?:k|m|µ)?g(?:/m?L)?|m?L|m?mol(?:/L)?|mm|cm"
    r"|h|min|s|hours?|days?|weeks?|months?|years?)(?![\w/])"
)
_NUMBER_AND_UNIT = re.compile(rf"(?<=\d) (?={_UNITS})")
_PERCENT_OF = re.compile(r"(?<=%) (?=[wv]/[wv])")
_LEAD_IN = re.compile(r"\bIF (?:(?:IN|ON) )?(?=\w)")
_INITIAL = re.compile(r"(?<=\b[A-Z]\.) (?=[A-Z])")


def bind(text: str) -> str:
    """The text with no-break spaces where a line must not break."""
    text = _NUMBER_AND_UNIT.sub("\u00a0", text)
    text = _PERCENT_OF.sub("\u00a0", text)
    text = _INITIAL.sub("\u00a0", text)
    return _LEAD_IN.sub(lambda found: found[0].replace(" ", "\u00a0"), text)


def plain(words: Words) -> str:
    """The words without their weights."""
    return "".join(run.text for run in words)


def join(*parts: Words | str) -> Words:
    """Parts set one after another in one paragraph, a space between them."""
    joined: list[Run] = []
    for part in parts:
        runs = (Run(part),) if isinstance(part, str) else part
        if plain(runs):
            joined += [Run(" "), *runs] if joined else runs
    return tuple(joined)


def leading_mm(size_pt: float) -> float:
    """From baseline to baseline [mm]."""
    return size_pt * LEADING * MM_PER_PT


def width_of(pieces: Pieces) -> float:
    """How wide a line is set [mm]."""
    return sum(width_mm(text, weight, size) for text, weight, size in pieces)


def bearing_mm(text: str, weight: Weight, size_pt: float) -> float:
    """How far large type is hung to the left, to align with small type by eye [mm].

    The white before its first letter, less the white before a small letter.
    """
    return max(
        0.0, _bearing_em(text[:1], weight) * size_pt * MM_PER_PT - _BODY_BEARING_MM
    )


@lru_cache(maxsize=512)
def _bearing_em(mark: str, weight: Weight) -> float:
    face = typeface(weight).face
    glyph = face.charToGlyph.get(ord(mark), 0) if mark else 0
    # The table of horizontal metrics: advance and left side bearing, two bytes each.
    return float(unpack_from(">h", face.get_table("hmtx"), glyph * 4 + 2)[0]) / 1000


# What stands between two spaces, and the weight of the space before it.
_Word = tuple[tuple[tuple[str, Weight], ...], Weight]


@lru_cache(maxsize=4096)
def fold(
    words: Words,
    size_pt: float,
    width: float,
    weak: Weight = "regular",
    strong: Weight = "semibold",
) -> tuple[Pieces, ...]:
    """Break words into lines no wider than ``width`` [mm], as full as each can be.

    Raises:
        Misfit: a single word is wider than the line.
    """
    lines: list[Pieces] = []
    line: list[tuple[str, Weight]] = []
    used = 0.0
    most = width + _SLACK_MM
    for parts, before in _split(words, weak, strong):
        wide = sum([width_mm(text, weight, size_pt) for text, weight in parts])
        if wide > most:
            raise _too_wide(parts, wide, width)
        space = width_mm(" ", before, size_pt)
        if line and used + space + wide > most:
            lines.append(_merged(line, size_pt))
            line, used = [], 0.0
        if line:
            line.append((" ", before))
            used += space
        line += parts
        used += wide
    if line:
        lines.append(_merged(line, size_pt))
    return tuple(lines)


@lru_cache(maxsize=1024)
def _split(words: Words, weak: Weight, strong: Weight) -> tuple[_Word, ...]:
    found: list[_Word] = []
    parts: list[tuple[str, Weight]] = []
    space = weak
    for run in words:
        weight = strong if run.strong else weak
        for index, part in enumerate(_bound(run.text)):
            if index and parts:
                found.append((tuple(parts), space))
                parts, space = [], weight
            if part:
                parts.append((part, weight))
    if parts:
        found.append((tuple(parts), space))
    return tuple(found)


@lru_cache(maxsize=4096)
def _bound(text: str) -> tuple[str, ...]:
    """What stands between the spaces at which a line may break."""
    return tuple(bind(text).split(" "))


def _too_wide(
    parts: tuple[tuple[str, Weight], ...], wide: float, width: float
) -> Misfit:
    text = "".join(part for part, _ in parts)
    shown = text if len(text) <= 40 else f"{text[:39]}…"
    return Misfit(f"'{shown}' is {wide:.1f} mm wide, the line {width:.1f} mm")


def _merged(parts: list[tuple[str, Weight]], size_pt: float) -> Pieces:
    merged: list[Piece] = []
    for text, weight in parts:
        if merged and merged[-1][1] == weight:
            merged[-1] = (merged[-1][0] + text, weight, size_pt)
        else:
            merged.append((text, weight, size_pt))
    return tuple(merged)


def paragraph(
    field: str,
    words: Words,
    size_pt: float,
    *,
    x: float,
    y: float,
    w: float,
    weak: Weight = "regular",
    strong: Weight = "semibold",
    align: str = "left",
    white: bool = False,
    role: str = "paragraph",
) -> Text:
    """Words broken into lines from ``y`` [mm] down, as high as they need to be.

    Raises:
        Misfit: a single word is wider than the block.
    """
    pitch = leading_mm(size_pt)
    edge = x + w * {"left": 0, "middle": 0.5, "right": 1}[align]
    folded = fold(words, size_pt, w, weak, strong)
    lines = tuple(
        Line(edge, y + pitch * (index + BASELINE), pieces, align, white)
        for index, pieces in enumerate(folded)
    )
    return Text(field, x, y, w, pitch * len(lines), lines, role)


def one_line(
    field: str,
    pieces: Pieces,
    *,
    x: float,
    baseline: float,
    align: str = "left",
    white: bool = False,
    says: str = "",
    role: str = "paragraph",
    hang: bool = False,
) -> Text:
    """Pieces on one baseline [mm]; ``x`` is the edge that ``align`` names.

    The block reaches from the largest piece's ascender to its descender. Hung type
    stands a little left of ``x``, so that its ink begins where small type's does.
    """
    wide = width_of(pieces)
    em = max(size for _, _, size in pieces) * MM_PER_PT
    left = x - wide * {"left": 0, "middle": 0.5, "right": 1}[align]
    shift = bearing_mm(*pieces[0]) if hang and align == "left" else 0.0
    line = Line(x - shift, baseline, pieces, align, white, says)
    top = baseline - ASCENT * em
    return Text(field, left, top, wide - shift, em * (ASCENT + DESCENT), (line,), role)


class Flow(Struct):
    """A column filled from the top: ``y`` [mm] is where the next block begins."""

    x: float
    y: float
    w: float
    blocks: tuple[Text, ...] = ()

    def add(
        self,
        field: str,
        words: Words | str,
        size_pt: float,
        *,
        strong: Weight = "semibold",
        heavy: bool = False,
        role: str = "paragraph",
    ) -> None:
        """Set a paragraph and move down below it; nothing where there are no words.

        Raises:
            Misfit: a single word is wider than the column.
        """
        runs = (Run(words, heavy),) if isinstance(words, str) else words
        if not plain(runs).strip(" "):
            return
        block = paragraph(
            field, runs, size_pt,
            x=self.x, y=self.y, w=self.w, strong=strong, role=role,
        )  # fmt: skip
        self.blocks += (block,)
        self.y += block.h

    def skip(self, mm: float) -> None:
        """Leave white [mm]."""
        self.y += mm

    def moved(self, mm: float) -> tuple[Text, ...]:
        """The blocks, moved down [mm]."""
        return tuple(_moved(block, mm) for block in self.blocks)


def _moved(block: Text, mm: float) -> Text:
    lines = tuple(replace(line, y=line.y + mm) for line in block.lines)
    return replace(block, y=block.y + mm, lines=lines)
