"""One batch on the terminal: what stands in the bottle, and what happened to it."""

import textwrap
from collections.abc import Iterator, Sequence

from labelkit.mixing.ports import Event, Record
from labelkit.mixing.record import page_text
from labelkit.mixing.said import NBSP
from labelkit.mixing.words import PageText, Words

__all__ = ["batch_as_text"]

WIDTH = 78
TERM = 12


def batch_as_text(record: Record, events: Sequence[Event]) -> str:
    """A kept batch in words, 78 wide."""
    page = page_text(record)
    blocks = [
        "\n".join(_head(page)),
        "\n".join(_facts(page)),
        "\n".join(_weighed(page)),
        "\n".join(_hazard(page)),
        "\n".join(_happened(events)),
        textwrap.fill(page.aid_full, WIDTH),
    ]
    return "\n\n".join(block for block in blocks if block).replace(NBSP, " ")


def _head(page: PageText) -> Iterator[str]:
    part = f" {page.part.letter}" if page.part else ""
    yield f"{page.name}{part}   {page.number}"
    yield "=" * WIDTH
    headline = page.headline
    told = (headline.text, headline.substance, headline.hydrate, *page.strength)
    yield "   ".join(word for word in told if word)
    yield page.made
    off = f" {page.off_when}" if page.off_when else ""
    yield f"{page.discard_label} {page.discard}{off}".strip()
    if page.use_mark:
        yield page.use_mark
    yield "DO NOT DRINK"


def _facts(page: PageText) -> Iterator[str]:
    contents = ", ".join(
        f"{content.name} {content.g_per_L or content.percent_ww}"
        for content in page.contents
    )
    yield _fact("Holds", contents)
    for equation in page.equations:
        yield _fact("Reaction", equation)
    for estimate in page.estimates:
        yield _fact("", estimate)
    if len(page.bottles) > 1:
        yield _fact("Bottles", ", ".join(page.bottles))
    for remark in page.remarks:
        yield _fact("Look out", remark)


def _weighed(page: PageText) -> Iterator[str]:
    yield f"{'step':>4}  {'':<34}{'planned':>14}{'read':>22}"
    for weighing in page.weighings:
        read = weighing.read or "planned, not read"
        yield f"{weighing.step:>4}  {weighing.what:<34}{weighing.planned:>14}{read:>22}"


def _hazard(page: PageText) -> Iterator[str]:
    hazard = page.hazard
    if hazard.none_reached:
        yield textwrap.fill(_plain(hazard.none_reached), WIDTH)
    else:
        pictograms = ", ".join(pictogram.word for pictogram in hazard.pictograms)
        yield f"{hazard.signal}   {pictograms}".strip()
        told = [hazard.alert, *hazard.statements, hazard.contains, *hazard.open_points]
        yield textwrap.fill(" ".join(word for word in told if word), WIDTH)
        precautions = " ".join(_plain(words) for words in hazard.precautions)
        yield textwrap.fill(precautions, WIDTH)
    yield textwrap.fill(_plain(page.first_words), WIDTH)
    if page.emergency:
        yield f"Call {page.emergency}"
    if page.never_with:
        yield page.never_with


def _happened(events: Sequence[Event]) -> Iterator[str]:
    for event in events:
        bottle = f"bottle {event.bottle} " if event.bottle else ""
        amount = f" {event.amount_mL} mL" if event.amount_mL else ""
        by = f" by {event.by}" if event.by else ""
        note = f": {event.note}" if event.note else ""
        yield f"{event.at:%Y-%m-%d %H:%M}  {bottle}{event.what}{amount}{by}{note}"


def _fact(term: str, text: str) -> str:
    return textwrap.fill(
        text, WIDTH, initial_indent=f"{term:<{TERM}}", subsequent_indent=" " * TERM
    )


def _plain(words: Words) -> str:
    return "".join(run.text for run in words)
