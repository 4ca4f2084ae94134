"""The shelf gives back what it was given, keeps it once, and finds it."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from itertools import islice
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.errors import BadInput, ShelfError, Unknown
from labelkit.mixing.numbers import number_from
from labelkit.mixing.ports import Event, Record, Shelf
from labelkit.shelf import SqliteShelf, lists, open_shelf

Make = Callable[..., Any]

text = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
zones = st.none() | st.integers(-23 * 60, 23 * 60).map(
    lambda minutes: timezone(timedelta(minutes=minutes))
)
moments = st.datetimes(timezones=zones)
dates = st.dates().map(str) | moments.map(datetime.isoformat)
numbers = st.binary(min_size=8, max_size=8).map(number_from)
json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4)
    ),
    max_leaves=12,
)
records = st.builds(
    Record,
    number=numbers,
    recipe=text,
    title=text,
    mixed_on=moments,
    made_by=text,
    discard_after=st.none() | dates,
    bottles=st.integers(1, 40),
    data=st.dictionaries(st.text(max_size=20), json_values, max_size=6),
)


def events_of(record: Record) -> st.SearchStrategy[list[Event]]:
    one = st.builds(
        Event,
        batch=st.just(record.number),
        bottle=st.none() | st.integers(1, record.bottles),
        what=st.sampled_from(
            ["opened", "used", "topped-up", "tested", "moved", "discarded"]
        ),
        at=moments,
        by=text,
        amount_mL=st.just("") | st.decimals(0, 999, places=1).map(str),
        note=text,
        id=st.uuids().map(str),
        discard_after=st.just("") | dates,
    )
    return st.lists(one, max_size=5, unique_by=lambda event: event.id)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_what_the_log_stores_it_gives_back(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    record = data.draw(records)
    happened = data.draw(events_of(record))
    path = tmp_path_factory.mktemp("bench") / "shelf.sqlite3"
    with open_shelf(path, create=True) as shelf:
        shelf.add(record)
        for event in happened:
            shelf.append(event)
    with open_shelf(path, create=False) as shelf:
        again = shelf.get(record.number)
        assert again == record
        assert again.mixed_on.utcoffset() == record.mixed_on.utcoffset()
        assert list(again.data) == list(record.data)
        assert list(shelf.all()) == [record]
        found = shelf.events(record.number)
        assert sorted(found, key=lambda event: event.id) == sorted(
            happened, key=lambda event: event.id
        )


def test_a_decimal_comes_back_as_the_string_it_was(
    shelf: SqliteShelf, batch: Make
) -> None:
    shelf.add(batch(data={"g": Decimal("17.30"), "list": [Decimal("1E-8")]}))
    assert next(shelf.all()).data == {"g": "17.30", "list": ["1E-8"]}


def test_the_store_is_a_shelf(shelf: SqliteShelf) -> None:
    seen: Shelf = shelf
    assert list(seen.all()) == []


def test_the_same_batch_and_the_same_event_are_kept_once(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    for _ in range(2):
        shelf.add(batch())
        shelf.append(event(id="one"))
    assert list(shelf.all()) == [batch()]
    assert shelf.events(batch().number) == [event(id="one")]


def test_using_twice_at_one_moment_is_two_events(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch())
    for amount in ("20", "20", "30"):
        shelf.append(event(what="used", amount_mL=amount))
    used = shelf.events(batch().number)
    assert [found.amount_mL for found in used] == ["20", "20", "30"]
    assert len({found.id for found in used}) == 3


def test_events_come_oldest_first_whatever_order_they_were_written_in(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch())
    for day in (3, 1, 2):
        shelf.append(event(at=datetime(2031, 5, day, 12, tzinfo=UTC)))
    assert [found.at.day for found in shelf.events(batch().number)] == [1, 2, 3]


def test_another_batch_with_the_number_is_refused(
    shelf: SqliteShelf, batch: Make
) -> None:
    shelf.add(batch())
    with pytest.raises(ShelfError) as caught:
        shelf.add(batch(made_by="R. Lindqvist-Amara"))
    assert str(caught.value) == (
        f"another batch has the number {batch().number}. Nothing is overwritten."
    )
    assert list(shelf.all()) == [batch()]


def test_another_event_with_the_id_is_refused(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch())
    shelf.append(event(id="one"))
    with pytest.raises(ShelfError, match=r"another event has the id 'one'\."):
        shelf.append(event(id="one", note="second shelf"))
    assert shelf.events(batch().number) == [event(id="one")]


def test_what_is_not_there_is_unknown(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    number = batch().number
    line = f"no batch '{number}' on this shelf. labelkit shelf lists what there is."
    for ask in (
        lambda: shelf.get(number),
        lambda: shelf.append(event()),
        lambda: shelf.all(after=number),
    ):
        with pytest.raises(Unknown) as caught:
            ask()
        assert str(caught.value) == line
    assert number not in shelf
    assert shelf.events(number) == []


@pytest.mark.parametrize(
    ("changed", "line"),
    [
        (
            {"number": "7K3M-Q9TX-9"},
            "'7K3M-Q9TX-9' is no batch number: a character is wrong, or two are "
            "swapped. Read it again from the label.",
        ),
        ({"number": "7K3MQ9TX8"}, "number: '7K3MQ9TX8' is not written as printed."),
        (
            {"bottles": 0},
            "bottles: 0 is not a number of bottles. Write 1 to 9999.",
        ),
        (
            {"bottles": 10_000},
            "bottles: 10000 is not a number of bottles. Write 1 to 9999.",
        ),
        (
            {"discard_after": "soon"},
            "discard_after: 'soon' is no date. "
            "Write it as 2032-03-14 or 2032-03-14T22:00.",
        ),
        (
            {"made_by": "\udcff"},
            "made_by: '\\udcff' holds a character that cannot be kept.",
        ),
    ],
)
def test_a_batch_that_could_not_be_found_again_is_refused(
    shelf: SqliteShelf, batch: Make, changed: dict[str, Any], line: str
) -> None:
    with pytest.raises(BadInput) as caught:
        shelf.add(batch(**changed))
    assert str(caught.value) == line
    assert list(shelf.all()) == []


@pytest.mark.parametrize(
    ("changed", "line"),
    [
        ({"bottle": 3}, "has no bottle 3. Its bottles are numbered 1 to 2."),
        ({"bottle": 0}, "has no bottle 0. Its bottles are numbered 1 to 2."),
        ({"what": ""}, "what: it does not say what happened."),
        (
            {"discard_after": "2031-02-29"},
            "discard_after: '2031-02-29' is no date. "
            "Write it as 2032-03-14 or 2032-03-14T22:00.",
        ),
    ],
)
def test_an_event_that_fits_no_bottle_is_refused(
    shelf: SqliteShelf, batch: Make, event: Make, changed: dict[str, Any], line: str
) -> None:
    shelf.add(batch())
    with pytest.raises(BadInput) as caught:
        shelf.append(event(**changed))
    assert str(caught.value).endswith(line)
    assert shelf.events(batch().number) == []


def test_what_does_not_belong_in_a_record_is_a_fault_of_ours(
    shelf: SqliteShelf, batch: Make
) -> None:
    with pytest.raises(TypeError, match="datetime does not belong"):
        shelf.add(batch(data={"at": datetime(2031, 3, 14, tzinfo=UTC)}))
    with pytest.raises(ValueError, match="not JSON compliant"):
        shelf.add(batch(data={"ph": float("nan")}))
    assert list(shelf.all()) == []


def test_batches_come_newest_first_and_page_by_page(
    shelf: SqliteShelf, batch: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lists, "_PAGE", 10)
    start = datetime(2031, 1, 1, 12)  # noqa: DTZ001 - a bench may know no time zone
    made = [
        batch(n, mixed_on=start + timedelta(days=n // 2), data={"n": n})
        for n in range(25)
    ]
    for record in made:
        shelf.add(record)
    newest = sorted(made, key=lambda r: (r.mixed_on, r.number), reverse=True)
    assert list(shelf.all()) == newest
    assert list(shelf.all(limit=3)) == newest[:3]
    assert list(shelf.all(limit=0)) == []
    assert list(shelf.all(limit=15, after=newest[2].number)) == newest[3:18]
    assert list(shelf.all(after=newest[-1].number)) == []


def test_a_list_half_read_lets_others_write(
    path: Path, shelf: SqliteShelf, batch: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lists, "_PAGE", 10)
    for n in range(25):
        shelf.add(batch(n))
    half = shelf.all()
    first = list(islice(half, 5))
    with open_shelf(path, create=False) as other:
        other.add(batch(500))
    seen = [record.number for record in [*first, *half]]
    assert {batch(n).number for n in range(25)} <= set(seen)
    assert len(set(seen)) == len(seen)


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("", [3, 2, 1]),
        ("borate", [1]),
        ("BORATE stock", [1]),
        ("cafe", [2]),
        ("Café developer", [2]),
        ("lindqvist", [3, 2]),
        ("pyro osei", []),
        ("%", []),
        ("_", []),
    ],
)
def test_search_finds_every_word_in_any_case(
    shelf: SqliteShelf, batch: Make, words: str, found: list[int]
) -> None:
    shelf.add(batch(1))
    shelf.add(batch(2, title="Café developer", recipe="x", made_by="R. Lindqvist"))
    shelf.add(batch(3, title="Pyro A", recipe="pyro-a", made_by="R. Lindqvist"))
    assert [r.number for r in shelf.search(words)] == [batch(n).number for n in found]
    assert len(list(shelf.search(words, limit=1))) == min(1, len(found))


def test_a_batch_is_searched_by_its_number(shelf: SqliteShelf, batch: Make) -> None:
    shelf.add(batch(1))
    shelf.add(batch(2))
    assert list(shelf.search(batch(2).number.lower())) == [batch(2)]


def test_threads_of_one_server_lose_nothing(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    def work(n: int) -> int:
        shelf.add(batch(n))
        shelf.append(event(n, "used"))
        return len(list(shelf.all())) + len(shelf.events(batch(n).number))

    with ThreadPoolExecutor(8) as pool:
        counts = list(pool.map(work, range(32)))
    assert min(counts) >= 2
    assert len(list(shelf.all())) == 32
    assert all(len(shelf.events(batch(n).number)) == 1 for n in range(32))
