"""Lines to write on: a term, the line, and on it what is known already."""

from labelkit.errors import Misfit
from labelkit.mixing.notices import Blank, NoticeText
from labelkit.mixing.words import Run, Words
from labelkit.printing.boxes import Bar, Box, Frame, Line, Text
from labelkit.printing.fonts import cap_height_mm, width_mm
from labelkit.printing.notices_layout import NoticeBox
from labelkit.printing.typeset import Pieces, fold, leading_mm, one_line

__all__ = ["draw_lines", "draw_ticks", "has_room_for_place", "sizes"]

_LINE_MM = 0.25
_OVER_LINE_MM = 0.9  # from the baseline to the line, clear of descenders
_AFTER_TERM_MM = 1.0
_MOST_LINES = 2
_STEP_PT = 0.4
_TICK_LINE_MM = 0.35
_BESIDE_TICK_MM, _AFTER_TICK_MM, _AFTER_CAP_MM = 1.1, 4.2, 4.4


def draw_lines(box: NoticeBox, text: NoticeText) -> list[Box]:
    """One or two lines side by side, as far as the notice has them.

    Raises:
        Misfit: what is known takes more than its place.
    """
    blanks = {blank.field: blank for blank in text.blanks}
    drawn: list[Box] = []
    for field, (left, right) in zip(box.shows, _spans(box), strict=True):
        if field == "then":
            drawn += _then(box, left, right, text)
        elif field in blanks:
            drawn += _line(box, left, right, blanks[field])
    return drawn


def has_room_for_place(box: NoticeBox, text: NoticeText) -> bool:
    """Whether what follows the last line can also say where that is."""
    left, right = _spans(box)[-1]
    return bool(_set(_then_words(text), box, right - left))


def sizes(box: NoticeBox) -> list[float]:
    """The type sizes a box may take, the wanted one first [pt]."""
    found, size = [], box.wanted
    while size > box.smallest + 1e-6:
        found.append(round(size, 2))
        size -= _STEP_PT
    return [*found, box.smallest]


def draw_ticks(box: NoticeBox, words: tuple[str, ...]) -> list[Box]:
    """A term, then words with a box before each."""
    term, *rest = words
    baseline = box.y + (box.h + cap_height_mm(box.wanted)) / 2
    first = one_line(
        "ticks", ((term, "semibold", box.wanted),), x=box.x, baseline=baseline
    )
    drawn: list[Box] = [first]
    x = box.x + first.w + _AFTER_CAP_MM
    for word in rest:
        drawn.append(Frame(x, box.y, box.h, box.h, _TICK_LINE_MM, "tick"))
        x += box.h + _BESIDE_TICK_MM
        said = one_line(
            "ticks", ((word, "regular", box.wanted),), x=x, baseline=baseline
        )
        drawn.append(said)
        x += said.w + _AFTER_TICK_MM
    return drawn


def _spans(box: NoticeBox) -> list[tuple[float, float]]:
    if len(box.shows) == 1:
        return [(box.x, box.right)]
    return [(box.x, box.split[0]), (box.split[1], box.right)]


def _line(box: NoticeBox, left: float, right: float, blank: Blank) -> list[Box]:
    term = one_line(
        "write-in", ((blank.term, "regular", box.wanted),),
        x=left, baseline=box.bottom - _OVER_LINE_MM,
    )  # fmt: skip
    start = left + width_mm(blank.term, "regular", box.wanted) + _AFTER_TERM_MM
    line = Bar(start, box.bottom - _LINE_MM, right - start, _LINE_MM, field="write-in")
    if not blank.value:
        return [term, line]
    lines = _set((Run(blank.value, strong=True),), box, right - start)
    if not lines:
        raise Misfit(
            f"'{blank.value}' is too long for two lines of {right - start:.0f} mm",
            place=blank.term,
            remedy="Write it shorter.",
        )
    return [term, _block("write-in", lines, start, right, box), line]


def _then(box: NoticeBox, left: float, right: float, text: NoticeText) -> list[Box]:
    lines = _set(_then_words(text), box, right - left)
    if not lines:
        raise Misfit(f"'{text.then}' is too long for {right - left:.0f} mm")
    return [_block("then", lines, left, right, box, align="right")]


def _then_words(text: NoticeText) -> Words:
    return (Run(f"{text.then}: {text.place}" if text.place else text.then, True),)


def _set(words: Words, box: NoticeBox, width: float) -> tuple[Pieces, ...]:
    """The words in one line, else in two, as large as they fit; () where they don't."""
    tried = [(most, size) for most in range(1, _MOST_LINES + 1) for size in sizes(box)]
    for most, size in tried:
        try:
            lines = fold(words, size, width)
        except Misfit:
            continue
        high = _OVER_LINE_MM + leading_mm(size) * (len(lines) - 1) + cap_height_mm(size)
        if len(lines) <= most and high <= box.h:
            return lines
    return ()


def _block(
    field: str,
    lines: tuple[Pieces, ...],
    left: float,
    right: float,
    box: NoticeBox,
    align: str = "left",
) -> Text:
    """Lines that end on the box's writing line, one above the other."""
    pitch = leading_mm(lines[0][0][2])
    edge = right if align == "right" else left
    last = box.bottom - _OVER_LINE_MM
    up = pitch * (len(lines) - 1)
    set_lines = tuple(
        Line(edge, last - up + pitch * index, pieces, align)
        for index, pieces in enumerate(lines)
    )
    top = last - up - cap_height_mm(lines[0][0][2])
    return Text(field, left, top, right - left, box.bottom - _LINE_MM - top, set_lines)
