"""The batches as a list: a line for each, newest first."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct

from labelkit.mixing.dates import is_past, last_moment
from labelkit.mixing.found import found_line, is_found
from labelkit.mixing.ports import Record, Standing
from labelkit.pages.addresses import batch_folder
from labelkit.pages.bottles import for_the_clock

__all__ = ["BatchLine", "Dates", "batch_line", "dates_of"]

Dates = Mapping[str, tuple[str | None, ...]]


class BatchLine(Struct, frozen=True):
    """One batch in a list.

    Attributes:
        folder: of its page, from the front.
        says: the headline with its substance; "" where the words cannot be read.
        signal: DANGER, WARNING or "".
        discard: the earliest date of its bottles; "" where none is known.
        machine: the same for the badge.
        bottles: how many still stand; 0 where all are discarded.
        mark: SHARED, ASK NAME, HOLD or "".
        found: whether it is a bottle that was found and nobody knows.
        past: whether the date has passed; None where the page does not know the day.
    """

    number: str
    folder: str
    recipe: str
    title: str
    part: str
    says: str
    signal: str
    mixed: str
    by: str
    discard: str
    machine: str
    bottles: int
    mark: str = ""
    found: bool = False
    past: bool | None = None


def dates_of(standing: Iterable[Standing]) -> Dates:
    """The discard dates of the bottles that stand, by batch number."""
    found: dict[str, list[str | None]] = {}
    for bottle in standing:
        found.setdefault(bottle.number, []).append(bottle.discard_after)
    return {number: tuple(dates) for number, dates in found.items()}


def batch_line(
    record: Record, dates: Sequence[str | None], now: datetime | None = None
) -> BatchLine:
    """The line of a batch; only what it needs of the frozen words is looked at.

    Args:
        record: the batch.
        dates: of its bottles that stand.
        now: what the date is compared with; None where the page is kept.
    """
    page = _mapping(record.data.get("words"), "page")
    headline, hazard = _mapping(page, "headline"), _mapping(page, "hazard")
    earliest = for_the_clock(min(dates or (record.discard_after,), key=last_moment))
    found = is_found(record)
    return BatchLine(
        number=record.number,
        folder=batch_folder(record.number),
        recipe=record.recipe,
        title=record.title,
        part=str(_mapping(page, "part").get("letter", "")),
        says=found_line(record) if found else _in_a_line(headline),
        signal=_told(hazard, "signal"),
        mixed=f"{record.mixed_on:%Y-%m-%d}",
        by=record.made_by,
        discard=earliest.replace("T", " "),
        machine=earliest,
        bottles=len(dates),
        mark=_told(page, "use_mark"),
        found=found,
        past=None if now is None or not earliest else is_past(earliest, now),
    )


def _mapping(value: Any, key: str) -> Mapping[str, Any]:
    inner = value.get(key) if isinstance(value, Mapping) else None
    return inner if isinstance(inner, Mapping) else {}


def _told(words: Mapping[str, Any], *keys: str) -> str:
    return " ".join(str(words[key]) for key in keys if words.get(key))


def _in_a_line(headline: Mapping[str, Any]) -> str:
    """``20 mL = 1 g sodium metaborate``, or ``1 + 9: developer + water``."""
    text, of = _told(headline, "text"), _told(headline, "substance", "hydrate")
    between = " " if headline.get("kind") == "equivalence" else ": "
    return f"{text}{between}{of}" if of else text
