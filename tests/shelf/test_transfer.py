"""Backed up whole; exported and merged so that no order and no repeat matters."""

import json
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.errors import BadInput, ShelfError
from labelkit.shelf import SqliteShelf, open_shelf, opening, transfer
from labelkit.shelf.merging import Merged

Make = Callable[..., Any]
HEAD = '{"labelkit":"shelf","form":1,"batches":%d,"events":%d}'


@pytest.fixture
def other(tmp_path: Path) -> Iterator[SqliteShelf]:
    with open_shelf(tmp_path / "other.sqlite3", create=True) as opened:
        yield opened


def everything(shelf: SqliteShelf) -> list[object]:
    """All that can be asked of a shelf."""
    return [
        list(shelf.export()),
        list(shelf.all()),
        [shelf.events(record.number) for record in shelf.all()],
        list(shelf.standing()),
        list(shelf.due(date.max)),
    ]


def test_a_backup_is_the_shelf_whole(
    path: Path, shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch())
    shelf.append(event(id="one"))
    shelf.save_draft("pyro-a", {"step": 1})
    copy = path.with_name("backup.sqlite3")
    shelf.backup(copy)
    with open_shelf(copy, create=False) as kept:
        assert everything(kept) == everything(shelf)
        assert kept.drafts() == ["pyro-a"]
    assert {p.name for p in path.parent.iterdir()} == {path.name, copy.name}


def test_a_backup_overwrites_nothing_least_of_all_the_shelf(
    path: Path, shelf: SqliteShelf, batch: Make
) -> None:
    shelf.add(batch())
    before = path.read_bytes()
    with pytest.raises(ShelfError) as caught:
        shelf.backup(path)
    assert str(caught.value) == (
        f"{path}: is there already; a backup overwrites nothing. "
        "Name a new file, such as shelf-2031-03-14.sqlite3."
    )
    assert path.read_bytes() == before


def test_a_name_that_points_nowhere_is_taken_too(
    path: Path, shelf: SqliteShelf
) -> None:
    target = path.with_name("backup.sqlite3")
    target.symlink_to("nowhere")
    with pytest.raises(ShelfError, match="is there already"):
        shelf.backup(target)
    assert {p.name for p in path.parent.iterdir()} == {path.name, target.name}


def test_a_backup_that_cannot_be_written_says_where_and_leaves_nothing(
    path: Path, shelf: SqliteShelf
) -> None:
    target = path / "backup.sqlite3"
    with pytest.raises(ShelfError) as caught:
        shelf.backup(target)
    assert str(caught.value).startswith(f"{target}: cannot be opened. ")
    assert [p.name for p in path.parent.iterdir()] == [path.name]


def test_a_backup_that_breaks_off_is_not_there_at_all(
    path: Path, shelf: SqliteShelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(made: Path, path: Path) -> None:
        assert made.stat().st_size > 0
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(opening, "_name", fail)
    target = path.with_name("backup.sqlite3")
    with pytest.raises(ShelfError, match="no space left on device"):
        shelf.backup(target)
    assert [p.name for p in path.parent.iterdir()] == [path.name]


def test_a_damaged_shelf_is_not_backed_up_as_if_it_were_whole(
    path: Path, shelf: SqliteShelf, batch: Make
) -> None:
    for n in range(40):
        shelf.add(batch(n, data={"words": "w" * 2000}))
    shelf.close()
    content = bytearray(path.read_bytes())
    content[8 * 4096 : 9 * 4096] = b"\xff" * 4096
    path.write_bytes(content)
    with open_shelf(path, create=False) as damaged, pytest.raises(ShelfError) as caught:
        damaged.backup(path.with_name("backup.sqlite3"))
    assert "is damaged" in str(caught.value)
    assert [p.name for p in path.parent.iterdir()] == [path.name]


def test_an_import_takes_in_everything_once(
    shelf: SqliteShelf,
    other: SqliteShelf,
    batch: Make,
    event: Make,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(transfer, "_PAGE", 10)
    for n in range(25):
        shelf.add(batch(n))
    for n in range(25):
        shelf.append(event(n, id=f"event {n:03}"))
    lines = list(shelf.export())
    assert other.import_lines(lines) == Merged(25, 0, 25, 0)
    assert everything(other) == everything(shelf)
    assert other.import_lines(lines) == Merged(0, 25, 0, 25)
    assert shelf.import_lines(lines) == Merged(0, 25, 0, 25)
    assert everything(other) == everything(shelf)


def test_lines_are_plain_json_that_begins_by_saying_what_it_is(
    shelf: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch(title="Café"))
    shelf.append(event(id="one"))
    lines = list(shelf.export())
    assert lines[0] == HEAD % (1, 1)
    assert all(line.isascii() and "\n" not in line for line in lines)
    assert [list(json.loads(line)) for line in lines[1:]] == [["batch"], ["event"]]
    assert json.loads(lines[1])["batch"]["title"] == "Café"


def test_what_is_added_while_exporting_stays_out(
    shelf: SqliteShelf, other: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch(5))
    shelf.append(event(5))
    lines = shelf.export()
    shelf.add(batch(1))
    shelf.add(batch(9))
    shelf.append(event(5))
    shelf.append(event(9))
    assert other.import_lines(lines) == Merged(1, 0, 1, 0)


steps = st.lists(
    st.tuples(
        st.sampled_from(["here", "there", "both"]),
        st.integers(0, 4),
        st.sampled_from(["opened", "used", "discarded", "topped-up"]),
        st.sampled_from([None, 1, 2]),
        st.sampled_from(["", "2031-06-01", "2031-07-01", "2031-07-02T00:00"]),
    ),
    max_size=12,
)


@settings(max_examples=25, deadline=None)
@given(steps)
def test_two_benches_merge_to_the_same_shelf_in_either_order(
    tmp_path_factory: pytest.TempPathFactory, batch: Make, event: Make, drawn: Any
) -> None:
    folder = tmp_path_factory.mktemp("benches")

    def bench(name: str) -> SqliteShelf:
        return open_shelf(folder / name, create=True)

    with bench("here") as here, bench("there") as there:
        for at, (where, n, what, bottle, day) in enumerate(drawn):
            happened = event(n, what, bottle=bottle, discard_after=day, id=str(at))
            for name, shelf in (("here", here), ("there", there)):
                if where in (name, "both"):
                    shelf.add(batch(n))
                    shelf.append(happened)
        ours, theirs = list(here.export()), list(there.export())
        with bench("one way") as one, bench("other way") as other:
            one.import_lines(ours)
            one.import_lines(theirs)
            other.import_lines([*theirs, *ours])
            here.import_lines(theirs)
            there.import_lines(ours)
            shelves = [everything(shelf) for shelf in (one, other, here, there)]
    assert shelves == [shelves[0]] * 4


def test_another_batch_with_the_number_stays_out_with_its_log(
    shelf: SqliteShelf, other: SqliteShelf, batch: Make, event: Make
) -> None:
    shelf.add(batch(1))
    other.add(batch(1, title="Pyro A"))
    other.append(event(1, "discarded", bottle=None))
    other.add(batch(2))
    merged = shelf.import_lines(other.export())
    assert (merged.batches, merged.events) == (1, 0)
    assert [str(fault) for fault in merged.refused] == [
        f"line 2: another batch has the number {batch(1).number}. "
        "Nothing is overwritten."
    ]
    assert shelf.get(batch(1).number) == batch(1)
    assert len(shelf.standing()) == 4


def test_another_event_with_the_id_stays_out(
    shelf: SqliteShelf, other: SqliteShelf, batch: Make, event: Make
) -> None:
    for bench, note in ((shelf, "left"), (other, "right")):
        bench.add(batch())
        bench.append(event(id="one", note=note))
    merged = shelf.import_lines(other.export())
    assert [str(fault) for fault in merged.refused] == [
        "line 3: another event has the id 'one'. Nothing is overwritten."
    ]
    assert shelf.events(batch().number) == [event(id="one", note="left")]


def changed(line: str, kind: str, **values: Any) -> str:
    found = json.loads(line)
    found[kind] |= values
    return json.dumps(found)


def faults_of(shelf: SqliteShelf, lines: list[str]) -> list[str]:
    with pytest.raises(BadInput) as caught:
        shelf.import_lines(lines)
    return str(caught.value).splitlines()


@pytest.mark.parametrize(
    ("kind", "values", "line"),
    [
        ("batch", {"bottles": "2"}, "line 2, bottles: '2' is of the wrong kind."),
        ("batch", {"bottles": True}, "line 2, bottles: True is of the wrong kind."),
        ("batch", {"data": None}, "line 2, data: None is of the wrong kind."),
        ("batch", {"mixed_on": "x"}, "line 2, mixed_on: 'x' is no date and time."),
        (
            "batch",
            {"number": "0000-0001-X"},
            "line 2: '0000-0001-X' is no batch number: a character is wrong, or two "
            "are swapped. Read it again from the label.",
        ),
        (
            "batch",
            {"colour": "blue"},
            "line 2: it must hold just these: number, recipe, title, mixed_on, "
            "made_by, discard_after, bottles, data.",
        ),
        ("event", {"id": ""}, "line 3, id: an exported event has an id."),
        ("event", {"at": "noon"}, "line 3, at: 'noon' is no date and time."),
        (
            "event",
            {"bottle": 7},
            "line 3: 0000-0001-Y has no bottle 7. Its bottles are numbered 1 to 2.",
        ),
        (
            "event",
            {"batch": "0000-0002-W"},
            "line 3: no batch '0000-0002-W' on this shelf. "
            "labelkit shelf lists what there is.",
        ),
    ],
)
def test_a_faulty_line_is_named_and_nothing_is_taken(
    shelf: SqliteShelf,
    other: SqliteShelf,
    batch: Make,
    event: Make,
    kind: str,
    values: dict[str, Any],
    line: str,
) -> None:
    other.add(batch(1))
    other.append(event(1, id="one"))
    lines = list(other.export())
    at = 1 if kind == "batch" else 2
    lines[at] = changed(lines[at], kind, **values)
    assert line in faults_of(shelf, lines)
    assert list(shelf.all()) == []


def test_every_faulty_line_is_reported_up_to_twenty(shelf: SqliteShelf) -> None:
    found = faults_of(shelf, [HEAD % (0, 0), "{", "[]", '{"label": 1}', '{"x": NaN}'])
    assert found == [
        "line 2: it is not JSON, or cut short.",
        "line 3: it is not JSON, or cut short.",
        "line 4: it is neither a batch nor an event.",
        "line 5: it is not JSON, or cut short.",
    ]
    assert len(faults_of(shelf, [HEAD % (0, 0), *["{"] * 500])) == 20


@pytest.mark.parametrize(
    "lines",
    [[], ["", " "], ['{"batch": {}}'], ['{"name": "x"}'], ["borax", "lye"]],
)
def test_what_was_never_exported_is_refused(
    shelf: SqliteShelf, lines: list[str]
) -> None:
    assert len(faults_of(shelf, lines)) == 1


def test_a_file_cut_short_is_told_from_a_whole_one(
    shelf: SqliteShelf, other: SqliteShelf, batch: Make, event: Make
) -> None:
    other.add(batch())
    other.append(event(id="one"))
    lines = list(other.export())
    assert faults_of(shelf, lines[:-1]) == [
        "0 of 1 events are there. It was cut short: export it again."
    ]
    assert faults_of(shelf, [*lines[:2], lines[2][:30]]) == [
        "line 3: it is not JSON, or cut short."
    ]
    assert list(shelf.all()) == []


def test_a_first_line_must_say_how_much_follows(shelf: SqliteShelf) -> None:
    head = '{"labelkit": "shelf", "form": 1, "batches": 0}'
    assert faults_of(shelf, [head]) == [
        "line 1, events: it does not say how much follows."
    ]


def test_an_export_of_a_newer_labelkit_is_refused(shelf: SqliteShelf) -> None:
    newer = '{"labelkit": "shelf", "form": 2}'
    assert faults_of(shelf, [newer]) == [
        "line 1: form 2 is not known here. Install the newer labelkit."
    ]


def test_a_file_that_is_not_text_is_refused(shelf: SqliteShelf, tmp_path: Path) -> None:
    path = tmp_path / "lines"
    path.write_bytes(b"\xff\xfe\x00")
    with path.open(encoding="utf-8") as lines, pytest.raises(BadInput) as caught:
        shelf.import_lines(lines)
    assert str(caught.value) == "the file is not text in UTF-8."
