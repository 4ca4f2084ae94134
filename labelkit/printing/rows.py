"""Fields side by side on one baseline, fields run together, and short lines stacked."""

from collections.abc import Callable, Iterable

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Misfit
from labelkit.mixing.words import BottleText, Run, Words
from labelkit.printing.boxes import Text
from labelkit.printing.drawn import Drawn, Setting
from labelkit.printing.fonts import MM_PER_PT
from labelkit.printing.headline import is_in_name, substance
from labelkit.printing.layouts import LayoutBox
from labelkit.printing.typeset import (
    ASCENT,
    BASELINE,
    DESCENT,
    Pieces,
    fold,
    join,
    leading_mm,
    one_line,
    paragraph,
    plain,
    width_of,
)

__all__ = ["draw_paragraph", "draw_row", "draw_stack", "running_words"]

APART_MM = 2.0  # between two fields on one baseline
_STEP_PT = 0.5
_MARK_PT = (11.3, 9.9, 8.8, 7.7)  # the first is read from 0.6 m
_MARK_BESIDE_SMALL_PT = 8.8


class _Cell(Struct, frozen=True):
    """One field of a row; with ``words`` where it may be broken into lines."""

    field: str
    pieces: Pieces
    words: Words = ()
    size: float = 0.0

    @property
    def width(self) -> float:
        return width_of(self.pieces)

    @property
    def largest(self) -> float:
        return max(size for _, _, size in self.pieces)


def draw_row(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """The chief field to the left, the last of several to the right.

    What finds no room beside goes to a line of its own, to the left. The chief field is
    made smaller first, and broken into lines where it may be.

    Raises:
        Misfit: a field is wider than the box even so.
    """
    cells = _cells(box, setting, box.wanted)
    if not cells:
        return Drawn((), top)
    size = box.wanted
    while size > box.smallest and _width(cells) > box.w:
        size = max(size - _STEP_PT, box.smallest)
        cells = _cells(box, setting, size)
    blocks: list[Text] = []
    baseline = top + ASCENT * cells[0].largest * MM_PER_PT
    for line in _lines(cells, box.w):
        baseline = _below(blocks[-1], line) if blocks else baseline
        ends_right = len(line) > 1 and line[-1] is cells[-1]
        blocks += _set_line(box, line, baseline, ends_right=ends_right)
    return Drawn(tuple(blocks), max(top + box.h, _end(blocks[-1])))


def _below(upper: Text, line: list[_Cell]) -> float:
    """The baseline of a line under another: a leading on, and clear of its letters."""
    size = max(cell.largest for cell in line)
    clear = _end(upper) + ASCENT * size * MM_PER_PT
    return max(clear, upper.lines[-1].y + leading_mm(size))


def _end(block: Text) -> float:
    """Where a block's descenders end [mm]."""
    last = block.lines[-1]
    return last.y + DESCENT * MM_PER_PT * max(size for _, _, size in last.pieces)


def _lines(cells: list[_Cell], width: float) -> list[list[_Cell]]:
    lines: list[list[_Cell]] = [[]]
    for cell in cells:
        if lines[-1] and _width([*lines[-1], cell]) > width:
            lines.append([])
        lines[-1].append(cell)
    return lines


def _width(cells: Iterable[_Cell]) -> float:
    widths = [cell.width for cell in cells]
    return sum(widths) + APART_MM * (len(widths) - 1)


def _set_line(
    box: LayoutBox, line: list[_Cell], baseline: float, *, ends_right: bool
) -> list[Text]:
    if len(line) == 1 and line[0].width > box.w:
        return [_broken(box, line[0], baseline)]
    blocks = []
    x = box.x
    for cell in line:
        right = (ends_right and cell is line[-1]) or box.align == "right"
        blocks.append(
            one_line(
                cell.field,
                cell.pieces,
                x=box.right if right else x,
                baseline=baseline,
                align="right" if right else "left",
                role="heading" if cell.field == "name" else "paragraph",
                hang=cell.largest > 11,
            )
        )
        x += cell.width + APART_MM
    return blocks


def _broken(box: LayoutBox, cell: _Cell, baseline: float) -> Text:
    if not cell.words:
        shown = "".join(text for text, _, _ in cell.pieces)
        raise Misfit(
            f"{quoted(shown)} is {cell.width:.1f} mm wide, its place {box.w:g} mm"
        )
    first = leading_mm(cell.size) * BASELINE
    return paragraph(
        cell.field,
        cell.words,
        cell.size,
        x=box.x,
        y=baseline - first,
        w=box.w,
        align=box.align,
        role="heading" if cell.field == "name" else "paragraph",
    )


def _cells(box: LayoutBox, setting: Setting, chief_pt: float) -> list[_Cell]:
    sizes = (chief_pt, *box.others)
    cells = []
    for field, size in zip(box.shows, sizes, strict=True):
        cell = _cell(field, box, setting, size)
        if cell:
            cells.append(cell)
    return _mark_grown(cells, setting.text.use_mark, box.w) if cells else cells


def _mark_grown(cells: list[_Cell], mark: str, width: float) -> list[_Cell]:
    """The use mark as large as there is room for: it is read before a hand is out."""
    if not mark:
        return cells
    lines = len(_lines(cells, width))
    most = cells[0].largest if lines == 1 else 0.0
    for size in _MARK_PT:
        grown = [_with_larger_mark(cell, size) for cell in cells]
        fits = len(_lines(grown, width)) <= lines
        if fits and size <= max(most, _MARK_BESIDE_SMALL_PT):
            return grown
    return cells


def _with_larger_mark(cell: _Cell, size: float) -> _Cell:
    if cell.field not in ("bottle", "use-mark") or cell.size >= size:
        return cell
    pieces = (
        (t, face, size if face == "semibold" else pt) for t, face, pt in cell.pieces
    )
    return replace(cell, pieces=tuple(pieces))


def _cell(field: str, box: LayoutBox, setting: Setting, size: float) -> _Cell | None:
    text = setting.text
    if field == "discard" and text.discard_label:
        pieces: Pieces = (
            (text.discard_label, "regular", box.label),
            ("  ", "regular", box.label),
            (text.discard, "semibold", size),
        )
        return _Cell(field, pieces)
    if field == "goes-with":
        return _goes_with(text, box, size)
    if field == "discard":
        size = box.label
    words = _words(field, box, setting)
    if not plain(words).strip(" "):
        return None
    (pieces,) = fold(words, size, float("inf"))
    return _Cell(field, pieces, words, size)


def _goes_with(text: BottleText, box: LayoutBox, size: float) -> _Cell | None:
    if text.part is None or not text.part.goes_with:
        return None
    pieces: Pieces = (
        ("goes with", "regular", box.label),
        (" ", "regular", size),
        (text.part.goes_with, "bold", size),
    )
    return _Cell("goes-with", pieces)


def _words(field: str, box: LayoutBox, setting: Setting) -> Words:
    text = setting.text
    if field == "substance":
        told = box.unless_named and is_in_name(text.headline, text.name)
        return () if told else substance(text.headline)
    if field == "tally-caption":
        shown = text.tally and setting.choices.tally
        return (Run(text.tally.caption),) if text.tally and shown else ()
    if field == "bottle":  # both; or each in a place of its own
        mark = f"{text.use_mark}, " if text.use_mark and text.bottle else text.use_mark
        return (Run(mark, strong=True), Run(text.bottle))
    return _PLAIN[field](text)


_PLAIN: dict[str, Callable[[BottleText], Words]] = {
    "name": lambda text: (Run(text.name, strong=True),),
    "number": lambda text: (Run(text.number, strong=True),),
    "discard": lambda text: (Run(text.discard, strong=True),),
    "ratio": lambda text: (Run(text.part.ratio if text.part else "", strong=True),),
    "beside": lambda text: (Run(text.headline.beside),),
    "strength": lambda text: (Run(", ".join(text.strength), strong=True),),
    "contents": lambda text: text.contents,
    "made": lambda text: (Run(text.made),),
    "mixed": lambda text: (Run(text.mixed if text.by else ""),),
    "by": lambda text: (Run(text.by if text.mixed and text.by else text.made),),
    "supplier": lambda text: (Run(text.supplier),),
    "off-when": lambda text: (Run(text.off_when),),
    "use-mark": lambda text: (Run(text.use_mark, strong=True),),
    "count": lambda text: (Run(text.bottle),),
    "label-1": lambda _: (Run("label 1 of 2"),),
    "label-2": lambda _: (Run("label 2 of 2"),),
    "on-the-tag": lambda _: (Run("Statements and first aid are on its tag."),),
}


def draw_stack(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """The short lines of a field, each on its own.

    Raises:
        Misfit: a line is wider than the box.
    """
    lines = [line for line in setting.text.strength if line.strip(" ")]
    if not lines:
        return Drawn((), top)
    pitch = leading_mm(box.wanted)
    blocks = tuple(
        paragraph(
            box.kind,
            (Run(line.replace(" ", "\u00a0"), strong=True),),
            box.wanted,
            x=box.x,
            y=top + pitch * index,
            w=box.w,
            align=box.align,
        )
        for index, line in enumerate(lines)
    )
    return Drawn(blocks, max(top + box.h, top + pitch * len(lines)))


def draw_paragraph(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """Several fields run together in one paragraph.

    Raises:
        Misfit: a word is wider than the box.
    """
    words = running_words(box.shows, setting)
    if not words:
        return Drawn((), top)
    size = setting.running_pt(box)
    block = paragraph(box.kind, words, size, x=box.x, y=top, w=box.w, align=box.align)
    return Drawn((block,), top + block.h)


def running_words(fields: Iterable[str], setting: Setting) -> Words:
    """Fields as sentences one after another."""
    return join(*(_sentence(field, setting) for field in fields))


def _sentence(field: str, setting: Setting) -> Words:
    text = setting.text
    if field == "strength":
        return (Run(f"{', '.join(text.strength)}."),) if text.strength else ()
    if field == "bottle":
        return join(_mark_sentence(text), _count_sentence(text))
    if field == "use-mark":
        return _mark_sentence(text)
    if field == "count":
        return _count_sentence(text)
    if field == "cautions":
        return (Run(" ".join(text.cautions) if setting.choices.cautions else ""),)
    if field == "tally-caption":
        return ()
    return _PLAIN[field](text)


def _mark_sentence(text: BottleText) -> Words:
    return (Run(f"{text.use_mark}.", strong=True),) if text.use_mark else ()


def _count_sentence(text: BottleText) -> Words:
    said = f"{text.bottle[:1].upper()}{text.bottle[1:]}." if text.bottle else ""
    return (Run(said),) if said else ()
