"""Batches of the Tern Street Print Room, frozen as far as their bottles go."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from labelkit.mixing.happening import event_for
from labelkit.mixing.numbers import number_from
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.topping_up import Source

MIXED = datetime.fromisoformat("2031-03-14T18:05")
NOW = datetime.fromisoformat("2031-05-01T12:00")

# Fixer: about 20 roll-equivalents a litre if its maker gives none (a widely used
# handbook, as the facts of practice give it).
FIXER = """
title = "Plain fixer"
makes = "500 mL"
keeps = "2 months"
{more}
[use]
capacity = {{ amount = 20, of = "roll", per = "1 L" }}
[[step]]
add = "water"
amount = "500 mL"
"""
PLAIN = 'title = "Borate alkali"\nmakes = "500 mL"\nkeeps = "12 months"\n'


def number(which: int) -> str:
    return number_from((which >> 5 * place) % 32 for place in reversed(range(8)))


def batch(
    which: int = 1,
    sizes: Sequence[Any] = (500,),
    document: str = PLAIN,
    *,
    unit: str = "mL",
    use_mark: str = "",
    **changed: Any,
) -> Record:
    """A batch in bottles of these sizes [mL, or g for a dry mixture]."""
    made = sum(size or 0 for size in sizes)
    data = {
        "format": 1,
        "recipe": {"document": document},
        "answer": {
            "make": {unit: made},
            "bottles": [{"bottle": n + 1, "mL": size} for n, size in enumerate(sizes)],
        },
        "volume_mL": str(made) if unit == "mL" else None,
        "words": {"page": {"use_mark": use_mark}},
    }
    fields: dict[str, Any] = {
        "number": number(which),
        "recipe": "borate-alkali",
        "title": "Borate alkali",
        "mixed_on": MIXED,
        "made_by": "M. Osei",
        "discard_after": "2032-03-14",
        "bottles": len(sizes),
        "data": data,
    }
    return Record(**{**fields, **changed})


def fixer(which: int = 1, sizes: Sequence[Any] = (500,), more: str = "") -> Record:
    """A batch of fixer: 10 rolls to the half litre."""
    return batch(
        which,
        sizes,
        FIXER.format(more=more),
        recipe="plain-fixer",
        title="Plain fixer",
        discard_after="2031-05-14",
    )


def found(claim_by: str | None = "2031-04-14") -> Record:
    """A bottle that nobody knows."""
    data = {
        "kind": "found",
        "found": {"claim_by": claim_by},
        "answer": {"bottles": [{"bottle": 1, "mL": None}], "make": None},
        "words": {"page": {}},
    }
    return batch(9, recipe="", title="UNKNOWN", discard_after=None, data=data)


def event(
    what: str, day: str = "2031-04-01", bottle: int | None = 1, **more: Any
) -> Event:
    """Something that happened to a bottle of the first batch."""
    fields = {"batch": number(1), "bottle": bottle, "what": what}
    return Event(**{**fields, "at": datetime.fromisoformat(day), "id": day, **more})


def happens(record: Record, what: str, on: str = "2031-04-01", **more: Any) -> Event:
    """What somebody says in May happened to a batch, made into an event."""
    return event_for(record, what, datetime.fromisoformat(on), now=NOW, **more)


def older(**changed: Any) -> Source:
    """A bottle of the first batch's solution, mixed before it."""
    fields = {
        "name": number(2),
        "recipe": "borate-alkali",
        "title": "Borate alkali",
        "mixed_on": datetime.fromisoformat("2030-12-31"),
        "discard_after": None,
    }
    return Source(**{**fields, **changed})


def mL(amount: int | str) -> Decimal:
    return Decimal(amount)
