"""A remark on a plan or a batch: what is the matter, how grave, what to do."""

from enum import StrEnum

from msgspec import Struct

__all__ = ["Check", "Level"]


class Level(StrEnum):
    """How grave a remark is."""

    STOP = "stop"  # can kill or maim; must be acknowledged
    WARN = "warn"  # serious
    NOTE = "note"  # a caution, or a matter of quality


class Check(Struct, frozen=True):
    """One remark.

    Attributes:
        code: one of the codes of the JSON contract, such as ``solubility``.
        step: the step it speaks of; None where it speaks of the whole.
        text: what, and what to do.
    """

    code: str
    level: Level
    step: int | None
    text: str
