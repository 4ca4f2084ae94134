"""The shelf: what was mixed, and what happened to it since."""

from labelkit.shelf.merging import Merged
from labelkit.shelf.store import SqliteShelf, open_shelf

__all__ = ["Merged", "SqliteShelf", "open_shelf"]
