"""One figure of a plan, traced."""

from msgspec import Struct

__all__ = ["Trace"]


class Trace(Struct, frozen=True):
    """Where a figure comes from.

    Attributes:
        figure: what is traced, with its value.
        how: the formula, with the figures put in.
        source: whose figures and whose rule.
    """

    figure: str
    how: str
    source: str
