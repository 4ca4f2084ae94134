"""One figure of a plan, traced."""

from dataclasses import dataclass

__all__ = ["OURS", "Trace"]

OURS = "ours"


@dataclass(frozen=True, slots=True)
class Trace:
    """Where a figure comes from.

    Attributes:
        figure: what is traced, with its value.
        how: the formula, with the figures put in.
        source: whose figures and whose rule; ``ours`` where it is our own choice.
    """

    figure: str
    how: str
    source: str
