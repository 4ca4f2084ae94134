"""What a record page asks of the shelf: a batch that need not be read again."""

from collections.abc import Sequence
from typing import Protocol

from labelkit.mixing.ports import Event, Record, Shelf

__all__ = ["PageShelf", "Unread"]


class Unread(Protocol):
    """A batch whose frozen data was not read yet, and its log."""

    @property
    def record(self) -> Record:
        """The batch; its ``data`` is empty."""

    @property
    def events(self) -> Sequence[Event]:
        """What happened to its bottles, oldest first."""

    @property
    def digest(self) -> bytes:
        """Of everything that was frozen: no two batches have the same."""

    def whole(self) -> Record:
        """The batch with its data."""


class PageShelf(Shelf, Protocol):
    """A shelf that tells a batch apart from the ones seen before without reading it."""

    def unread(self, number: str) -> Unread:
        """The batch with that number, or `labelkit.errors.Unknown`."""
