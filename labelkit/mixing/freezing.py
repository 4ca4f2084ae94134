"""Freezing a batch: its record as plain JSON, made once and kept for good."""

from collections.abc import Mapping, Sequence
from typing import Any

from labelkit.mixing.answers import batch_json
from labelkit.mixing.batch import Batch
from labelkit.mixing.bench import Settings
from labelkit.mixing.dates import written
from labelkit.mixing.plain import to_plain
from labelkit.mixing.ports import Record
from labelkit.mixing.words import BottleText, PageText

__all__ = ["RULES_VERSION", "freeze"]

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
