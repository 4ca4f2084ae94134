"""One figure of a plan, traced."""

from dataclasses import dataclass

__all__ = ["Trace"]


@dataclass(frozen=True, slots=True)
class Trace:
    """Where a figure comes from.

    Attributes:
        figure: what is traced, with its value.
        how: the formula, with the figures put in.
        source: whose figures and whose rule.
    """

    figure: str
    how: str
    source: str
