"""The commands: the only place where the rooms meet."""

from labelkit.cli.group import main

__all__ = ["main"]
