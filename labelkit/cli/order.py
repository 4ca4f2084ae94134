"""What was said of a mix, by options or at the terminal, and the batch it makes."""

import secrets
from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.amounts import Amount
from labelkit.errors import NoAnswer
from labelkit.mixing.batch import Batch, as_read, bottles_from, unacknowledged
from labelkit.mixing.bench import Settings
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.numbers import number_from
from labelkit.mixing.plan import Plan
from labelkit.mixing.working import work_out

__all__ = ["MixOrder", "as_it_was_read", "batch_of", "drawn_number"]

DRAWN = 8  # characters of a batch number that are drawn


class MixOrder(Struct, frozen=True):
    """Everything that may be said with options."""

    make: Amount | None
    lot: tuple[str, ...]
    stock: tuple[str, ...]
    weighed: tuple[str, ...]
    made_up_to: Amount | None
    ph: Decimal | None
    density: Decimal | None
    into: str | None
    by: str
    on: datetime | None
    use: str | None
    acknowledge: tuple[str, ...]
    swap: tuple[str, ...] = ()


def as_it_was_read(
    planned: Plan,
    order: MixOrder,
    readings: Mapping[int, Amount],
    handbook: Handbook,
    settings: Settings,
) -> Plan:
    """Everything worked out again from the weights as read."""
    job = as_read(
        planned.job,
        readings,
        made_up_to=order.made_up_to,
        ph=order.ph,
        density=order.density,
    )
    return work_out(job, handbook, settings)


def batch_of(
    planned: Plan, plan: Plan, order: MixOrder, acknowledged: tuple[str, ...]
) -> Batch:
    """The batch, with a number drawn for it.

    Raises:
        NoAnswer: a deadly remark that nobody has acknowledged.
    """
    stops = unacknowledged(plan, acknowledged)
    if stops:
        told = " ".join(check.text for check in stops)
        codes = " ".join(f"--acknowledge {check.code}" for check in stops)
        raise NoAnswer(told, remedy=f"If it is mixed all the same, say {codes}.")
    return Batch(
        drawn_number(),
        planned.job.doses,
        plan,
        order.by,
        bottles_from(order.into, plan),
        acknowledged,
        order.use or "",
    )


def drawn_number() -> str:
    """A batch number that nobody can guess: ``ABCD-EFGH-K``."""
    return number_from(secrets.randbelow(32) for _ in range(DRAWN))
