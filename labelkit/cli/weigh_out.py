"""Weighing-out sheets as PDF: one batch each, with room to write what was read."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from labelkit.chemistry.amounts import Amount
from labelkit.chemistry.numbers import quoted
from labelkit.cli.workplace import Workplace
from labelkit.errors import LabelkitError
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.weighing_sheet import WeighingText, weighing_text

if TYPE_CHECKING:
    from labelkit.printing.boxes import Page

__all__ = ["sheet_pages", "weighing_of", "weighing_pdf"]


def weighing_of(
    place: Workplace, recipe: Recipe, make: Amount | None, *, whom: str = ""
) -> WeighingText:
    """The words of the sheet for one batch of a recipe."""
    plan = place.plan(recipe, make)
    handbook = place.handbook(recipe)
    return weighing_text(plan, handbook, place.settings, place.jars, whom=whom)


def weighing_pdf(place: Workplace, texts: Sequence[WeighingText]) -> bytes:
    """The sheets one after the other.

    Raises:
        Misfit: a word or a step does not fit on a page.
    """
    from labelkit.printing.pdf import draw

    settings = place.settings
    pages = [page for text in texts for page in sheet_pages(place, text)]
    return draw(
        pages,
        title=f"{', '.join(dict.fromkeys(t.name for t in texts))}, weighing-out sheet",
        author=settings.room,
        subject="Weighing-out sheet",
        mono=settings.mono,
    )


def sheet_pages(place: Workplace, text: WeighingText) -> "tuple[Page, ...]":
    """The pages of one sheet; raises as `weighing_pdf` does, naming the solution."""
    from labelkit.printing.weighing_sheet import place_weighing_sheet

    try:
        return place_weighing_sheet(text, settings=place.settings)
    except LabelkitError as error:
        raise error.at(quoted(text.name)) from None
