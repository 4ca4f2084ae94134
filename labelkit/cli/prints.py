"""Labels and cards as PDF: the words of a batch handed to the printing room."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from labelkit.cli.workplace import Workplace
from labelkit.errors import LabelkitError, Misfit, ShelfError
from labelkit.mixing.ports import Record
from labelkit.mixing.record import bottle_texts, page_text
from labelkit.mixing.words import BottleText, CardText
from labelkit.printing.fit import Placement
from labelkit.printing.label import place_label
from labelkit.printing.layouts import layout_named
from labelkit.printing.sheets import Sheet

__all__ = ["LabelOrder", "card_pdf", "label_pdf", "layout_for", "placements", "write"]


@dataclass(frozen=True, slots=True)
class LabelOrder:
    """How labels are wanted.

    Attributes:
        layout: a layout's name; "" for the one first printed, else the smallest.
        sheet: a sheet's name; "" for one label a page.
        volume_mL: another bottle's volume; None for the bottle's own.
    """

    layout: str = ""
    sheet: str = ""
    skip: int = 0
    copies: int = 1
    volume_mL: Decimal | None = None


def layout_for(place: Workplace, words: BottleText) -> str:
    """The layout that takes a bottle's words, "" where none does or one has faults."""
    try:
        return _placed(place, words, "").layout
    except LabelkitError:
        return ""


def placements(
    place: Workplace, record: Record, bottle: int | None, order: LabelOrder
) -> list[Placement]:
    """The label of one bottle of a batch, or of all where none is named.

    Raises:
        Misfit: the words do not fit; the remedy names a layout that carries them.
    """
    texts = bottle_texts(record)
    chosen = [bottle] if bottle else range(1, len(texts) + 1)
    first_printed = record.data["layouts"]
    placed = []
    for n in chosen:
        words = texts[n - 1]
        if order.volume_mL is not None:
            words = replace(words, volume_mL=order.volume_mL)
        layout = order.layout or ("" if order.volume_mL else first_printed[n - 1])
        placed.append(_placed(place, words, layout))
    return placed


def label_pdf(
    place: Workplace,
    labels: Sequence[Placement],
    order: LabelOrder,
    records: Sequence[Record],
) -> tuple[bytes, str]:
    """The labels of some batches as PDF, and which slots of a sheet they use."""
    from labelkit.printing.pdf import draw, draw_papers
    from labelkit.printing.sheets import Job, impose, slots_used

    settings = place.settings
    pages = [label.page for label in labels]
    about: dict[str, Any] = {
        "title": f"{', '.join(f'{r.title} {r.number}' for r in records)}, bottle label",
        "author": page_text(records[0]).room,  # as it was when it was mixed
        "subject": "Bottle label",
        "mono": settings.mono,
    }
    name = order.sheet or settings.sheet
    if not name or name == "single":
        return draw(pages * order.copies, **about), ""
    sheet, told = _sheet(place, name, pages[0].width, pages[0].height)
    job = Job(
        order.skip,
        order.copies,
        _floats(settings.nudge_mm),
        _floats(settings.nudge_back_mm),
        _floats(settings.scale),
    )
    used = f"{told}{sheet.name}: {slots_used(sheet, job, len(pages))}"
    return draw_papers(impose(pages, sheet, job), tagged=False, **about), used


def card_pdf(place: Workplace, cards: Sequence[CardText], layout: str) -> bytes:
    """Cards as PDF, front and back one after the other."""
    from labelkit.printing.card import place_card
    from labelkit.printing.card_layout import card_layout
    from labelkit.printing.pdf import draw

    settings = place.settings
    chosen = place.own_layouts.cards().get(layout) or card_layout(layout)
    pages = [
        page
        for card in cards
        for page in place_card(card, layout=chosen, settings=settings)
    ]
    return draw(
        pages,
        title=", ".join(card.name for card in cards) + ", mixing card",
        author=settings.room,
        subject="Mixing card",
        mono=settings.mono,
    )


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


def _placed(place: Workplace, words: BottleText, layout: str) -> Placement:
    own = place.layouts
    chosen = layout_named(layout, own) if layout else None
    return place_label(words, layout=chosen, settings=place.settings, own=own)


def _sheet(
    place: Workplace, name: str, width: float, height: float
) -> tuple[Sheet, str]:
    """The sheet of that name, or the one of the label's size where it does not fit."""
    from labelkit.printing.sheet_files import read_sheet, sheet_name

    sheet = place.own_layouts.sheets().get(name) or read_sheet(name)
    if sheet.holds(width, height):
        return sheet, ""
    other = sheet_name(place.settings.paper, width, height)
    if not other:
        raise Misfit(
            f"a label of {width:g} x {height:g} mm does not fit sheet {name}",
            remedy="Print one label a page: leave --sheet out.",
        )
    return read_sheet(other), f"{name} does not fit this label; "


def _floats(pair: tuple[Decimal, Decimal]) -> tuple[float, float]:
    return float(pair[0]), float(pair[1])
