"""The shelf: what was mixed, and what happened to it since."""

from labelkit.shelf.store import SqliteShelf, open_shelf

__all__ = ["SqliteShelf", "open_shelf"]
