"""The block of a bottle that reaches no class: a frame that stands on the foot."""

from collections.abc import Iterable
from functools import lru_cache

from msgspec.structs import replace

from labelkit.mixing.words import Run, Words
from labelkit.printing.boxes import Frame
from labelkit.printing.drawn import Drawn, Setting
from labelkit.printing.fonts import width_mm
from labelkit.printing.hazardblock import (
    REPEAT_PT,
    leave_again,
    name_again,
    repeated,
    sentence,
)
from labelkit.printing.layouts import LayoutBox
from labelkit.printing.rows import running_words
from labelkit.printing.typeset import Flow, join, plain

__all__ = ["draw_no_class"]

_ABOVE_MM = 0.15  # under the frame's line, besides the white of the first line

_MAKERS = frozenset({"made", "by", "supplier"})

Paragraphs = tuple[tuple[str, Words], ...]


def draw_no_class(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """A frame as high as its words, standing on the lower edge of the box.

    Raises:
        Misfit: a word is wider than the frame.
    """
    again = repeated(box, setting.text)
    words = _paragraphs(box, setting)
    return _framed(again, words, box, round(top, 4), setting.running_pt(box))


@lru_cache(maxsize=1024)
def _framed(
    again: str, paragraphs: Paragraphs, box: LayoutBox, top: float, size_pt: float
) -> Drawn:
    x, width = box.x + box.inset, box.w - 2 * box.inset
    upper, lower = Flow(x, 0.0, width), Flow(x, 0.0, width)
    if again:
        room = leave_again(upper, width_mm(again, "semibold", REPEAT_PT))
        upper.blocks = (name_again(again, *room),)
    for field, words in paragraphs:
        flow = upper if field == "none-reached" else lower
        flow.add(field, words, size_pt)
    edge = box.line + _ABOVE_MM
    last = box.bottom - box.gap - lower.y
    spare = last - top - edge - upper.y
    begins = top if box.fills else last - upper.y - edge
    # The frame's own lower edge lies behind the foot, which closes it.
    high = box.bottom - begins + box.line
    frame = Frame(box.x, begins, box.w, high, box.line, field="class frame")
    blocks = (*upper.moved(begins + edge), *lower.moved(last))
    return Drawn((frame, *blocks), box.bottom, spare)


def _paragraphs(box: LayoutBox, setting: Setting) -> Paragraphs:
    text, hazard = setting.text, setting.text.hazard
    strong = tuple(run for run in hazard.none_reached if run.strong)
    rest = tuple(run for run in hazard.none_reached if not run.strong)
    said = plain(hazard.none_reached)
    points = " ".join(sentence(p) for p in hazard.open_points if p not in said)
    extra = running_words(_but_makers(box.shows[1:]), setting)
    makers = running_words([f for f in box.shows if f in _MAKERS], setting)
    aid: Words = (Run(text.aid_full if box.full_aid else text.aid),)
    never: Words = (Run(text.never_with, strong=True),)
    rest = join(extra, points, _lean(rest))
    told = [("none-reached", strong), ("none-reached", rest)]
    if setting.choices.run_together and box.dense:
        one = join(strong, rest, text.first_words, makers, aid)
        told = [("none-reached", one)]
    elif setting.choices.run_together:
        told.append(("first-words", join(text.first_words, makers, aid)))
    else:
        told += [("first-words", text.first_words), ("aid", join(makers, aid))]
    return (*told, ("never-with", never))


def _but_makers(fields: Iterable[str]) -> list[str]:
    return [field for field in fields if field not in _MAKERS]


def _lean(words: Words) -> Words:
    """Words without the space they begin with."""
    if not words:
        return ()
    return (replace(words[0], text=words[0].text.lstrip(" ")), *words[1:])
