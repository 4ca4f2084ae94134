"""One batch on the terminal: what stands in the bottle, and what happened to it."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from labelkit.cli.found_text import found_words
from labelkit.cli.hazard_block import hazard_block
from labelkit.cli.words import WIDE_TERM, WIDTH, fact, filled
from labelkit.mixing.found import is_found
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.record import page_text
from labelkit.mixing.said import NBSP
from labelkit.mixing.standing import standings, told
from labelkit.mixing.state_text import happened, marks, numbers_told
from labelkit.mixing.words import PageText

__all__ = ["batch_as_text"]

MOMENT = len("2031-03-14 18:05  ")


def batch_as_text(record: Record, events: Sequence[Event], at: datetime) -> str:
    """A kept batch in words, 78 wide.

    Args:
        record: of the batch, or of a bottle that was found.
        events: what happened to it.
        at: the moment that its dates are compared with.
    """
    now = "\n".join(_now(record, events, at))
    if is_found(record):
        told = [*found_words(record), now, "\n".join(_happened(events))]
        return "\n\n".join(block for block in told if block).replace(NBSP, " ")
    page = page_text(record)
    blocks = [
        "\n".join(_head(page)),
        now,
        "\n".join(_facts(page)),
        "\n".join(_weighed(page)),
        "\n".join(_hazard(page)),
        "\n".join(_cautions(page)),
        "\n".join(_happened(events)),
        filled(page.aid_full),
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
    yield fact("Holds", contents)
    for equation in page.equations:
        yield fact("Reaction", equation)
    for estimate in page.estimates:
        yield fact("", estimate)
    if len(page.bottles) > 1:
        yield fact("Bottles", ", ".join(page.bottles))
    for remark in page.remarks:
        yield fact("Look out", remark)


def _weighed(page: PageText) -> Iterator[str]:
    yield f"{'step':>4}  {'':<34}{'planned':>14}{'read':>22}"
    for weighing in page.weighings:
        read = weighing.read or "planned, not read"
        yield f"{weighing.step:>4}  {weighing.what:<34}{weighing.planned:>14}{read:>22}"


def _hazard(page: PageText) -> Iterator[str]:
    return hazard_block(page.hazard, page.first_words, page.emergency, page.never_with)


def _cautions(page: PageText) -> Iterator[str]:
    for caution in page.handling:
        yield fact(caution.term, caution.text, WIDE_TERM)


def _now(record: Record, events: Sequence[Event], at: datetime) -> Iterator[str]:
    """Each bottle as it stands; those that stand alike in one line."""
    alike: dict[str, list[int]] = {}
    for state in standings(record, events):
        past = "".join(f"{m}. " for m in marks(state, at) if m.startswith("PAST"))
        alike.setdefault(f"{past}{told(state)}", []).append(state.bottle)
    for words, bottles in alike.items():
        several = f"Bottle {numbers_told(bottles)}: " if record.bottles > 1 else ""
        yield fact("Now", f"{several}{words}")


def _happened(events: Sequence[Event]) -> Iterator[str]:
    for event in events:
        bottle = f"bottle {event.bottle} " if event.bottle else ""
        by = f" by {event.by}" if event.by else ""
        note = f": {event.note}" if event.note else ""
        said = f"{bottle}{happened(event)}{by}{note}"
        yield fact(f"{event.at:%Y-%m-%d %H:%M}", said, MOMENT)
