"""A shelf with three batches, and the pages made of it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from labelkit.pages.publish import publish
from labelkit.pages.site import Site
from labelkit.shelf import SqliteShelf, open_shelf
from tests.pages.print_room import NOON, RECORDS, ROOM, Cards, happened


def filled(path: Path) -> SqliteShelf:
    shelf = open_shelf(path, create=True)
    for kept in RECORDS:
        shelf.add(kept)
    shelf.append(happened("opened", discard_after="2031-10-01"))
    return shelf


@pytest.fixture
def shelf(tmp_path: Path) -> Iterator[SqliteShelf]:
    with filled(tmp_path / "shelf.sqlite3") as opened:
        yield opened


@pytest.fixture
def site(shelf: SqliteShelf) -> Site:
    return Site(shelf, Cards(), ROOM)


@pytest.fixture
def live(shelf: SqliteShelf) -> Site:
    """The site as a server answers it, on the day the borate stock was mixed."""
    return Site(shelf, Cards(), ROOM, live=True, clock=lambda: NOON)


@pytest.fixture(scope="session")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with every page, for tests that only look."""
    folder = tmp_path_factory.mktemp("published")
    with filled(folder.parent / "looked-at.sqlite3") as opened:
        publish(folder, opened, Cards(), ROOM)
    return folder
