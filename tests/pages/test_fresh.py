"""No page is out of date: what changes is looked at for every answer."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from labelkit.mixing.ports import Record
from labelkit.pages.site import Site
from labelkit.shelf import SqliteShelf, open_shelf
from tests.pages.print_room import (
    BATH,
    BORATE,
    BORATE_PAGE,
    BROMIDE,
    BROMIDE_PAGE,
    NOON,
    ROOM,
    Cards,
    happened,
    record,
)
from tests.pages.reading import outline

ROOT = "../"


class Changing(Cards):
    """Recipes that come and go, and a clock that is set by hand."""

    def __init__(self) -> None:
        self.there: Sequence[str] = super().names()
        self.now = NOON

    def names(self) -> Sequence[str]:
        return self.there

    def clock(self) -> datetime:
        return self.now


@pytest.fixture
def room() -> Changing:
    return Changing()


@pytest.fixture
def open_site(shelf: SqliteShelf, room: Changing) -> Site:
    return Site(shelf, room, ROOM, live=True, clock=room.clock)


def text(site: Site, number: str = BORATE) -> str:
    return outline(site.batch(number, ROOT)).text


def since(site: Site) -> str:
    return text(site).partition("What happened since")[2].partition("The recipe")[0]


def alone(tmp_path: Path, name: str, kept: Record) -> SqliteShelf:
    shelf = open_shelf(tmp_path / f"{name}.sqlite3", create=True)
    shelf.add(kept)
    return shelf


@pytest.mark.parametrize("number", [BORATE, BROMIDE, BATH])
def test_a_page_says_the_same_the_second_time(open_site: Site, number: str) -> None:
    first = open_site.batch(number, ROOT)
    assert open_site.batch(number, ROOT) == first
    afresh = Site(open_site.shelf, Cards(), ROOM, live=True, clock=lambda: NOON)
    assert afresh.batch(number, ROOT) == first


def test_what_was_written_down_a_moment_ago_is_shown(
    open_site: Site, shelf: SqliteShelf
) -> None:
    assert "25 mL" not in since(open_site)
    shelf.append(happened("used", amount_mL="25", id="u"))
    assert "25 mL" in since(open_site)
    shelf.append(happened("discarded", None, id="d"))
    assert "DISCARDED" in text(open_site)


def test_what_another_program_wrote_down_is_shown(
    open_site: Site, tmp_path: Path
) -> None:
    assert "a cracked cap" not in text(open_site)
    with open_shelf(tmp_path / "shelf.sqlite3", create=False) as other:
        other.append(happened("tested", note="a cracked cap", id="t"))
    assert "a cracked cap" in text(open_site)


def test_a_recipe_that_is_gone_is_no_longer_linked(
    open_site: Site, room: Changing
) -> None:
    assert "../R/BORATE-ALKALI/index.html" in _links(open_site)
    room.there = ("Borate-Alkali", "bromide-stock")
    assert "../R/BORATE-ALKALI/index.html" not in _links(open_site)
    room.there = ("BORATE-ALKALI", "borate-alkali")
    assert "../R/BORATE-ALKALI/index.html" not in _links(open_site)
    room.there = ("borate-alkali",)
    assert "../R/BORATE-ALKALI/index.html" in _links(open_site)


def _links(site: Site) -> list[str]:
    return outline(site.batch(BORATE, ROOT)).values("href")


def test_a_date_passes_between_two_looks(open_site: Site, room: Changing) -> None:
    assert "PAST ITS DATE" not in text(open_site, BATH)
    room.now = datetime.fromisoformat("2031-03-14T15:41:00")
    assert "PAST ITS DATE" in text(open_site, BATH)


def test_a_dose_that_was_asked_for_is_not_there_for_the_next(open_site: Site) -> None:
    blank = open_site.batch(BORATE, ROOT)
    asked = open_site.batch(BORATE, ROOT, {"g": "2.5"})
    assert b'value="2.5"' in asked
    assert open_site.batch(BORATE, ROOT) == blank
    assert open_site.batch(BORATE, ROOT, {"g": " "}) == blank


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"emergency": "112"}, "Call 112"),
        ({"room": "Gull Lane"}, "The shelf of Gull Lane"),
    ],
)
def test_other_settings_are_seen_though_the_page_is_held(
    open_site: Site, changed: dict[str, Any], told: str
) -> None:
    assert told not in text(open_site)
    other = replace(open_site, settings=replace(ROOM, **changed))
    assert other.held is open_site.held
    assert told in text(other)
    assert told not in text(open_site)


OTHERS = {
    "title": {"title": "Another"},
    "maker": {"made_by": "Another"},
    "date": {"discard_after": "2033-01-01"},
    "day": {"mixed_on": NOON},
    "data": {"data": {"words": {"page": {}}}},
}


@pytest.mark.parametrize("changed", OTHERS.values(), ids=OTHERS)
def test_two_records_never_share_what_is_held(
    tmp_path: Path, open_site: Site, changed: dict[str, Any]
) -> None:
    text(open_site)
    other = record(BORATE_PAGE, changed.pop("discard_after", "2032-03-14"), **changed)
    with alone(tmp_path, "other", other) as shelf:
        mixed_up = replace(open_site, shelf=shelf)
        own = Site(shelf, Cards(), ROOM, live=True, clock=lambda: NOON)
        assert mixed_up.batch(BORATE, ROOT) == own.batch(BORATE, ROOT)
        assert len(open_site.held) == 2


def test_words_under_the_number_of_another_batch_are_not_mixed_up(
    tmp_path: Path, open_site: Site
) -> None:
    assert "20 mL = 1 g sodium metaborate" in text(open_site)
    swapped = record(replace(BROMIDE_PAGE, number=BORATE), "2032-03-14")
    with alone(tmp_path, "swapped", swapped) as shelf:
        told = text(replace(open_site, shelf=shelf))
    assert "Potassium bromide" in told
    assert "20 mL = 1 g sodium metaborate" not in told


def test_a_page_whose_words_cannot_be_read_still_tells_what_happened(
    tmp_path: Path, open_site: Site
) -> None:
    torn = record(BORATE_PAGE, "2032-03-14", data={"words": 3})
    with alone(tmp_path, "torn", torn) as shelf:
        site = replace(open_site, shelf=shelf)
        assert "cannot be read by this version" in text(site)
        shelf.append(happened("tested", note="a cracked cap"))
        assert "a cracked cap" in text(site)
