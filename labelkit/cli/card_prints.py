"""Mixing cards as PDF, one a page or laid on sheets printed on both sides."""

from collections.abc import Iterable, Sequence

from msgspec import Struct

from labelkit.chemistry.numbers import quoted
from labelkit.cli.sheet_choice import ONE_A_PAGE, job_for, sheet_for
from labelkit.cli.workplace import Workplace
from labelkit.errors import LabelkitError
from labelkit.mixing.words import CardText
from labelkit.printing.boxes import Page
from labelkit.printing.card_layout import CardLayout
from labelkit.printing.papers import Paper, Placed

__all__ = [
    "CardOrder",
    "Laid",
    "card_pdf",
    "card_sides",
    "cards_drawn",
    "laid",
    "sides_laid",
]

Sides = tuple[Page, Page]


class CardOrder(Struct, frozen=True):
    """How cards are wanted.

    Attributes:
        layout: a card layout's name.
        sheet: a sheet's name; "" for one card a page.
        skip: slots of the first sheet that are already used.
        copies: how often every card is printed.
        flip: ``long`` or ``short``, the edge over which the printer turns the paper.
    """

    layout: str = "a5"
    sheet: str = ""
    skip: int = 0
    copies: int = 1
    flip: str = "long"


class Laid(Struct, frozen=True):
    """Cards on their papers, fronts before backs.

    Attributes:
        slots: which slots of a sheet they use; "" for one card a page.
        other: that another sheet was taken than the named one; else "".
    """

    papers: tuple[Paper, ...]
    slots: str = ""
    other: str = ""


def card_pdf(place: Workplace, cards: Sequence[CardText], order: CardOrder) -> bytes:
    """Cards as PDF, as `card_sides` places and `laid` lays them."""
    return cards_drawn(place, cards, laid(place, cards, order))


def cards_drawn(place: Workplace, cards: Sequence[CardText], papers: Laid) -> bytes:
    """The PDF of cards that lie on their papers."""
    from labelkit.printing.pdf import draw_papers

    return draw_papers(
        papers.papers,
        title=f"{', '.join(dict.fromkeys(c.name for c in cards))}, mixing card",
        author=place.settings.room,
        subject="Mixing card",
        mono=place.settings.mono,
        tagged=not papers.slots,
    )


def card_sides(
    place: Workplace, cards: Iterable[CardText], layout: str
) -> tuple[Sides, ...]:
    """Front and back of every card, placed.

    Raises:
        Unknown: there is no such layout.
        Misfit: the words of a card do not fit it; the remedy says what would do.
    """
    from labelkit.printing.card import place_card

    chosen, settings = _layout(place, layout), place.settings

    def placed(card: CardText) -> Sides:
        try:
            return place_card(card, layout=chosen, settings=settings)
        except LabelkitError as error:
            raise error.at(quoted(card.name)) from None

    return tuple(map(placed, cards))


def laid(place: Workplace, cards: Iterable[CardText], order: CardOrder) -> Laid:
    """Cards placed and laid on papers.

    Raises:
        Unknown: there is no such layout or sheet.
        BadInput: more slots are skipped than the sheet has.
        Misfit: a card does not fit its layout, or its size no sheet.
    """
    return sides_laid(place, card_sides(place, cards, order.layout), order)


def sides_laid(place: Workplace, sides: Sequence[Sides], order: CardOrder) -> Laid:
    """Placed cards of one size laid on papers; raises as `laid` does."""
    from labelkit.printing.sheets import impose_duplex, slots_used

    if order.sheet in ("", ONE_A_PAGE):
        pages = [page for card in sides for page in card] * order.copies
        return Laid(tuple(Paper(p.width, p.height, (Placed(p),)) for p in pages))
    front = sides[0][0]
    sheet, other = sheet_for(place, order.sheet, front.width, front.height, what="card")
    job = job_for(place.settings, skip=order.skip, copies=order.copies, flip=order.flip)
    papers = tuple(impose_duplex(sides, sheet, job))
    slots = slots_used(sheet, job, len(sides))
    over = f"print on both sides, turned over the {order.flip} edge"
    return Laid(papers, f"{sheet.name}: {slots}; {over}", other)


def _layout(place: Workplace, name: str) -> CardLayout:
    from labelkit.printing.card_layout import card_layout

    own = place.own_layouts.cards()
    return own[name] if name in own else card_layout(name)
