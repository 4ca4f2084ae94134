"""That a card, once placed, says everything it must."""

from collections.abc import Iterable, Iterator

from labelkit.errors import Misfit
from labelkit.mixing.words import CardText
from labelkit.printing.boxes import Code, Page, Symbol
from labelkit.printing.card_layout import CardLayout
from labelkit.printing.card_warning import no_pictogram_words
from labelkit.printing.foot import DO_NOT_DRINK
from labelkit.printing.headline import is_in_name
from labelkit.printing.said import hazard_words, is_said, text_of
from labelkit.printing.typeset import plain

__all__ = ["require_whole"]


def require_whole(text: CardText, front: Page, back: Page, layout: CardLayout) -> None:
    """Refuse a card that leaves off what it must say.

    Raises:
        Misfit: naming every word that is missing.
    """
    left_off = [
        *_left_off(_front_words(text, layout), front),
        *_left_off(_back_words(text, layout), back),
        *(code for page in (front, back) for code in _symbols_left_off(text, page)),
    ]
    if text.code not in [box.payload for box in back.boxes if isinstance(box, Code)]:
        left_off.append("the code")
    if left_off:
        raise Misfit(f"it leaves off {'; '.join(dict.fromkeys(left_off))}")


def _left_off(words: Iterable[str], page: Page) -> list[str]:
    said = text_of(page)
    return [told for told in words if told and not is_said(told, said)]


def _symbols_left_off(text: CardText, page: Page) -> list[str]:
    shown = {box.code for box in page.boxes if isinstance(box, Symbol)}
    return [item.code for item in text.hazard.pictograms if item.code not in shown]


def _on_both(text: CardText) -> Iterator[str]:
    yield from (text.name, DO_NOT_DRINK, text.emergency, text.hazard.signal)
    if text.part:
        yield text.part.letter


def _front_words(text: CardText, layout: CardLayout) -> Iterator[str]:
    headline, hazard = text.headline, text.hazard
    yield from _on_both(text)
    yield from (headline.text, headline.beside, text.summary)
    if not is_in_name(headline, text.name):
        yield from (headline.substance, headline.hydrate)
    if text.part:
        yield from (text.part.goes_with, text.part.ratio)
    if hazard.none_reached and not hazard.statements:
        yield no_pictogram_words(hazard)
    if layout.columns:
        yield from (column.quantity for column in text.columns)
        yield from _step_words(text)


def _step_words(text: CardText) -> Iterator[str]:
    for row in text.rows:
        yield from (plain(row.what), row.detail, row.caution)
        yield from (cell.text for cell in row.amounts)


def _back_words(text: CardText, layout: CardLayout) -> Iterator[str]:
    yield from _on_both(text)
    yield from hazard_words(text.hazard)
    yield from (plain(text.first_words), text.never_with, text.aid_full)
    if layout.back["notes"].width:
        for note in (note for note in text.notes if not note.gives_way):
            yield from (note.term, plain(note.text))
