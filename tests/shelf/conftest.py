"""A shelf of the Tern Street Print Room, and batches to stand on it."""

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from labelkit.mixing.numbers import number_from
from labelkit.mixing.ports import Event, Record
from labelkit.shelf import SqliteShelf, open_shelf


def number_of(which: int) -> str:
    return number_from((which >> 5 * place) % 32 for place in reversed(range(8)))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "shelf.sqlite3"


@pytest.fixture
def shelf(path: Path) -> Iterator[SqliteShelf]:
    with open_shelf(path, create=True) as opened:
        yield opened


@pytest.fixture(scope="session")
def batch() -> Callable[..., Record]:
    """Makes the batch that is told by one small integer."""

    def make(which: int = 1, **changed: Any) -> Record:
        fields = {
            "number": number_of(which),
            "recipe": "borate-alkali",
            "title": "Borate alkali stock",
            "mixed_on": datetime.fromisoformat("2031-03-14T18:05:00+01:00"),
            "made_by": "M. Osei",
            "discard_after": "2032-03-14",
            "bottles": 2,
            "data": {"weighed": [{"step": 2, "g": "17.3", "read": True}]},
        }
        return Record(**{**fields, **changed})

    return make


@pytest.fixture(scope="session")
def event() -> Callable[..., Event]:
    """Makes an event of the batch that is told by one small integer."""

    def make(which: int = 1, what: str = "opened", **changed: Any) -> Event:
        fields = {
            "batch": number_of(which),
            "bottle": 1,
            "what": what,
            "at": datetime.fromisoformat("2031-04-01T09:00:00+02:00"),
            "by": "R. Lindqvist-Amara",
        }
        return Event(**{**fields, **changed})

    return make
