"""A weighing-out sheet, page by page, placed from its words."""

from collections.abc import Iterator

from msgspec.structs import replace

from labelkit.errors import Fault, Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.weighing_sheet import WeighingText
from labelkit.mixing.words import CardNote, Run
from labelkit.printing.boxes import Bar, Box, Page
from labelkit.printing.card_foot import foot_at
from labelkit.printing.card_hazard import (
    Block,
    Room,
    class_block,
    is_classed,
    no_class_block,
)
from labelkit.printing.fonts import min_size_pt
from labelkit.printing.paged import (
    PagedLayout,
    Piece,
    note_piece,
    paged_layout,
    paginated,
    words_piece,
)
from labelkit.printing.said import hazard_words, is_said, printable, text_of
from labelkit.printing.symbols import SymbolStyle
from labelkit.printing.typeset import Flow, plain
from labelkit.printing.weighing_head import place_head
from labelkit.printing.weighing_rows import WeighingRows

__all__ = ["FIELDS", "place_weighing_sheet", "weighing_layout"]

FIELDS = (
    ("mark", "at side text"),
    ("name", "at text"),
    ("marked_name", "at text"),
    ("quantity", "at text"),
    ("about", "at text small"),
    ("write_in", "at text height"),
    ("rule", "at height"),
    ("first", "at"),
    ("name_again", "at text"),
    ("rule_again", "at height"),
    ("again", "at"),
    ("words", "text small width gap"),
    ("pictograms", "side text"),
    ("signal", "text"),
    ("heads", "height text"),
    ("rows", "height smallest text small"),
    ("tick", "side line"),
    ("number", "indent text"),
    ("what", "indent"),
    ("planned", "at text small"),
    ("lot", "at width"),
    ("tare", "at width"),
    ("read", "at width"),
    ("initials", "at width"),
    ("unit", "width text"),
    ("vessel", "height indent line text"),
    ("stop", "height text small"),
    ("fill", "height line"),
    ("foot", "at height text small"),
)
_OVER_FOOT = 2.0  # [mm]
_UNDER_RULE = 2.6  # [mm]
_APART = 4.0  # between the parts of the sheet [mm]


def weighing_layout(key: str = "a4") -> PagedLayout:
    """The layout of weighing-out sheets."""
    return paged_layout("weighing", key, FIELDS)


def place_weighing_sheet(
    text: WeighingText, *, settings: Settings, layout: PagedLayout | None = None
) -> tuple[Page, ...]:
    """The pages of a sheet; steps that do not fit go on the next page.

    Raises:
        BadInput: the printed type does not have a character, and where that stands.
        Misfit: a word or a piece does not fit; nothing is clipped.
    """
    layout = layout or weighing_layout()
    text = printable(text)
    try:
        pages = _pages(text, layout, settings)
    except Misfit as misfit:
        raise Misfit.of(
            Fault(f.place, f.problem, f.remedy or "Write it in fewer words.").at(
                "weighing-out sheet"
            )
            for f in misfit.faults
        ) from None
    _require_whole(text, pages)
    return pages


def _pages(
    text: WeighingText, layout: PagedLayout, settings: Settings
) -> tuple[Page, ...]:
    bodies = _bodies(text, layout, settings)
    if len(bodies) > 1:  # set closer, where that saves a page
        closer = _bodies(text, _tightened(layout), settings)
        bodies = closer if len(closer) < len(bodies) else bodies
    return tuple(
        Page(
            layout.width,
            layout.height,
            (
                *place_head(text, layout, number, len(bodies)),
                *body,
                *_foot(text, layout),
            ),
            f"{text.name}, weighing-out sheet, page {number}",
        )
        for number, body in enumerate(bodies, start=1)
    )


def _bodies(
    text: WeighingText, layout: PagedLayout, settings: Settings
) -> tuple[tuple[Box, ...], ...]:
    spots = layout.page
    rows = WeighingRows(layout)
    return paginated(
        _pieces(text, layout, settings, rows),
        first=spots["first"].y,
        top=spots["again"].y,
        bottom=spots["foot"].y - _OVER_FOOT,
        again=rows.again,
    )


def _tightened(layout: PagedLayout) -> PagedLayout:
    """The same with its smaller type, lower rows and smaller pictograms."""
    spots = dict(layout.page)
    words, rows, signs = spots["words"], spots["rows"], spots["pictograms"]
    spots["words"] = replace(words, text=(words.small,), gap=words.gap / 2)
    spots["rows"] = replace(rows, height=rows.smallest)
    spots["fill"] = replace(spots["fill"], height=rows.smallest)
    spots["pictograms"] = replace(signs, side=signs.side[1:])
    return replace(layout, page=spots)


def _foot(text: WeighingText, layout: PagedLayout) -> tuple[Box, ...]:
    spot = layout.page["foot"]
    return foot_at(spot, layout.right, text.emergency)


def _pieces(
    text: WeighingText, layout: PagedLayout, settings: Settings, rows: WeighingRows
) -> Iterator[Piece]:
    """Cautions, steps, what the plan warns of, the solution, what to do afterwards."""
    yield from _notes(text.before, layout)
    yield from rows.pieces(text.rows, gap=_APART)
    if text.known_note:
        small = layout.page["words"].small
        yield words_piece("known", (Run(text.known_note),), small, layout, gap=1.6)
    yield from _notes(text.remarks, layout, _APART)
    yield _solution(text, layout, settings)
    yield from _after(text, layout)


def _notes(
    notes: tuple[CardNote, ...], layout: PagedLayout, first_gap: float = 0.0
) -> Iterator[Piece]:
    spot = layout.page["words"]
    for index, note in enumerate(notes):
        gap = spot.gap if index else first_gap
        yield note_piece(note, spot.pt, spot.width, layout, gap)


def _solution(text: WeighingText, layout: PagedLayout, settings: Settings) -> Piece:
    """What the finished solution can do, under a heavy rule, together."""
    spot = layout.page["words"]
    size = max(spot.small, min_size_pt(float(text.volume_mL)))
    line = layout.page["fill"].line
    above = line + _UNDER_RULE

    def draw(y: float) -> tuple[Box, ...]:
        return _block(text, layout, settings, size, y).boxes

    def rule(y: float) -> tuple[Box, ...]:
        return (Bar(layout.left, y - above, layout.wide, line),)

    high = _block(text, layout, settings, size, 0.0).bottom
    return Piece(high, draw, _APART + above, name="the hazard block", over=rule)


def _block(
    text: WeighingText, layout: PagedLayout, settings: Settings, size: float, top: float
) -> Block:
    frame = "black" if settings.mono else "red"
    keyline = settings.draws_keyline and not settings.mono
    spots = layout.page
    style = SymbolStyle(frame, keyline, spots["pictograms"].pt)
    room = Room(layout.left, top, layout.wide, size, spots["signal"].pt)
    classed = is_classed(text.hazard)
    if classed:
        block = class_block(text.hazard, room, style, spots["pictograms"].side[0])
    else:
        block = no_class_block(text.hazard, text.first_words, room)
    flow = Flow(layout.left, block.bottom + 1.0, layout.wide)
    if classed:
        flow.add("first words", text.first_words, size)
    flow.add("never with", text.never_with, size, heavy=True)
    return Block((*block.boxes, *flow.blocks), flow.y)


def _after(text: WeighingText, layout: PagedLayout) -> Iterator[Piece]:
    spot = layout.page["words"]
    typed = CardNote("Afterwards", (Run("Type: "), Run(text.typed, strong=True)))
    yield note_piece(typed, spot.small, spot.width, layout, _APART)
    aid = f"{text.aid_full} {text.room}{'.' if text.room else ''}".strip()
    yield words_piece("aid", (Run(aid),), spot.small, layout, gap=spot.gap)


def _require_whole(text: WeighingText, pages: tuple[Page, ...]) -> None:
    """Refuse a sheet that leaves off what it must say.

    Raises:
        Misfit: naming every word that is missing.
    """
    said = " ".join(map(text_of, pages))
    wanted = [text.name, text.quantity, text.never_with, text.aid_full, text.emergency]
    wanted += [plain(text.first_words), *hazard_words(text.hazard)]
    for row in text.rows:
        step = row.step
        wanted += [plain(step.what), step.detail, step.caution, row.known]
        wanted += [cell.text for cell in step.amounts]
    left_off = [told for told in wanted if told and not is_said(told, said)]
    if left_off:
        raise Misfit(f"it leaves off {'; '.join(dict.fromkeys(left_off))}")
