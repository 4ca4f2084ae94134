"""The dated notes on the law, as they travel with labelkit."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from labelkit.files.data import cite, read_data
from labelkit.mixing.legal import LegalNote

__all__ = ["read_legal_notes"]


@lru_cache(maxsize=1)
def read_legal_notes() -> tuple[LegalNote, ...]:
    """Every note on the law, in the order of the file."""
    return tuple(_note(table) for table in read_data("legal.toml")["note"])


def _note(table: Mapping[str, Any]) -> LegalNote:
    source = cite(table["source"])
    return LegalNote(
        table["id"],
        table["title"],
        table["text"],
        table["as_of"],
        table["check"],
        regions=tuple(table["regions"]),
        chemicals=frozenset(table.get("chemicals", ())),
        above_percent=table.get("above_percent", {}),
        source=source.text,
        confidence=source.confidence,
    )
