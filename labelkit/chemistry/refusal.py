"""An answer that is withheld, with the reason a person may read."""

from dataclasses import dataclass

__all__ = ["Refusal"]


@dataclass(frozen=True, slots=True)
class Refusal:
    """No figure, because ``reason``; a clause without a full stop."""

    reason: str
