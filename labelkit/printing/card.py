"""A mixing card, front and back, placed from its words and a layout."""

from collections.abc import Callable, Iterator

from msgspec.structs import replace

from labelkit.errors import Fault, Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import CardRow, CardText
from labelkit.printing.boxes import Page
from labelkit.printing.card_back import place_back
from labelkit.printing.card_front import place_front
from labelkit.printing.card_layout import CardLayout, built_in_cards, card_layout
from labelkit.printing.card_whole import require_whole
from labelkit.printing.said import printable
from labelkit.printing.symbols import SymbolStyle

__all__ = ["place_card"]

# What no other card mends: the field, and what it is called in the recipe.
_SHORTER = {"name": "title", "goes_with": "ratio", "emergency": "emergency number"}


def place_card(
    text: CardText, *, layout: CardLayout, settings: Settings
) -> tuple[Page, Page]:
    """Front and back of a card.

    Nothing is clipped, nothing is set under its smallest size, and no statement is
    left out.

    Raises:
        BadInput: the printed type does not have a character, and where that stands.
        Misfit: what does not fit, and which size or how many batch sizes would do.
    """
    text = printable(text)
    try:
        return _place(text, layout, settings)
    except Misfit as misfit:
        remedy = _remedy(text, layout, settings, misfit.faults[0].place)
        raise Misfit.of(
            Fault(fault.place, fault.problem, remedy).at(f"card {layout.key}")
            for fault in misfit.faults
        ) from None


def _place(text: CardText, layout: CardLayout, settings: Settings) -> tuple[Page, Page]:
    front_style = _style(layout.front["pictograms"].pt, settings)
    back_style = _style(layout.back["hazard"].small, settings)
    front = place_front(text, layout, front_style)
    back = place_back(text, layout, back_style)
    require_whole(text, front, back, layout)
    return front, back


def _style(word_pt: float, settings: Settings) -> SymbolStyle:
    frame = "black" if settings.mono else "red"
    return SymbolStyle(frame, settings.draws_keyline and not settings.mono, word_pt)


def _remedy(text: CardText, layout: CardLayout, settings: Settings, field: str) -> str:
    """What a person can do: fewer batch sizes, a larger card, else two cards."""

    def fits(told: CardText, on: CardLayout) -> bool:
        try:
            _place(told, on, settings)
        except Misfit:
            return False
        return True

    fewer, larger = _fewer(text, layout, fits), _larger(text, layout, fits)
    ways = [way for way in (fewer, larger) if way]
    if ways:
        said = ", or ".join(ways)
        return f"{said[:1].upper()}{said[1:]}."
    if field in _SHORTER:
        return f"Write a shorter {_SHORTER[field]}."
    return (
        "Make two cards: give a part of the steps a recipe of their own; or print "
        "--weigh-out, which takes as many pages as it needs."
    )


_Fits = Callable[[CardText, CardLayout], bool]


def _fewer(text: CardText, layout: CardLayout, fits: _Fits) -> str:
    for count in range(len(text.columns) - 1, 0, -1):
        if fits(_with_columns(text, count), layout):
            return f"ask for {count} batch size{'s' if count > 1 else ''} with --make"
    return ""


def _larger(text: CardText, layout: CardLayout, fits: _Fits) -> str:
    for larger in _larger_layouts(layout):
        if fits(text, larger):
            return f"use --layout {larger.key}"
    return ""


def _larger_layouts(layout: CardLayout) -> Iterator[CardLayout]:
    known = sorted(map(card_layout, built_in_cards()), key=_area)
    yield from (other for other in known if _area(other) > _area(layout))


def _area(layout: CardLayout) -> float:
    return layout.width * layout.height


def _with_columns(text: CardText, count: int) -> CardText:
    def narrowed(row: CardRow) -> CardRow:
        return replace(row, amounts=row.amounts[:count])

    return replace(
        text, columns=text.columns[:count], rows=tuple(map(narrowed, text.rows))
    )
