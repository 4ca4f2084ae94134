"""A mix that is half done, written down at every step so that it can be resumed."""

import json
import sqlite3
from collections.abc import Mapping
from typing import Any

from labelkit.shelf.connection import ShelfFile
from labelkit.shelf.rows import as_text

__all__ = ["draft", "drafts", "drop_draft", "finish", "save_draft"]


def save_draft(file: ShelfFile, recipe: str, data: Mapping[str, Any]) -> None:
    """Keep how far a mix of ``recipe`` has come, instead of what was kept before."""
    text = as_text(data)
    with file.writing() as connection:
        connection.execute(
            "INSERT INTO draft (recipe, data) VALUES (?, ?)"
            " ON CONFLICT (recipe) DO UPDATE SET data = excluded.data",
            (recipe, text),
        )


def draft(file: ShelfFile, recipe: str) -> dict[str, Any] | None:
    """How far the broken-off mix of ``recipe`` has come; None where there is none."""
    with file.reading() as connection:
        row = connection.execute(
            "SELECT data FROM draft WHERE recipe = ?", (recipe,)
        ).fetchone()
    if row is None:
        return None
    data: dict[str, Any] = json.loads(row["data"])
    return data


def drafts(file: ShelfFile) -> list[str]:
    """The recipes of every broken-off mix."""
    with file.reading() as connection:
        found = connection.execute("SELECT recipe FROM draft ORDER BY recipe")
        return [row["recipe"] for row in found]


def drop_draft(file: ShelfFile, recipe: str) -> None:
    """Forget the broken-off mix of ``recipe``, if there is one."""
    with file.writing() as connection:
        finish(connection, recipe)


def finish(connection: sqlite3.Connection, recipe: str) -> None:
    """Forget it within a transaction that the caller began."""
    connection.execute("DELETE FROM draft WHERE recipe = ?", (recipe,))
