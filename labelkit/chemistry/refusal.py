"""An answer that is withheld, with the reason a person may read."""

from msgspec import Struct

__all__ = ["Refusal"]


class Refusal(Struct, frozen=True):
    """No figure, because ``reason``; a clause without a full stop."""

    reason: str
