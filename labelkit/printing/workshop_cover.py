"""The cover of a workshop's pack: what is mixed, what it takes, cautions, help."""

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from labelkit.errors import Fault, Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.pack_text import PackText
from labelkit.mixing.words import CardNote, Run, Words
from labelkit.printing.boxes import Bar, Box, Page
from labelkit.printing.card_columns import HAIRLINE
from labelkit.printing.card_foot import foot_at
from labelkit.printing.card_top import place_name
from labelkit.printing.fonts import cap_height_mm
from labelkit.printing.paged import (
    PagedLayout,
    Piece,
    note_piece,
    paged_layout,
    paginated,
    words_piece,
)
from labelkit.printing.said import printable
from labelkit.printing.symbols import SymbolStyle, place_symbols, symbols_size
from labelkit.printing.typeset import fold, leading_mm, one_line, paragraph

__all__ = ["cover_layout", "place_cover"]

_FIELDS = (
    ("name", "at text"),
    ("about", "at text"),
    ("rule", "at height"),
    ("first", "at"),
    ("name_again", "at text"),
    ("rule_again", "at height"),
    ("again", "at"),
    ("words", "text small width gap"),
    ("heading", "text gap"),
    ("lines", "height text"),
    ("amount", "at"),
    ("beside", "at width"),
    ("pictograms", "side text"),
    ("signal", "text"),
    ("foot", "at height text small"),
)
_OVER_FOOT, _APART, _GAP = 2.0, 4.0, 3.0  # [mm]

Boxes = tuple[Box, ...]


def cover_layout(key: str = "a4") -> PagedLayout:
    """The layout of covers."""
    return paged_layout("workshop", key, _FIELDS)


def place_cover(text: PackText, *, settings: Settings) -> tuple[Page, ...]:
    """The pages of a cover; what does not fit goes on the next.

    Raises:
        BadInput: the printed type does not have a character, and where that stands.
        Misfit: a word or a piece does not fit; nothing is clipped.
    """
    text, layout = printable(text), cover_layout()
    try:
        bodies = paginated(
            _pieces(text, layout, settings),
            first=layout.page["first"].y,
            top=layout.page["again"].y,
            bottom=layout.page["foot"].y - _OVER_FOOT,
        )
        heads = [_head(text, layout, n, len(bodies)) for n in range(len(bodies))]
    except Misfit as misfit:
        raise Misfit.of(
            Fault(f.place, f.problem, f.remedy or "Write it in fewer words.").at(
                "cover"
            )
            for f in misfit.faults
        ) from None
    foot = _foot(text, layout)
    return tuple(
        Page(
            layout.width,
            layout.height,
            (*head, *body, *foot),
            f"{text.title}, cover, page {number}",
        )
        for number, (head, body) in enumerate(zip(heads, bodies, strict=True), 1)
    )


def _head(text: PackText, layout: PagedLayout, index: int, count: int) -> Boxes:
    suffix = "_again" if index else ""
    name, rule = layout.page[f"name{suffix}"], layout.page[f"rule{suffix}"]
    about, boxes = layout.page["about"], []
    taken = 0.0
    if count > 1:
        which = ((f"Page {index + 1} of {count}", "regular", about.pt),)
        page = one_line("about", which, x=layout.right, baseline=name.y, align="right")
        boxes.append(page)
        taken = page.w + _APART
    room = layout.wide - taken
    title = place_name(text.title, name, room, layout.margin, name.text[-1])
    if not index:
        lead = ((text.about, "semibold", about.pt),)
        line = one_line("about", lead, x=about.x, baseline=about.y)
        if line.w > layout.wide:
            raise Misfit("place and teacher do not fit in one line", place="place")
        boxes.insert(0, line)
    bar = Bar(layout.left, rule.y, layout.wide, rule.height)
    return (title, *boxes, bar)


def _foot(text: PackText, layout: PagedLayout) -> Boxes:
    spot = layout.page["foot"]
    return foot_at(spot, layout.right, text.emergency)


def _pieces(text: PackText, layout: PagedLayout, settings: Settings) -> Iterator[Piece]:
    spot = layout.page["words"]
    for field, told in (("people", text.people), ("note", text.note)):
        if told:
            words: Words = (Run(told),)
            yield words_piece(field, words, spot.pt, layout, gap=spot.gap)
    yield from _table(
        "What is mixed",
        [(t.what, f"{t.batches} {t.quantity}", t.whom) for t in text.tasks],
        layout,
    )
    yield from _table(
        "What that takes, in all",
        [(n.what, n.amount, n.jar) for n in text.needed],
        layout,
    )
    yield _warning(text, layout, settings)
    helper = CardNote("First help", text.first_help)
    yield from _notes((helper, *text.hazards, *text.before), layout)
    for field, told in (("pack", text.holds), ("aid", _aid(text))):
        if told:
            yield words_piece(field, (Run(told),), spot.small, layout, gap=_APART)


def _aid(text: PackText) -> str:
    return f"{text.aid_full} {text.room}{'.' if text.room else ''}".strip()


def _table(
    heading: str, lines: Sequence[tuple[str, str, str]], layout: PagedLayout
) -> Iterator[Piece]:
    """A heading with its first line, then the other lines, a hairline over each."""
    head = _heading(heading, layout)
    pieces = [_line(line, layout) for line in lines]
    yield _joined(head, pieces[0], layout.page["heading"].gap)
    yield from pieces[1:]
    left, wide = layout.left, layout.wide
    yield Piece(0.0, lambda y: (Bar(left, y, wide, HAIRLINE),))


def _heading(told: str, layout: PagedLayout) -> Piece:
    size = layout.page["heading"].pt

    def draw(y: float) -> Boxes:
        base = y + cap_height_mm(size)
        pieces = ((told, "semibold", size),)
        return (
            one_line("heading", pieces, x=layout.left, baseline=base, role="heading"),
        )

    return Piece(cap_height_mm(size) + 2.2, draw)


def _joined(one: Piece, other: Piece, gap: float) -> Piece:
    def draw(y: float) -> Boxes:
        return (*one.draw(y), *other.draw(y + one.height))

    return Piece(one.height + other.height, draw, gap, name=other.name)


def _line(line: tuple[str, str, str], layout: PagedLayout) -> Piece:
    """What, how much, and what stands beside it, as high as the longest needs."""
    what, amount, beside = line
    spots = layout.page
    size, right = spots["lines"].pt, spots["amount"].x
    told = one_line(
        "amount", ((amount, "semibold", size),), x=right, baseline=0, align="right"
    )
    room = told.x - _GAP - layout.left
    count = max(
        len(fold((Run(what, strong=True),), size, room)),
        len(fold((Run(beside),), size, spots["beside"].width)),
    )
    height = spots["lines"].height + leading_mm(size) * (count - 1)
    above = (spots["lines"].height - leading_mm(size)) / 2

    def draw(y: float) -> Boxes:
        top = y + above
        base = top + leading_mm(size) * _BASELINE
        boxes: Boxes = (
            Bar(layout.left, y, layout.wide, HAIRLINE),
            paragraph(
                "what", (Run(what, strong=True),), size, x=layout.left, y=top, w=room
            ),
            one_line(
                "amount", ((amount, "semibold", size),),
                x=right, baseline=base, align="right",
            ),
        )  # fmt: skip
        if not beside:
            return boxes
        spot = spots["beside"]
        return (
            *boxes,
            paragraph("beside", (Run(beside),), size, x=spot.x, y=top, w=spot.width),
        )

    return Piece(height, draw, name=f"'{what}'")


_BASELINE = 0.78  # of the leading, from the top of a line


def _warning(text: PackText, layout: PagedLayout, settings: Settings) -> Piece:
    """The pictograms of everything together, and the gravest signal word."""
    spot, signal = layout.page["pictograms"], layout.page["signal"]
    frame = "black" if settings.mono else "red"
    keyline = settings.draws_keyline and not settings.mono
    style, side = SymbolStyle(frame, keyline, spot.pt), spot.side[0]
    wide, high = symbols_size(text.pictograms, side, style)
    if not text.signal and not text.pictograms:
        return replace(_heading("Cautions", layout), gap=layout.page["heading"].gap)

    def draw(y: float) -> Boxes:
        boxes = place_symbols(text.pictograms, side, style, x=layout.left, y=y)
        if not text.signal:
            return boxes
        left = layout.left + (wide + _APART if boxes else 0.0)
        base = y + max(high, cap_height_mm(signal.pt))
        word = ((text.signal, "bold", signal.pt),)
        return (*boxes, one_line("signal", word, x=left, baseline=base))

    height = max(high, cap_height_mm(signal.pt)) + 2.4
    return Piece(height, draw, layout.page["heading"].gap, name="the pictograms")


def _notes(notes: Sequence[CardNote], layout: PagedLayout) -> Iterator[Piece]:
    spot = layout.page["words"]
    for note in notes:
        yield note_piece(note, spot.pt, spot.width, layout, spot.gap)
