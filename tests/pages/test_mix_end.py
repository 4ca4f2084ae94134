"""The end of a mix by forms: what came out, saved once, asked without a browser."""

import shutil
from pathlib import Path

import pytest

from labelkit.errors import Unknown
from labelkit.mixing.desk import Finish, Typed
from labelkit.pages.mix_done import done_values
from labelkit.pages.renderer import render
from tests.pages.mixing_pages import page, values
from tests.pages.mixing_room import Room
from tests.pages.reading import outline


@pytest.fixture
def room(bench: Path) -> Room:
    return Room(bench)


def test_the_end_shows_what_came_out_before_it_is_saved(room: Room) -> None:
    number = room.begun(by="M. Osei")
    room.post(f"weigh/{number}", {"read-2": "17.4"})
    read = page(room.get(f"finish/{number}"))
    for must in ("20 mL = 1 g", "2 Borax decahydrate 17.3 g 17.4 g", "not read",
                 "DANGER", "Save the batch"):  # fmt: skip
        assert must in read.text, must
    assert values(read)["by"] == "M. Osei"
    done = room.post(f"finish/{number}", {"made-up-to": "1 L", "do": "work-out"})
    assert done.location == f"../finish/{number}#outcome"
    assert "40 mL = 1 g" in page(room.get(f"finish/{number}")).text


def test_a_ph_is_asked_for_only_where_nobody_measured_one(room: Room) -> None:
    assert "ph" not in values(page(room.get(f"finish/{room.begun()}")))
    read = page(room.get(f"finish/{room.begun('plain-fixer')}"))
    assert "ph" in values(read)
    assert "density" not in values(read)


@pytest.mark.parametrize(
    ("field", "word"),
    [
        ("made-up-to", "lots"),
        ("made-up-to", "5 g"),
        ("ph", "16"),
        ("ph", "acid"),
        ("density", "9"),
        ("into", "3x400"),
        ("into", "x"),
        ("by", "M" * 81),
        ("use", "me"),
    ],
)
def test_a_fault_at_the_end_stands_beside_its_field(
    room: Room, field: str, word: str
) -> None:
    number = room.begun("pyro-b")
    form = {"by": "M. Osei", "into": "250", "do": "save", field: word}
    read = page(room.post(f"finish/{number}", form), 422)
    assert "Not saved yet. What you typed is kept." in read.text
    assert f"#{field}" in read.values("href")
    if field != "use":
        assert values(read)[field] == word
        invalid = [a.get("id") for _, a in read.tags if a.get("aria-invalid")]
        assert invalid == [field]
    again = page(room.get(f"finish/{number}"))
    assert values(again)["into"] == form["into"]


def test_saving_leads_to_the_label_and_what_to_do_now(room: Room) -> None:
    number = room.begun(by="M. Osei")
    form = {"do": "save", "by": "M. Osei", "into": "2x250", "use": "all"}
    done = room.post(f"finish/{number}", form)
    assert (done.status, done.location) == (303, f"../done/{number}")
    read = page(room.get(f"done/{number}"))
    links = read.values("href")
    assert f"../label/{number}.pdf" in links
    assert f"../B/{number}/index.html" in links
    for must in ("The 2 labels, as PDF", "stick the label on before you pour",
                 f"Borate alkali stock, {number}", "DANGER", "2 × 250 mL"):  # fmt: skip
        assert must in read.text, must


def test_a_second_save_is_told_that_it_is_saved_already(room: Room) -> None:
    number = room.begun()
    form = {"do": "save", "by": "M. Osei"}
    room.post(f"finish/{number}", form)
    for path in (f"finish/{number}", f"weigh/{number}"):
        read = page(room.post(path, {**form, "by": "R. Amara"}), 409)
        assert f"Already saved as {number}" in read.title
        assert f"../done/{number}" in read.values("href")
        assert room.get(path).location == f"../done/{number}"
    assert room.place.shelf.get(number).made_by == "M. Osei"
    read = page(room.post("mixes", {"give-up": number, "really": number}), 409)
    assert number in read.text


def test_a_mix_is_given_up_only_when_it_is_said_twice(room: Room) -> None:
    number = room.begun()
    read = page(room.post("mixes", {"give-up": number}))
    assert "What is in the beaker has no record then." in read.text
    assert len(room.desk.half_done()) == 1
    done = room.post("mixes", {"give-up": number, "really": number})
    assert (done.status, done.location) == (303, "mixes")
    with pytest.raises(Unknown):
        room.desk.weighing(number)
    assert "is no number of a mix" in page(room.post("mixes"), 404).text


def test_a_deadly_remark_keeps_it_from_being_saved(room: Room, bench: Path) -> None:
    (bench / "recipes" / "hot.toml").write_text(
        'title = "Too hot"\nmakes = "100 mL"\n'
        '[[step]]\nadd = "sodium-hydroxide"\namount = "40 g"\n'
        '[[step]]\nadd = "water"\namount = "80 mL"\n'
        '[[step]]\nmake_up_to = "100 mL"\n',
        "utf-8",
    )
    assert "STOP" in page(room.get("plan/hot")).text
    number = room.begun("hot")
    assert "STOP" in page(room.get(f"weigh/{number}")).text
    read = page(room.get(f"finish/{number}"))
    field = next(name for name in values(read) if name.startswith("seen-"))
    code = field.removeprefix("seen-")
    read = page(room.post(f"finish/{number}", {"do": "save", field: "ok"}), 422)
    assert f"Type the word {code} to say that you know." in read.text
    assert room.post(f"finish/{number}", {"do": "save", field: code}).status == 303


def test_a_mix_whose_recipe_is_gone_goes_on_and_says_so(
    room: Room, bench: Path
) -> None:
    number = room.begun()
    (bench / "recipes" / "borate-alkali.toml").unlink()
    read = page(room.get(f"weigh/{number}"))
    assert "The file of this recipe was changed or removed since." in read.text
    assert room.post(f"finish/{number}", {"do": "save"}).status == 303


def test_a_shelf_that_is_gone_is_told_and_nothing_is_said_to_be_kept(
    room: Room, bench: Path
) -> None:
    number = room.begun()
    kept = room.desk.weighing(number).typed
    shutil.move(bench / "shelf.sqlite3", bench / "away.sqlite3")
    for answer in (
        room.get(f"weigh/{number}"),
        room.get("mixes"),
        room.post(f"weigh/{number}", {"read-2": "17"}),
        room.post(f"finish/{number}", {"do": "save"}),
        room.post("plan/borate-alkali"),
    ):
        read = page(answer, 503)
        assert "Nothing was written down." in read.text
    shutil.move(bench / "away.sqlite3", bench / "shelf.sqlite3")
    assert room.desk.weighing(number).typed == kept == Typed()


def test_a_batch_whose_words_cannot_be_read_still_has_its_page(room: Room) -> None:
    number = room.begun()
    room.desk.save(number, Finish())
    record = room.place.shelf.get(number)
    record.data["words"]["page"] = None
    told = done_values(record, room.place.settings)
    assert told["page"] is None
    usual = {"language": "en", "room": "", "root": "../", "live": True}
    read = outline(render("done", **{**usual, **told}))
    assert number in read.text
    assert read.faults == []
