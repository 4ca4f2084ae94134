"""Bottles past their date that a recipe is to take from."""

from collections.abc import Iterator
from datetime import datetime

from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.dates import Day, written
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_expired_stock"]


def check_expired_stock(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """Told, not refused. A bottle is good through its last day."""
    for dose in plan.job.doses:
        stock = plan.job.stocks.get(dose.chemical.removeprefix("recipe:"))
        if stock is None or not dose.chemical.startswith("recipe:"):
            continue
        if stock.discard_after and _is_past(stock.discard_after, plan.job.on):
            called = f"{stock.title} {stock.part}".strip()
            number = f" ({stock.batch})" if stock.batch else ""
            text = (
                f"{called}{number} was to be discarded after "
                f"{written(stock.discard_after)}: test it first, or mix it fresh."
            )
            yield Check("expired-stock", Level.WARN, dose.step, text)


def _is_past(last: Day, on: datetime) -> bool:
    return on > last if isinstance(last, datetime) else on.date() > last
