"""The date of a bottle that was opened or is only part full: sooner, never later."""

from datetime import datetime
from typing import Protocol

from labelkit.chemistry.amounts import Duration
from labelkit.mixing.dates import Day, last_moment, written

__all__ = ["Keeps", "brought_forward", "earliest"]


class Keeps(Protocol):
    """How long a solution keeps, as its recipe says: a recipe, or a frozen one."""

    @property
    def keeps_opened(self) -> Duration | None:
        """From opening."""

    @property
    def keeps_part_full(self) -> Duration | None:
        """From the day some was taken out."""


def brought_forward(
    keeps: Keeps, what: str, at: datetime, *, poured: bool = True
) -> Day | None:
    """The date to discard it after, from what happened to it; None where unchanged.

    Opened, it keeps for ``keeps_opened``; once some was poured out it is part full and
    keeps for ``keeps_part_full`` besides. The earlier of these and its first date
    counts; topping up never brings a later one.

    Args:
        keeps: of the batch, as it was frozen.
        what: what happened: ``opened``, ``used`` and so on.
        at: when it happened.
        poured: whether any was taken out for good; film that only went through a bath
            leaves it as full as it was.
    """
    spans = []
    if what in ("opened", "used"):
        spans.append(keeps.keeps_opened)
    if what == "used" and poured:
        spans.append(keeps.keeps_part_full)
    return earliest(*(_after(span, at) for span in spans))


def earliest(*days: Day | None) -> Day | None:
    """The earliest day or moment; None where there is none."""
    known = [day for day in days if day is not None]
    return min(known, key=lambda day: last_moment(written(day)), default=None)


def _after(span: Duration | None, at: datetime) -> Day | None:
    if span is None:
        return None
    return span.after(at if span.by_the_clock else at.date())
