"""One bottle as it stands, as a value."""

from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct

from labelkit.mixing.dates import is_past

__all__ = ["BottleState", "State", "Tallied"]

NOTHING = Decimal(0)


class State(StrEnum):
    """What became of a bottle."""

    FULL = "full"
    OPENED = "opened"
    PART_FULL = "part full"
    EMPTY = "empty"
    UNKNOWN = "unknown"
    """Found: nobody knows what is in it, or how much."""
    DISCARDED = "discarded"


class Tallied(Struct, frozen=True):
    """Film and paper that went through a bottle, against what it is good for.

    Attributes:
        unit: that both are counted in: ``roll``.
        holds: what it is good for [``unit``]; None where no capacity is known.
        used: what went through it [``unit``].
    """

    unit: str
    holds: Decimal | None
    used: Decimal

    @property
    def left(self) -> Decimal | None:
        """What is left of it [``unit``]; 0 past it, None where nothing is known."""
        return None if self.holds is None else max(self.holds - self.used, NOTHING)

    @property
    def last(self) -> bool:
        """Whether no more than one unit is left, and something was used."""
        return self.left is not None and self.used > 0 and self.left <= 1

    @property
    def over(self) -> bool:
        """Whether more went through it than it is good for."""
        return self.holds is not None and self.used > self.holds


class BottleState(Struct, frozen=True):
    """One bottle as it stands.

    Attributes:
        bottle: which of the batch's bottles, from 1.
        bottles: how many there were.
        mixed_on: when the batch was mixed, or the bottle found.
        unit: of the amounts: ``mL``, or ``g`` for a dry mixture.
        filled: what was put into it, as its label says; None where nobody knows.
        remaining: what is left; never below 0; None where it is not known.
        overdrawn: what was used above what it held.
        unsaid: why what is left is not known; "" where it is.
        tallied: None where no capacity is known and nothing was counted.
        discard_after: the earliest date that batch and log name, as it is kept.
        why: what brought it forward, ``opened 2031-04-01``; "" for the batch's own.
        use_mark: HOLD, ASK with a name, SHARED, or "".
        found: nobody knows what is in it.
        claim_by: until when somebody may say what a found bottle is; "" for no date.
        place: where it was last moved to; "" where that was never said.
        discarded_on: the day; "" where it stands.
    """

    number: str
    bottle: int
    bottles: int
    title: str
    mixed_on: datetime
    state: State
    unit: str
    filled: Decimal | None
    used: Decimal
    topped_up: Decimal
    remaining: Decimal | None
    overdrawn: Decimal
    unsaid: str
    tallied: Tallied | None
    discard_after: str | None
    why: str
    use_mark: str
    found: bool
    claim_by: str
    place: str
    discarded_on: str

    @property
    def name(self) -> str:
        """Number of the batch, and which bottle where there are several."""
        return f"{self.number}/{self.bottle}" if self.bottles > 1 else self.number

    @property
    def stands(self) -> bool:
        """Whether it has not been discarded."""
        return self.state is not State.DISCARDED

    def is_past(self, at: datetime) -> bool:
        """Whether its date, or that of a found bottle's claim, has passed."""
        return is_past(self.discard_after, at) or is_past(self.claim_by, at)
