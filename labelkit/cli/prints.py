"""Labels and cards as PDF: the words of a batch handed to the printing room."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from labelkit.cli.sheet_choice import ONE_A_PAGE
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, LabelkitError, Misfit, ShelfError
from labelkit.mixing.found import found_notice, is_found, room_of_found
from labelkit.mixing.ports import Record
from labelkit.mixing.record import bottle_texts, page_text
from labelkit.mixing.supplier import supplied
from labelkit.mixing.words import BottleText
from labelkit.printing.boxes import Page
from labelkit.printing.fit import Placement
from labelkit.printing.label import place_label
from labelkit.printing.layouts import layout_named

__all__ = [
    "BottleWords",
    "LabelOrder",
    "label_pdf",
    "layout_for",
    "pages_pdf",
    "placements",
    "words_of",
    "write",
]


class LabelOrder(Struct, frozen=True):
    """How labels are wanted.

    Attributes:
        layout: a layout's name; "" for the one first printed, else the smallest.
        sheet: a sheet's name; "" for one label a page.
        volume_mL: another bottle's volume; None for the bottle's own.
        small_pack: without what a small pack may lawfully leave off.
        codes: with the code of each statement.
    """

    layout: str = ""
    sheet: str = ""
    skip: int = 0
    copies: int = 1
    volume_mL: Decimal | None = None
    small_pack: bool = False
    codes: bool = False


class BottleWords(Struct, frozen=True):
    """What the label of one bottle says.

    Attributes:
        bottle: which of the batch's bottles, from 1.
        layout: the layout it is wanted in; "" for the smallest.
        left_off: what a small pack leaves off and by which rule; "" for nothing.
    """

    bottle: int
    text: BottleText
    layout: str = ""
    left_off: str = ""


def layout_for(
    place: Workplace, words: BottleText, beside: tuple[BottleText, ...] = ()
) -> str:
    """The layout that takes a bottle's words, "" where none does or one has faults.

    Args:
        place: for the settings and the bench's own layouts.
        words: of the label.
        beside: those of the other parts of its set.
    """
    try:
        return _placed(place, words, "", beside).layout
    except LabelkitError:
        return ""


def placements(
    place: Workplace,
    record: Record,
    bottle: int | None,
    order: LabelOrder,
    passing: "Callable[[Iterable[BottleWords]], Iterator[BottleWords]]" = iter,
) -> list[Placement]:
    """The label of one bottle of a batch, or of all where none is named.

    Args:
        place: for the settings and the bench's own layouts.
        record: the batch.
        bottle: which of its bottles, from 1; None for all.
        order: how the labels are wanted.
        passing: the bottles go through it one by one, so that progress can be shown.

    Raises:
        Misfit: the words do not fit; the remedy names a layout that carries them.
    """
    if is_found(record):
        return [_found_label(record, order)]
    return [
        label
        for words in passing(words_of(place, record, bottle, order))
        for label in _with_its_cap(place, words)
    ]


def words_of(
    place: Workplace, record: Record, bottle: int | None, order: LabelOrder
) -> list[BottleWords]:
    """The words of one bottle of a batch, or of all; none of one that was found.

    Raises:
        BadInput: it is no small pack, or may leave nothing off; or it is supplied by
            nobody that could be named.
    """
    if is_found(record):
        return []
    texts = bottle_texts(record)
    chosen = [bottle] if bottle else range(1, len(texts) + 1)
    return [_words(place, record, n, texts[n - 1], order) for n in chosen]


def _words(
    place: Workplace, record: Record, n: int, text: BottleText, order: LabelOrder
) -> BottleWords:
    layout = order.layout or record.data["layouts"][n - 1]
    hazard = record.data["answer"]["hazard"]
    kept, text = text, supplied(text, place.settings)
    if order.volume_mL is not None:
        text = replace(text, volume_mL=order.volume_mL)
    if order.codes:
        from labelkit.mixing.small_label import with_codes

        text = with_codes(text, hazard)
    left_off = ""
    if order.small_pack:
        from labelkit.mixing.small_label import small_pack

        for_public = place.settings.profile == "supply"
        text, left_off = small_pack(text, hazard, for_public=for_public)
    asked = order.volume_mL is not None or order.codes or order.small_pack
    changed = asked or text.supplier != kept.supplier
    return BottleWords(n, text, order.layout if changed else layout, left_off)


def _with_its_cap(place: Workplace, words: BottleWords) -> list[Placement]:
    """A bottle's label, and what goes on the glass itself where the label hangs."""
    label = _placed(place, words.text, words.layout)
    also = layout_named(label.layout, place.layouts).also
    if not also:
        return [label]
    try:
        return [label, _placed(place, words.text, also)]
    except Misfit as misfit:
        told = f"no {also} with it: {misfit.faults[0].problem}"
        return [replace(label, steps=(*label.steps, told))]


def label_pdf(
    place: Workplace,
    labels: Sequence[Placement],
    order: LabelOrder,
    records: Sequence[Record],
) -> tuple[bytes, str]:
    """The labels of some batches as PDF, and which slots of a sheet they use."""
    about = {
        "title": f"{', '.join(f'{r.title} {r.number}' for r in records)}, bottle label",
        "author": _room(records[0]),
        "subject": "Bottle label",
    }
    pages = [page for label in labels for page in label.pages]
    return pages_pdf(place, pages, order, about)


def pages_pdf(
    place: Workplace, pages: Sequence[Page], order: LabelOrder, about: Mapping[str, str]
) -> tuple[bytes, str]:
    """Placed labels as PDF, and which slots of a sheet they use.

    Args:
        place: for the settings and the bench's own sheets.
        pages: the labels.
        order: the sheet, the slots used up and the copies.
        about: title, author and subject of the document.
    """
    from labelkit.printing.pdf import draw, draw_papers

    settings = place.settings
    about_it: dict[str, Any] = {**about, "mono": settings.mono}
    name = order.sheet or settings.sheet
    if name in ("", ONE_A_PAGE):
        return draw([*pages] * order.copies, **about_it), ""
    from labelkit.cli.label_papers import laid

    papers, used = laid(place, pages, name, skip=order.skip, copies=order.copies)
    return draw_papers(papers, tagged=False, **about_it), used


def write(path: Path, content: bytes) -> None:
    """Write a file whole, its folder too where it is missing.

    Raises:
        ShelfError: the folder cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    except OSError as error:
        raise ShelfError(
            f"cannot be written: {error.strerror or error}",
            place=str(path),
            remedy="Name another file with -o, or free the folder.",
        ) from None


def _room(record: Record) -> str:
    """The room as it was called when the bottle was filled or found."""
    return room_of_found(record) if is_found(record) else page_text(record).room


def _found_label(record: Record, order: LabelOrder) -> Placement:
    """UNKNOWN once more: the same words in the same boxes.

    Raises:
        BadInput: another label is asked for.
    """
    from labelkit.printing.notices import place_notice

    if order.layout or order.volume_mL or order.small_pack or order.codes:
        raise BadInput(
            f"the label of {record.number}, UNKNOWN, has one size and one wording",
            remedy="Leave --layout, --bottle, --small-pack and --codes out.",
        )
    return place_notice(found_notice(record))


def _placed(
    place: Workplace,
    words: BottleText,
    layout: str,
    beside: tuple[BottleText, ...] = (),
) -> Placement:
    own = place.layouts
    chosen = layout_named(layout, own) if layout else None
    return place_label(
        words, layout=chosen, settings=place.settings, own=own, beside=beside
    )
