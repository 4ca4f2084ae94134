"""UNKNOWN and WASTE: a notice's words in the places its layout gives them.

Words are set smaller, down to the floor of their box, before they are refused; nothing
is clipped.
"""

from collections.abc import Mapping, Sequence
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.notices import NoticeText
from labelkit.mixing.words import Run, Words
from labelkit.printing.boxes import Bar, Box, Code, Page, Text
from labelkit.printing.card_foot import place_foot
from labelkit.printing.codes import MODULE_PT, smallest_version
from labelkit.printing.fit import Placement
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm, width_mm
from labelkit.printing.notices_layout import NoticeBox, NoticeLayout, notice_layout
from labelkit.printing.notices_lines import (
    draw_lines,
    draw_ticks,
    has_room_for_place,
    sizes,
)
from labelkit.printing.said import is_said, printable, text_of
from labelkit.printing.typeset import bearing_mm, join, one_line, paragraph, plain

__all__ = ["place_notice"]

# What stands under one another and pushes down what is below it.
_FLOWING = ("lead", "detail", "rule", "never", "things")
_WEIGHTS = {"lead": "semibold", "never": "bold"}
_SLACK_MM = 1e-6
_APART_MM = 1.2  # in the foot, as on a bottle label


def place_notice(text: NoticeText, layout: NoticeLayout | None = None) -> Placement:
    """A notice's words in their places.

    Args:
        text: what it must say.
        layout: where; None for the built-in one of its kind.

    Raises:
        BadInput: a character that the printed type does not have.
        Misfit: the words do not fit, even as small as they may be.
    """
    layout = layout or notice_layout(text.kind)
    fitting = _with_what_fits(printable(text), layout)
    boxes = _boxes(fitting.text, layout)
    page = Page(layout.width, layout.height, tuple(boxes), text.word)
    _require_everything(fitting.text, page)
    return Placement(page, layout.name, fitting.steps, 0.0)


class _Fitting(Struct, frozen=True):
    """The words after some have given way, and which have."""

    text: NoticeText
    steps: tuple[str, ...] = ()


def _with_what_fits(text: NoticeText, layout: NoticeLayout) -> _Fitting:
    """Leave off what there is no room for and may give way."""
    text, steps = _with_fewer_things(text, layout)
    for box in _there(text, layout):
        if box.shows[-1] == "then" and not has_room_for_place(box, text):
            steps.append(f"no room for '{text.place}'")
            text = replace(text, place="")
        if box.kind == "small":
            while text.extra and _small(box, text) is None:
                steps.append(f"no room for '{text.extra[0]}'")
                text = replace(text, extra=text.extra[1:])
    return _Fitting(text, tuple(steps))


def _with_fewer_things(
    text: NoticeText, layout: NoticeLayout
) -> tuple[NoticeText, list[str]]:
    steps: list[str] = []
    while len(text.things) > text.kept:
        try:
            _flow(text, layout)
        except Misfit:
            steps.append(f"no room for '{plain(text.things[-1])}'")
            text = replace(text, things=text.things[:-1])
        else:
            break
    return text, steps


def _boxes(text: NoticeText, layout: NoticeLayout) -> list[Box]:
    there = _there(text, layout)
    flowed = _flow(text, layout)
    drawn: list[Box] = []
    for box in there:
        drawn += flowed[box] if box in flowed else _drawn(box, text)
    return drawn


def _flow(text: NoticeText, layout: NoticeLayout) -> dict[NoticeBox, list[Box]]:
    """What stands under one another, above the first line to write on.

    Raises:
        Misfit: it does not fit, even as small as it may be.
    """
    there = _there(text, layout)
    lines = [box.y for box in there if box.kind == "lines"]
    flowing = [box for box in there if box.kind in _FLOWING]
    return _flowed(flowing, text, min(lines, default=layout.height))


def _there(text: NoticeText, layout: NoticeLayout) -> list[NoticeBox]:
    """The boxes that there are for such a notice, in the order of reading."""
    holds = {"", "code" if text.code else "no code"}
    holds |= {"open"} if any(b.field == "nor" for b in text.blanks) else set()
    return [box for box in layout.boxes if box.when in holds]


def _drawn(box: NoticeBox, text: NoticeText) -> Sequence[Box]:
    if box.kind == "lines":
        return draw_lines(box, text)
    if box.kind == "ticks":
        return draw_ticks(box, text.ticks) if text.ticks else ()
    if box.kind == "code":
        return (_code(box, text),) if text.code else ()
    if box.kind == "foot":
        return place_foot(
            x=box.x, y=box.y, w=box.w, h=box.h, emergency=text.emergency,
            size_pt=box.wanted, call_pt=box.label, apart=_APART_MM,
        )  # fmt: skip
    if box.kind == "small":
        block = _small(box, text)
        if block is None:
            raise Misfit("there is no room for what to do first")
        return (block,)
    return _one_word(box, text)


def _one_word(box: NoticeBox, text: NoticeText) -> Sequence[Box]:
    """The word, or the number: one line, the top of its capitals on the box's.

    Raises:
        Misfit: it is too wide.
    """
    said, weight = (text.word, "bold")
    if box.kind == "number":
        said, weight = text.number, "semibold"
    if not said:
        return ()
    for size in sizes(box):
        wide = width_mm(said, weight, size) - bearing_mm(said, weight, size)
        if wide <= box.w + _SLACK_MM:
            baseline = box.y + cap_height_mm(size)
            role = "heading" if box.kind == "word" else "paragraph"
            x = box.right if box.align == "right" else box.x
            return (
                one_line(
                    box.kind, ((said, weight, size),), x=x, baseline=baseline,
                    align=box.align, role=role, hang=True,
                ),
            )  # fmt: skip
    raise Misfit(f"'{said}' is too wide for {box.w:g} mm")


def _code(box: NoticeBox, text: NoticeText) -> Code:
    """The code, its right edge on the box's.

    Raises:
        Misfit: the payload needs more modules than there is room for.
    """
    modules = 17 + 4 * smallest_version(text.code)
    module = MODULE_PT * MM_PER_PT
    side = modules * module
    if side > box.w + 0.05:
        raise Misfit(
            f"the code of {len(text.code)} characters is {side:.1f} mm wide, its place "
            f"{box.w:g} mm",
            remedy="Shorten base_url in labelkit.toml.",
        )
    return Code(box.right - side, box.y, module, text.code, modules, text.code_means)


def _small(box: NoticeBox, text: NoticeText) -> Text | None:
    """Room and first words in one paragraph, as large as fits; None where none does."""
    words = join(*text.extra, text.first_words)
    for size in sizes(box):
        block = paragraph("small", words, size, x=box.x, y=box.y, w=box.w)
        if block.h <= box.h + _SLACK_MM:
            return block
    return None


def _flowed(
    boxes: Sequence[NoticeBox], text: NoticeText, floor: float
) -> dict[NoticeBox, list[Box]]:
    """What stands under one another, set smaller until it fits, the lead last.

    Raises:
        Misfit: it does not, even as small as it may be.
    """
    leads = [sizes(box) for box in boxes if box.kind == "lead"]
    others = [sizes(box) for box in boxes if box.kind != "lead"]
    tried = product(
        range(max(map(len, leads), default=1)), range(max(map(len, others), default=1))
    )
    missing = Misfit("nothing fits")
    for lead, other in tried:
        steps = {box: lead if box.kind == "lead" else other for box in boxes}
        try:
            drawn, bottom = _stacked(steps, text)
        except Misfit as misfit:
            missing = misfit
            continue
        if bottom <= floor + _SLACK_MM:
            return drawn
        missing = Misfit(
            f"the words are {bottom - floor:.1f} mm too long", remedy="Use fewer words."
        )
    raise missing


def _stacked(
    steps: Mapping[NoticeBox, int], text: NoticeText
) -> tuple[dict[NoticeBox, list[Box]], float]:
    drawn: dict[NoticeBox, list[Box]] = {}
    moved = bottom = 0.0
    for box, step in steps.items():
        top = box.y + moved
        if box.kind == "rule":
            drawn[box], bottom = [Bar(box.x, top, box.w, box.h)], top + box.h
        else:
            block = _block(box, text, step, top)
            drawn[box] = [block] if block else []
            bottom = top + block.h if block else top
        moved = bottom - box.bottom
    return drawn, bottom


def _block(box: NoticeBox, text: NoticeText, step: int, top: float) -> Text | None:
    words = _words(box.kind, text)
    if not plain(words).strip(" "):
        return None
    allowed = sizes(box)
    size = allowed[min(step, len(allowed) - 1)]
    weak = _WEIGHTS.get(box.kind, "regular")
    return paragraph(box.kind, words, size, x=box.x, y=top, w=box.w, weak=weak)


def _words(kind: str, text: NoticeText) -> Words:
    if kind == "lead":
        return (Run(text.lead),)
    if kind == "never":
        return (Run(text.never),)
    return text.detail if kind == "detail" else _listed(text)


def _listed(text: NoticeText) -> Words:
    """What must not come in, one after another, and the closing words."""
    runs: Words = ()
    for thing in text.things:
        runs += (*((Run("; "),) if runs else ()), *thing)
    closing = (Run(". " if runs else ""), Run(text.closing, strong=True))
    return (*runs, *closing) if text.closing else runs


def _require_everything(text: NoticeText, page: Page) -> None:
    """Refuse a layout that leaves something off.

    Raises:
        Misfit: it does.
    """
    said = text_of(page)
    wanted = [
        text.word,
        text.lead,
        plain(text.detail),
        text.never,
        *map(plain, text.things),
    ]
    wanted += [text.closing]
    wanted += [text.then, text.place, text.number, text.emergency, *text.ticks]
    wanted += [word for blank in text.blanks for word in (blank.term, blank.value)]
    wanted += [*text.extra, plain(text.first_words), "DO NOT DRINK"]
    left_off = [words for words in wanted if words and not is_said(words, said)]
    if text.code and not any(isinstance(box, Code) for box in page.boxes):
        left_off.append("the code")
    if left_off:
        raise Misfit(f"it leaves off {'; '.join(left_off)}")
