"""Every kind of print there is, as the pages and the file that come out of it.

New layouts of labels and cards join by themselves: each is taken with the heaviest load
that it carries.
"""

from collections.abc import Callable
from functools import cache, partial

from labelkit.errors import Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText, CardText
from labelkit.printing.boxes import Page
from labelkit.printing.calibration import calibration_paper
from labelkit.printing.card import place_card
from labelkit.printing.card_layout import built_in_cards, card_layout
from labelkit.printing.fit import Placement
from labelkit.printing.label import place_label
from labelkit.printing.layouts import built_in, layout_named
from labelkit.printing.notices import place_notice
from labelkit.printing.pdf import draw, draw_papers
from labelkit.printing.sheet_files import read_sheet
from labelkit.printing.weighing_sheet import place_weighing_sheet
from labelkit.printing.workshop_cover import place_cover
from tests.printing.card_texts import BLUEPRINT, BORATE, STOP_BATH
from tests.printing.notice_texts import NOTICES
from tests.printing.sheet_texts import COVER, SHEET
from tests.printing.world_loads import LOADS, load

__all__ = [
    "CARDS",
    "LABELS",
    "PRINTS",
    "card",
    "label",
    "label_in",
    "pages_of",
    "pdf_of",
    "printed",
]

LABELS = [layout.name for layout in built_in()]
CARDS = list(built_in_cards())
ROOM = Settings(room="Tern Street Print Room", profile="room")
_HEAVIEST_FIRST = tuple(reversed(LOADS))
_SIZES_mL = (250, 1000)


def label_in(
    layout: str, text: BottleText, settings: Settings = ROOM
) -> Placement | None:
    """The label of a bottle in a layout, or None where it does not fit."""
    try:
        return place_label(text, layout=layout_named(layout), settings=settings)
    except Misfit:
        return None


@cache
def label(layout: str) -> tuple[BottleText, Placement]:
    """A layout with the heaviest load that it carries, and what it says."""
    for mL in _SIZES_mL:
        for name in _HEAVIEST_FIRST:
            text = load(name, mL)
            if found := label_in(layout, text):
                return text, found
    problem = f"{layout} carries no load at all"
    raise AssertionError(problem)


@cache
def card(key: str) -> tuple[CardText, tuple[Page, Page]]:
    """A card layout with the first of some cards that it carries."""
    for text in (BORATE, BLUEPRINT, STOP_BATH):
        try:
            return text, place_card(text, layout=card_layout(key), settings=ROOM)
        except Misfit:
            continue
    problem = f"{key} carries no card at all"
    raise AssertionError(problem)


def printed(*pages: Page, mono: bool = False, tagged: bool = True) -> bytes:
    """Pages as a file, one a page of paper."""
    return draw(
        pages,
        title="Borate alkali stock, 7M3K-2QWX-Y",
        author="Tern Street Print Room",
        subject="Bottle label",
        mono=mono,
        tagged=tagged,
    )


def _calibration() -> bytes:
    paper = calibration_paper(read_sheet("a4-74x52"))
    return draw_papers(
        [paper], title="Calibration", author="Tern Street", subject="Calibration"
    )


def _label_pages(name: str) -> tuple[Page, ...]:
    return label(name)[1].pages


def _card_pages(key: str) -> tuple[Page, ...]:
    return card(key)[1]


def _notice_pages(name: str) -> tuple[Page, ...]:
    return place_notice(NOTICES[name]).pages


_PAGES: dict[str, Callable[[], tuple[Page, ...]]] = {
    **{f"label {name}": partial(_label_pages, name) for name in LABELS},
    **{f"card {key}": partial(_card_pages, key) for key in CARDS},
    **{f"notice {name}": partial(_notice_pages, name) for name in NOTICES},
    "weighing sheet": lambda: place_weighing_sheet(SHEET, settings=ROOM),
    "workshop cover": lambda: place_cover(COVER, settings=ROOM),
}
PRINTS = (*_PAGES, "calibration")


def pages_of(name: str) -> tuple[Page, ...]:
    """The placed pages of a print; none of a calibration page."""
    return _PAGES[name]() if name in _PAGES else ()


@cache
def pdf_of(name: str) -> bytes:
    """The file of a print."""
    return printed(*pages_of(name)) if name in _PAGES else _calibration()
