"""The frozen record of a batch: plain JSON, made once and read for ever after."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from labelkit.errors import ShelfError
from labelkit.mixing.answers import batch_json
from labelkit.mixing.batch import Batch
from labelkit.mixing.bench import Settings
from labelkit.mixing.dates import Day, written
from labelkit.mixing.doses import Stock
from labelkit.mixing.ledger import Ledger
from labelkit.mixing.plain import from_plain, to_plain
from labelkit.mixing.ports import Record
from labelkit.mixing.words import BottleText, PageText

__all__ = [
    "RULES_VERSION",
    "bottle_texts",
    "freeze",
    "page_text",
    "stock_from",
]

# The day up to which the rules and the harmonised entries were read.
RULES_VERSION = "2026-11-25"
FORMAT = 1


def freeze(
    batch: Batch,
    settings: Settings,
    *,
    chemicals: Sequence[Mapping[str, Any]],
    choices: Mapping[str, str],
    bottles: Sequence[BottleText],
    layouts: Sequence[str],
    page: PageText,
) -> Record:
    """A batch as it is kept for good.

    Args:
        batch: worked out from the weights as read.
        settings: of the bench.
        chemicals: the entries it used, as tables.
        choices: which form each unclear word of the recipe was settled to mean.
        bottles: the words of each bottle's label.
        layouts: the layout each label was set in, "" where none took it.
        page: the words of its record page.
    """
    plan = batch.plan
    data = {
        "format": FORMAT,
        "rules": RULES_VERSION,
        "recipe": {
            "name": plan.recipe.name,
            "title": plan.recipe.title,
            "revision": plan.recipe.revision,
            "part": plan.recipe.part,
            "document": plan.recipe.document,
            "choices": dict(choices),
        },
        "chemicals": to_plain(chemicals),
        "answer": batch_json(batch, settings),
        "ledger": to_plain(plan.solution.ledger),
        "volume_mL": to_plain(plan.job.volume_mL),
        "words": {
            "bottles": to_plain(tuple(bottles)),
            "page": to_plain(page),
        },
        "layouts": list(layouts),
    }
    return Record(
        number=batch.number,
        recipe=plan.recipe.name,
        title=plan.recipe.title,
        mixed_on=batch.mixed_on,
        made_by=batch.made_by,
        discard_after=written(plan.discard_after),
        bottles=len(batch.bottles_mL),
        data=data,
    )


def bottle_texts(record: Record) -> tuple[BottleText, ...]:
    """The words of each bottle's label, as they were first printed."""
    words = record.data["words"]["bottles"]
    return tuple(from_plain(BottleText, bottle) for bottle in words)


def page_text(record: Record) -> PageText:
    """The words of the record page."""
    return from_plain(PageText, record.data["words"]["page"])


def stock_from(record: Record) -> Stock:
    """What the batch is to a recipe that takes it by the mL.

    Raises:
        ShelfError: it was made by mass, so no volume of it is known.
    """
    volume = record.data["volume_mL"]
    if volume is None:
        raise ShelfError(
            f"{record.number} was made by mass, so no mL of it can be poured",
            remedy="Name a batch of a solution.",
        )
    return Stock(
        record.recipe,
        record.title,
        from_plain(Ledger, record.data["ledger"]),
        Decimal(volume),
        batch=record.number,
        part=record.data["recipe"]["part"],
        discard_after=_day(record.discard_after),
    )


def _day(text: str | None) -> Day | None:
    """A day or a moment as it is kept."""
    if text is None:
        return None
    timed = len(text) > len("2032-03-14")
    return datetime.fromisoformat(text) if timed else date.fromisoformat(text)
