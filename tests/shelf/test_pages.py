"""Lists of batches, page by page, each in its order and from an index."""

import sqlite3
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput
from labelkit.mixing.numbers import number_from
from labelkit.mixing.ports import Event, Listed, Record
from labelkit.shelf import SqliteShelf, open_shelf, pages
from labelkit.shelf.schema import MIGRATIONS

NOW = datetime.fromisoformat("2031-03-14T12:00:00")
STATES = ("standing", "in-date", "due", "past", "held", "found", "discarded", "all")


def number(n: int) -> str:
    return number_from([7, 3, 22, 20, *divmod(n, 32), 9, 31])


def batch(
    n: int, discard_after: str | None, *, bottles: int = 1, **changed: object
) -> Record:
    """The ``n``-th batch: the larger, the later it was mixed."""
    usual = Record(
        number=number(n),
        recipe="borate-alkali",
        title=f"Borate alkali stock {n}",
        mixed_on=datetime.fromisoformat("2031-01-01T10:00:00") + timedelta(days=n),
        made_by="M. Osei",
        discard_after=discard_after,
        bottles=bottles,
        data={
            "words": {
                "page": {
                    "headline": {"kind": "ready", "text": "USE AS IS"},
                    "hazard": {"signal": "DANGER", "statements": ["long"] * 50},
                    "part": {"letter": "A"},
                    "use_mark": "HOLD" if n == 6 else "",
                }
            }
        },
    )
    return replace(usual, **changed)


BATCHES = (
    batch(1, None),
    batch(2, "2032-03-14", bottles=3),
    batch(3, "2031-03-28"),  # 14 days on: the last day that is due
    batch(4, "2031-03-29"),
    batch(5, "2031-03-13"),
    batch(6, "2031-03-14"),  # good through its last day, so due
    batch(7, None, recipe="", title="UNKNOWN"),
    batch(8, "2031-03-14 11:59"),
    batch(9, "2032-01-01", recipe="bromide-stock", title="Potassium bromide"),
)


@pytest.fixture
def shelf(tmp_path: Path) -> Iterator[SqliteShelf]:
    with open_shelf(tmp_path / "shelf.sqlite3", create=True) as opened:
        for record in BATCHES:
            opened.add(record)
        opened.append(Event(number(9), None, "discarded", NOW))
        opened.append(Event(number(2), 3, "discarded", NOW))
        opened.append(Event(number(2), 2, "opened", NOW, discard_after="2031-03-20"))
        yield opened


def which(found: Listed) -> list[int]:
    return [int(b.record.mixed_on.timetuple().tm_yday) - 1 for b in found.batches]


@pytest.mark.parametrize(
    ("show", "numbers"),
    [
        ("standing", [8, 7, 6, 5, 4, 3, 2, 1]),
        ("in-date", [6, 2, 3, 4]),  # the earliest date first; a date must be known
        ("due", [6, 2, 3]),
        ("past", [5, 8]),
        ("held", [6]),
        ("found", [7]),
        ("discarded", [9]),
        ("all", [9, 8, 7, 6, 5, 4, 3, 2, 1]),
    ],
)
def test_a_list_holds_its_batches_in_its_order(
    shelf: SqliteShelf, show: str, numbers: list[int]
) -> None:
    found = shelf.listed(show, NOW)
    assert which(found) == numbers
    assert (found.count, found.or_more) == (len(numbers), False)


@pytest.mark.parametrize("show", STATES)
def test_a_search_that_fits_all_lists_the_same_batches(
    shelf: SqliteShelf, show: str
) -> None:
    # every number begins alike
    searched = shelf.listed(show, NOW, words=number(1)[:4])
    assert sorted(which(searched)) == sorted(which(shelf.listed(show, NOW)))


def test_every_word_must_fit_whatever_its_case(shelf: SqliteShelf) -> None:
    assert which(shelf.listed("all", NOW, words="POTASSIUM osei")) == [9]
    assert which(shelf.listed("all", NOW, words="potassium borate")) == []
    assert which(shelf.listed("standing", NOW, words="potassium")) == []


def test_a_recipe_lists_its_own_batches_alone(shelf: SqliteShelf) -> None:
    assert which(shelf.listed("all", NOW, recipe="bromide-stock")) == [9]
    assert which(shelf.listed("all", NOW, recipe="bromide")) == []
    assert which(shelf.listed("past", NOW, recipe="borate-alkali")) == [8, 5]


def test_the_dates_are_those_of_the_bottles_that_stand(shelf: SqliteShelf) -> None:
    (two,) = (b for b in shelf.listed("due", NOW).batches if b.record.bottles == 3)
    assert two.dates == ("2032-03-14", "2031-03-20")
    (gone,) = shelf.listed("discarded", NOW).batches
    assert gone.dates == ()


def test_a_line_has_its_words_and_no_more(shelf: SqliteShelf) -> None:
    (held,) = shelf.listed("held", NOW).batches
    assert held.record == replace(
        BATCHES[5],
        data={
            "words": {
                "page": {
                    "headline": {"kind": "ready", "text": "USE AS IS"},
                    "hazard": {"signal": "DANGER"},
                    "part": {"letter": "A"},
                    "use_mark": "HOLD",
                }
            },
            "found": None,
        },
    )


def test_pages_follow_one_another_without_gap_or_overlap(shelf: SqliteShelf) -> None:
    for show in STATES:
        whole = which(shelf.listed(show, NOW))
        pages = [shelf.listed(show, NOW, skip=n, limit=2) for n in range(0, 10, 2)]
        assert [n for page in pages for n in which(page)] == whole
        assert all(len(page.batches) <= 2 for page in pages)


def test_counting_stops_where_it_says(
    shelf: SqliteShelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pages, "COUNTED", 8)
    assert shelf.listed("all", NOW, limit=2).count == 8
    assert shelf.listed("all", NOW, limit=2).or_more
    assert not shelf.listed("standing", NOW, limit=2).or_more


def test_words_that_are_not_there_do_no_harm(tmp_path: Path) -> None:
    with open_shelf(tmp_path / "bare.sqlite3", create=True) as bare:
        bare.add(replace(BATCHES[0], data={}))
        (line,) = bare.listed("all", NOW).batches
    assert line.record.title == "Borate alkali stock 1"


@pytest.mark.parametrize("words", ["%", "_", "'", '"', "\x00", "-- ", "ß" * 100])
def test_a_search_is_words_and_nothing_else(shelf: SqliteShelf, words: str) -> None:
    assert shelf.listed("all", NOW, words=words).count == 0


def test_a_list_there_is_not_is_refused(shelf: SqliteShelf) -> None:
    with pytest.raises(BadInput, match=r"there is no list 'yesterday'. Write one of"):
        shelf.listed("yesterday", NOW)


@pytest.mark.parametrize("show", STATES)
def test_each_list_is_read_in_the_order_of_an_index(
    shelf: SqliteShelf, show: str
) -> None:
    # SQLite names a sort in its plan: "USE TEMP B-TREE FOR ORDER BY"
    query, values = pages.query_for(show, NOW)
    connection = sqlite3.connect(shelf._file.path)
    plan = connection.execute(f"EXPLAIN QUERY PLAN {query}", values).fetchall()
    connection.close()
    told = " ".join(str(row[3]) for row in plan)
    assert "TEMP B-TREE" not in told
    assert "INDEX" in told


def test_a_shelf_from_before_is_listed_alike(
    shelf: SqliteShelf, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = tmp_path / "old.sqlite3"
    with monkeypatch.context() as patch:
        patch.setattr("labelkit.shelf.schema.MIGRATIONS", MIGRATIONS[:1])
        with open_shelf(old, create=True):
            pass
    with sqlite3.connect(old) as connection:
        for record in BATCHES[:3]:
            _as_before(connection, record)
    connection.close()
    with open_shelf(old, create=False) as opened:
        assert which(opened.listed("standing", NOW)) == [3, 2, 1]


def _as_before(connection: sqlite3.Connection, record: Record) -> None:
    """A batch as the first form of the file kept it."""
    from labelkit.shelf import keys, rows

    values = rows.record_values(record)
    names = ", ".join(values)
    signs = ", ".join(f":{name}" for name in values)
    added = connection.execute(
        f"INSERT INTO batch ({names}) VALUES ({signs})", values
    ).lastrowid
    date = record.discard_after
    key = keys.discard_key(date) if date else None
    for bottle in range(1, record.bottles + 1):
        connection.execute(
            "INSERT INTO bottle (batch, bottle, discard_key, discard_after)"
            " VALUES (?, ?, ?, ?)",
            (added, bottle, key, date),
        )
