"""The live shelf: searched, by list, and page by page."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from msgspec.structs import replace

from labelkit.mixing.numbers import number_from
from labelkit.pages.answering import answer
from labelkit.pages.asked import Asked
from labelkit.pages.shelf_list import ShelfList, shelf_list
from labelkit.pages.site import Site
from labelkit.shelf import SqliteShelf, open_shelf
from tests.pages.print_room import (
    BATH,
    BORATE,
    BROMIDE,
    BROMIDE_PAGE,
    NOON,
    happened,
    record,
)
from tests.pages.reading import outline


def listed(shelf: SqliteShelf, root: str = "", **query: str) -> ShelfList:
    return shelf_list(shelf, query, root, NOON)


def numbers(found: ShelfList) -> list[str]:
    return [line.number for line in found.lines]


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Iterator[SqliteShelf]:
    """A shelf with 120 batches, the newest last."""
    path = tmp_path_factory.mktemp("many") / "shelf.sqlite3"
    with open_shelf(path, create=True) as shelf:
        for n in range(120):
            number = number_from([1, 2, 3, 4, 5, *divmod(n, 32), 6])
            page = replace(BROMIDE_PAGE, number=number)
            shelf.add(record(page, None, mixed_on=NOON - timedelta(days=120 - n)))
        yield shelf


def test_what_stands_is_shown_where_nothing_is_asked(shelf: SqliteShelf) -> None:
    found = listed(shelf)
    assert numbers(found) == [BATH, BORATE, BROMIDE]
    assert (found.show, found.told) == ("standing", "3 batches.")
    assert [choice.name for choice in found.choices if choice.chosen] == ["standing"]


def test_what_is_found_nowhere_is_told(shelf: SqliteShelf) -> None:
    assert listed(shelf, q="pyrogallol").told == "None."


def test_a_search_looks_through_discarded_batches_too(shelf: SqliteShelf) -> None:
    shelf.append(happened("discarded", None))
    assert numbers(listed(shelf, q="borate")) == [BORATE]
    assert numbers(listed(shelf, q="borate", show="standing")) == []


@pytest.mark.parametrize(
    "words",
    [
        BORATE,
        BORATE.lower().replace("-", ""),
        "7m3k 2qwx y",
        f"https://bottles.example.org/B/{BORATE}",
    ],
)
def test_a_number_is_found_however_it_is_written(
    shelf: SqliteShelf, words: str
) -> None:
    assert numbers(listed(shelf, q=words)) == [BORATE]


def test_words_that_look_like_a_number_are_searched_as_words(
    shelf: SqliteShelf,
) -> None:
    # nine characters that a batch number may have, and its check character fits
    word = number_from(b"\x01\x02\x03\x04\x05\x06\x07\x08")
    named = replace(BROMIDE_PAGE, number="7K3M-Q9TX-8", name=word.replace("-", ""))
    shelf.add(record(named, None))
    assert numbers(listed(shelf, q=word.replace("-", ""))) == ["7K3M-Q9TX-8"]


def test_the_lists_keep_what_was_searched(shelf: SqliteShelf) -> None:
    found = listed(shelf, "../", q="borate & co")
    assert {c.href.partition("&show")[0] for c in found.choices} == {
        "../index.html?q=borate+%26+co"
    }


def test_a_long_list_is_told_page_by_page(many: SqliteShelf) -> None:
    pages = [listed(many, page=str(n)) for n in (1, 2, 3)]
    assert [page.told for page in pages] == [
        "1 to 50 of 120.",
        "51 to 100 of 120.",
        "101 to 120 of 120.",
    ]
    assert len({n for page in pages for n in numbers(page)}) == 120
    assert pages[0].previous == pages[2].following == ""
    assert pages[0].following == "index.html?show=standing&page=2"
    assert pages[2].previous == "index.html?show=standing&page=2"


@pytest.mark.parametrize("page", ["0", "-1", "x", "", "1.5", "٣", "9" * 30])
def test_what_is_no_page_is_the_first(many: SqliteShelf, page: str) -> None:
    assert listed(many, page=page).told == "1 to 50 of 120."


def test_a_page_past_the_end_says_so_and_leads_back(many: SqliteShelf) -> None:
    found = listed(many, page="999999")
    assert found.told == "No page 999999: there are 120."
    assert found.previous == "index.html?show=standing&page=3"
    assert found.following == ""


def test_a_list_there_is_not_is_a_line_and_no_fault_of_ours(live: Site) -> None:
    given = answer(live, Asked("", {"show": "<yesterday>"}))
    text = outline(given.body).text
    assert given.status == 200
    assert "There is no list '<yesterday>'. Choose one of those above." in text
    assert BORATE in text


def test_the_front_is_a_search_a_row_of_lists_and_the_batches(live: Site) -> None:
    page = outline(answer(live, Asked("index.html", {"q": "borate"})).body)
    assert page.faults == []
    assert "DO NOT DRINK" in page.text
    assert "Searched for 'borate' 1 batch." in page.text
    assert [a.get("value") for tag, a in page.tags if tag == "input"] == ["borate"]
    assert {a["method"] for tag, a in page.tags if tag == "form"} == {"get"}
    assert f"B/{BORATE}/index.html" in page.values("href")


def test_a_live_page_knows_the_day_without_a_script(
    live: Site, shelf: SqliteShelf
) -> None:
    late = replace(live, clock=lambda: NOON + timedelta(days=1))
    assert "PAST ITS DATE" not in outline(live.front("")).text
    assert outline(late.front("")).text.count("PAST ITS DATE") == 1
    assert "PAST ITS DATE" in outline(late.batch(BATH, "")).text
    assert "in date" in outline(live.batch(BATH, "")).text


def test_marks_are_seen_in_the_list(live: Site, shelf: SqliteShelf) -> None:
    held = replace(BROMIDE_PAGE, number="7K3M-Q9TX-8", use_mark="HOLD")
    shelf.add(record(held, None))
    assert "Potassium bromide part B 7K3M-Q9TX-8 HOLD" in outline(live.front("")).text
    assert numbers(listed(shelf, show="held")) == ["7K3M-Q9TX-8"]


def test_a_kept_address_of_the_discarded_leads_to_them(
    live: Site, shelf: SqliteShelf
) -> None:
    shelf.append(happened("discarded", None))
    given = answer(live, Asked("discarded/index.html"))
    assert f"../B/{BORATE}/index.html" in outline(given.body).values("href")


def test_the_static_front_has_no_form(site: Site) -> None:
    assert outline(site.front("")).count("form") == 0


def test_no_question_reaches_a_page_that_is_kept(site: Site, tmp_path: Path) -> None:
    asked = Asked(f"B/{BORATE}", {"g": "abc"})
    assert answer(site, asked).body == answer(site, replace(asked, query={})).body
