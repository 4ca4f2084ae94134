"""Sheets of several pages: pieces put one under another, a new page where one is full.

Lengths in mm, type in points; nothing is ever cut in two.
"""

import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache

from msgspec import Struct

from labelkit.errors import BadInput, Misfit
from labelkit.mixing.words import CardNote, Run
from labelkit.printing.boxes import Box
from labelkit.printing.card_checks import side_faults
from labelkit.printing.card_layout import Spot, read_spot
from labelkit.printing.typeset import paragraph
from labelkit.resources import templates_dir

__all__ = [
    "PagedLayout",
    "Piece",
    "note_piece",
    "paged_layout",
    "paginated",
    "words_piece",
]

_TOP = ("title", "size", "margin", "clear", "page")
_SLACK = 1e-6

Boxes = tuple[Box, ...]


class PagedLayout(Struct, frozen=True):
    """The geometry of a page: its size, its margin and where each field stands."""

    key: str
    title: str
    width: float
    height: float
    margin: float
    page: Mapping[str, Spot]

    @property
    def left(self) -> float:
        """Left edge of what is printed [mm]."""
        return self.margin

    @property
    def right(self) -> float:
        """Right edge of what is printed [mm]."""
        return self.width - self.margin

    @property
    def wide(self) -> float:
        """Between the margins [mm]."""
        return self.right - self.left


@cache
def paged_layout(
    folder: str, key: str, fields: tuple[tuple[str, str], ...]
) -> PagedLayout:
    """The layout of that name in a folder of templates.

    Args:
        folder: under ``templates``.
        key: the file's name, without ``.toml``.
        fields: every field there must be, with the keys it cannot do without.

    Raises:
        BadInput: every fault of the file together, each with its key.
    """
    place = f"{key}.toml"
    text = (templates_dir() / folder / place).read_text("utf-8")
    data = tomllib.loads(text)
    missing = [name for name in _TOP if name not in data]
    if missing:
        problem = f"has no {', '.join(missing)}"
        raise BadInput(problem, place=place, remedy="Write them at the top.")
    faults = [f.at(place) for f in side_faults(data, "page", dict(fields), {})]
    if faults:
        raise BadInput.of(faults)
    width, height = map(float, data["size"])
    spots = {name: read_spot(values) for name, values in data["page"].items()}
    return PagedLayout(key, data["title"], width, height, float(data["margin"]), spots)


class Piece(Struct, frozen=True):
    """Something that is not cut in two.

    Attributes:
        height: [mm].
        draw: its boxes, from a top edge [mm].
        gap: white above it, where it does not begin a page [mm].
        over: what stands in that white, from the piece's top edge [mm].
        group: what it belongs to, where that is told again on a new page.
        name: for a person, should it be higher than a page.
    """

    height: float
    draw: Callable[[float], Boxes]
    gap: float = 0.0
    group: str = ""
    name: str = ""
    over: Callable[[float], Boxes] = lambda _: ()


def paginated(
    pieces: Iterable[Piece],
    *,
    first: float,
    top: float,
    bottom: float,
    again: Callable[[Piece], Sequence[Piece]] = lambda _: (),
) -> tuple[Boxes, ...]:
    """The boxes of each page.

    Args:
        pieces: in the order of reading.
        first: where the first page begins [mm].
        top: where the others begin [mm].
        bottom: where every page ends [mm].
        again: what is told once more above a piece that begins a page.

    Raises:
        Misfit: a piece is higher than a page.
    """
    pages: list[list[Box]] = [[]]
    y = first
    for piece in pieces:
        start = y + (piece.gap if pages[-1] else 0.0)
        if start + piece.height > bottom + _SLACK and pages[-1]:
            pages.append([])
            start = top
            for repeated in again(piece):
                pages[-1] += repeated.draw(start)
                start += repeated.height
        elif pages[-1]:
            pages[-1] += piece.over(start)
        y = start + piece.height
        if y > bottom + _SLACK:
            over = y - bottom
            raise Misfit(
                f"{piece.name or 'a piece'} is {over:.1f} mm higher than a page",
                remedy="Write it in fewer words.",
            )
        pages[-1] += piece.draw(start)
    return tuple(map(tuple, pages))


def words_piece(
    field: str,
    words: tuple[Run, ...],
    size: float,
    layout: PagedLayout,
    *,
    gap: float = 0.0,
) -> Piece:
    """A paragraph over the whole width."""

    def draw(y: float) -> Boxes:
        return (paragraph(field, words, size, x=layout.left, y=y, w=layout.wide),)

    high = paragraph(field, words, size, x=0, y=0, w=layout.wide).h
    return Piece(high, draw, gap, name=field)


def note_piece(
    note: CardNote, size: float, term_width: float, layout: PagedLayout, gap: float
) -> Piece:
    """A term, and beside it what is said of it."""
    wide = layout.wide - term_width
    term = (Run(note.term, strong=True),)

    def draw(y: float) -> Boxes:
        left = layout.left
        return (
            paragraph("term", term, size, x=left, y=y, w=term_width - 2),
            paragraph("note", note.text, size, x=left + term_width, y=y, w=wide),
        )

    one = paragraph("term", term, size, x=0, y=0, w=term_width - 2)
    other = paragraph("note", note.text, size, x=0, y=0, w=wide)
    return Piece(max(one.h, other.h), draw, gap, name=f"'{note.term}'")
