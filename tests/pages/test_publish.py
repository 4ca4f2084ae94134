"""Publishing writes what changed, whole or not at all, and nothing else."""

import json
from datetime import datetime
from pathlib import Path

import pytest
from msgspec.structs import replace

from labelkit.errors import ShelfError
from labelkit.pages.publish import MANIFEST, Published, publish
from labelkit.shelf import SqliteShelf
from tests.pages.print_room import (
    BORATE,
    BROMIDE_PAGE,
    RECORDS,
    ROOM,
    Cards,
    happened,
    record,
)

PAGES = 10
BORATE_FILE = f"B/{BORATE}/index.html"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "not" / "yet" / "there"


@pytest.fixture
def once(folder: Path, shelf: SqliteShelf) -> Published:
    return publish(folder, shelf, Cards(), ROOM)


def state(folder: Path) -> dict[str, tuple[int, bytes]]:
    """Every file with the moment it was written."""
    return {
        str(path.relative_to(folder)): (path.stat().st_mtime_ns, path.read_bytes())
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_every_page_is_written(once: Published, folder: Path) -> None:
    assert once == Published(PAGES, PAGES)
    assert len(state(folder)) == PAGES + 1
    assert (folder / BORATE_FILE).read_text("utf-8").startswith("<!DOCTYPE html>")


def test_the_second_time_nothing_is_written(
    once: Published, folder: Path, shelf: SqliteShelf
) -> None:
    before = state(folder)
    assert publish(folder, shelf, Cards(), ROOM) == Published(PAGES, 0)
    assert state(folder) == before


def test_the_same_shelf_gives_the_same_bytes(
    once: Published, folder: Path, shelf: SqliteShelf, tmp_path: Path
) -> None:
    publish(tmp_path / "again", shelf, Cards(), ROOM)
    contents = [
        {name: body for name, (_, body) in state(f).items()}
        for f in (folder, tmp_path / "again")
    ]
    assert contents[0] == contents[1]


def test_what_happened_changes_its_own_pages_and_the_lists(
    once: Published, folder: Path, shelf: SqliteShelf
) -> None:
    before = state(folder)
    shelf.append(happened("discarded", None))
    written = publish(folder, shelf, Cards(), ROOM).written
    after = state(folder)
    changed = {name for name in after if after[name] != before.get(name)} - {MANIFEST}
    assert written == len(changed) == 5
    assert {BORATE_FILE, "discarded/index.html"} < changed
    assert {BORATE_FILE, "index.html", "R/BORATE-ALKALI/index.html"} < changed


@pytest.mark.parametrize("spoil", [b"", b"half a pa"])
def test_a_page_that_was_lost_or_cut_short_is_written_again(
    once: Published, folder: Path, shelf: SqliteShelf, spoil: bytes
) -> None:
    whole = (folder / BORATE_FILE).read_bytes()
    (folder / BORATE_FILE).unlink()
    if spoil:
        (folder / BORATE_FILE).write_bytes(
            whole[:1000]  # a page of ours, cut short
        )
    assert publish(folder, shelf, Cards(), ROOM).written == 1
    assert (folder / BORATE_FILE).read_bytes() == whole


def test_without_its_manifest_it_writes_all_again(
    once: Published, folder: Path, shelf: SqliteShelf
) -> None:
    (folder / MANIFEST).write_text("not json")
    assert publish(folder, shelf, Cards(), ROOM) == Published(PAGES, PAGES)
    assert len(json.loads((folder / MANIFEST).read_text())) == PAGES


def test_other_files_are_left_alone(
    once: Published, folder: Path, shelf: SqliteShelf
) -> None:
    others = [folder / "robots.txt", folder / "B" / "notes.txt", folder / ".hidden"]
    for other in others:
        other.write_text("ours")
    shelf.append(happened("discarded", None))
    publish(folder, shelf, Cards(), ROOM)
    assert [other.read_text() for other in others] == ["ours"] * 3


def test_somebody_elses_page_is_not_written_over(
    folder: Path, shelf: SqliteShelf
) -> None:
    folder.mkdir(parents=True)
    (folder / "index.html").write_text("<title>The choir</title>")
    with pytest.raises(
        ShelfError, match=r"index.html: is there already.*of its own\.$"
    ):
        publish(folder, shelf, Cards(), ROOM)
    assert (folder / "index.html").read_text() == "<title>The choir</title>"


def test_a_page_of_a_batch_that_left_stays(
    once: Published, folder: Path, shelf: SqliteShelf
) -> None:
    class Fewer(Cards):
        def names(self) -> tuple[str, ...]:
            return ("borate-alkali",)

    publish(folder, shelf, Fewer(), ROOM)
    assert (folder / "R/BROMIDE-STOCK/index.html").is_file()
    settled = state(folder)
    publish(folder, shelf, Fewer(), ROOM)
    assert state(folder) == settled


@pytest.mark.parametrize("at", ["", "B"])
def test_a_folder_that_cannot_be_written_to_is_one_line(
    tmp_path: Path, shelf: SqliteShelf, at: str
) -> None:
    folder = tmp_path / "site"
    if at:
        folder.mkdir()
    (folder / at).write_text("a file")
    with pytest.raises(ShelfError) as caught:
        publish(folder, shelf, Cards(), ROOM)
    (line,) = str(caught.value).splitlines()
    assert line.startswith(f"{folder}: the pages cannot be written: ")
    assert line.endswith("Name a folder that may be written to.")


def test_a_page_is_never_half_written(
    once: Published,
    folder: Path,
    shelf: SqliteShelf,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    before = state(folder)
    shelf.append(happened("discarded", None))

    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(ShelfError, match="no space left on device"):
        publish(folder, shelf, Cards(), ROOM)
    assert state(folder) == before


def test_a_visitor_of_another_user_may_read_the_pages(
    once: Published, folder: Path
) -> None:
    plain = folder.parent / "plain"
    plain.write_text("as this user writes files")
    assert (folder / BORATE_FILE).stat().st_mode == plain.stat().st_mode


def test_a_record_from_elsewhere_cannot_write_outside(
    folder: Path, shelf: SqliteShelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    stray = record(
        replace(BROMIDE_PAGE, number="QQQQ-QQQQ-8"),
        None,
        mixed_on=datetime.fromisoformat("2031-03-15T10:00:00"),
        data={"words": {"bottles": [{"code": "HTTPS://H/B/QQQQ-QQQQ-8/../../../X"}]}},
    )
    strange = replace(stray, number="../../../outside")
    monkeypatch.setattr(shelf, "all", lambda: [strange, *RECORDS])
    publish(folder, shelf, Cards(), ROOM)
    assert not list(folder.parent.rglob("*outside*"))
    # what the shelf does not know to stand is listed with the discarded
    assert len(state(folder)) == PAGES + 1 + len(["discarded/index.html"])
