"""A mix from pages, without a page: kept at every step, finished, saved once."""

import shutil
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from labelkit.cli.desk import Desk
from labelkit.cli.workplace import Workplace
from labelkit.errors import ShelfError, Unknown
from labelkit.mixing.desk import AlreadySaved, Finish, Typed, Wish
from tests.cli.conftest import kept, labelkit, read
from tests.cli.terminal import as_json


def test_readings_are_kept_whatever_happens(desk: Desk, bench: Path) -> None:
    number = desk.begin(Wish("borate-alkali", by="R. Amara"))
    desk.keep(number, Typed(), read(s1="290", s2="17,4"))
    anew = Desk(Workplace(bench))  # as after a restart
    again = anew.weighing(number)
    assert [row.typed for row in again.rows[:3]] == ["290", "17,4", ""]
    assert [row.done for row in again.rows[:3]] == [True, True, False]
    (half,) = anew.half_done()
    assert (half.number, half.by, half.done, half.steps) == (number, "R. Amara", 2, 7)


def test_a_page_opened_earlier_wipes_nothing_out(desk: Desk) -> None:
    number = desk.begin(Wish("borate-alkali"))
    desk.keep(number, Typed(), Typed(read={1: "290", 2: "17.4"}, ticked=frozenset({3})))
    old = Typed()  # as the other page showed it
    desk.keep(number, old, read(s5="3.8"))
    mix = desk.weighing(number)
    assert [row.typed for row in mix.rows] == ["290", "17.4", "", "", "3.8", "", ""]
    assert mix.typed.ticked == {3}
    desk.keep(number, mix.typed, Typed(read={1: "290", 2: "17.4"}))
    assert desk.weighing(number).typed == Typed(read={1: "290", 2: "17.4"})


def test_a_reading_just_ten_percent_off_is_taken_and_more_is_asked(desk: Desk) -> None:
    number = desk.begin(Wish("plain-fixer"))
    weighed = next(r for r in desk.weighing(number).rows if r.unit == "g")
    step = weighed.row.number
    planned = float(weighed.row.amounts[0].text.split("\xa0")[0])
    at_the_limit, over = f"{planned * 1.1:.4f}", f"{planned * 1.1 + 0.0001:.4f}"
    assert desk.keep(number, Typed(), Typed(read={step: at_the_limit})).ready
    typed = Typed(read={step: over})
    mix = desk.keep(number, Typed(), typed)
    assert not mix.ready
    assert mix.rows[step - 1].doubt.endswith("more than planned.")
    assert "" in desk.save(number, Finish())
    sure = Typed(read={step: over}, sure={step: over})
    assert desk.keep(number, typed, sure).ready


def test_a_confirmed_reading_that_changes_is_asked_again(desk: Desk) -> None:
    number = desk.begin(Wish("borate-alkali"))
    first = Typed(read={2: "21"}, sure={2: "21"})
    assert desk.keep(number, Typed(), first).ready
    second = Typed(read={2: "25"}, sure={2: "21"})
    assert not desk.keep(number, first, second).ready


@pytest.mark.parametrize(
    "word", ["a pinch", "1,000 g", "-3", "0", "5 mL of it", "1e9 kg", "x" * 200]
)
def test_what_cannot_be_read_stays_and_is_told(desk: Desk, word: str) -> None:
    number = desk.begin(Wish("borate-alkali"))
    mix = desk.keep(number, Typed(), Typed(read={2: word}))
    assert mix.rows[1].typed == word
    assert mix.rows[1].fault
    assert not mix.ready
    assert number not in labelkit("shelf").out
    assert desk.save(number, Finish())


def test_after_too_much_the_mix_is_made_larger_and_keeps_its_strength(
    desk: Desk,
) -> None:
    number = desk.begin(Wish("borate-alkali"))
    typed = Typed(read={2: "17.3", 5: "4.625"}, sure={5: "4.625"})
    mix = desk.keep(number, Typed(), typed)
    assert "4.3 g more of Borax decahydrate" in mix.rows[4].offer
    assert "625 mL in all" in mix.rows[4].offer
    desk.enlarge(number, 5)
    mix = desk.weighing(number)
    assert mix.made == "625 mL"
    assert mix.larger
    assert mix.rows[1].due == "4.3 g"
    before = mix.typed
    now = Typed(read=before.read, more={2: "4.3"})
    mix = desk.keep(number, before, now)
    assert mix.ready
    desk.keep(number, mix.typed, mix.typed)  # kept twice, added once
    assert desk.save(number, Finish()) == {}
    batch = kept(number)
    weighed = {row["step"]: row["g"] for row in batch["weighed"]}
    assert (weighed[2], weighed[5]) == (21.6, 4.625)
    planned = as_json(labelkit("plan", "borate-alkali", "--json").out)
    assert batch["strength"]["g_per_L"] == pytest.approx(
        planned["strength"]["g_per_L"], rel=0.01
    )
    assert batch["make"] == {"mL": 625}


def test_nothing_is_made_larger_where_nothing_is_too_much(desk: Desk) -> None:
    number = desk.begin(Wish("borate-alkali"))
    desk.keep(number, Typed(), read(s2="18"))
    for step in (2, 1, 3, 99):
        desk.enlarge(number, step)
    assert not desk.weighing(number).larger


def test_faults_at_the_end_stand_by_their_fields_and_nothing_is_lost(
    desk: Desk,
) -> None:
    number = desk.begin(Wish("pyro-b"))
    wrong = Finish(
        "much", "17", "heavy", "2x400", "M" * 81, "everybody", {"order": "yes"}
    )
    assert set(desk.save(number, wrong)) == {
        "made_up_to", "ph", "density", "into", "by", "use",
    }  # fmt: skip
    assert desk.finishing(number).typed == wrong
    assert desk.finishing(number).outcome is not None
    longest = Finish(by="M" * 80)
    assert desk.save(number, longest) == {}


def deadly(bench: Path) -> str:
    """A recipe with a remark that must be acknowledged."""
    text = """
title = "Too hot"
makes = "100 mL"
[[step]]
add = "sodium-hydroxide"
amount = "40 g"
[[step]]
add = "water"
amount = "80 mL"
[[step]]
make_up_to = "100 mL"
"""
    (bench / "recipes" / "too-hot.toml").write_text(text, "utf-8")
    answer = as_json(labelkit("plan", "too-hot", "--json").out)
    codes = [str(c["code"]) for c in answer["checks"] if c["level"] == "stop"]
    return codes[0]


def test_a_deadly_remark_is_acknowledged_by_its_word(desk: Desk, bench: Path) -> None:
    code = deadly(bench)
    number = desk.begin(Wish("too-hot"))
    assert [c.code for c in desk.finishing(number).stops][:1] == [code]
    assert f"seen-{code}" in desk.save(number, Finish())
    assert f"seen-{code}" in desk.save(number, Finish(seen={code: "yes"}))
    assert desk.save(number, Finish(seen={code: f" {code.upper()} "})) == {}
    assert kept(number)["acknowledged"] == [code]


def test_a_mix_is_saved_once_whoever_presses(desk: Desk, bench: Path) -> None:
    number = desk.begin(Wish("borate-alkali"))
    desk.keep(number, Typed(), read(s2="17.4"))
    desks = [desk, Desk(Workplace(bench)), desk, Desk(Workplace(bench))]

    def press(by: int) -> str:
        try:
            faults = desks[by].save(number, Finish(by=f"person {by}"))
        except AlreadySaved as saved:
            return str(saved.number)
        return str(faults)

    with ThreadPoolExecutor(4) as people:
        told = sorted(people.map(press, range(4)))
    assert told == sorted(["{}", number, number, number])
    assert len(as_json(labelkit("shelf", "--json").out)["items"]) == 1


def test_what_was_saved_is_neither_changed_nor_given_up(desk: Desk) -> None:
    number = desk.begin(Wish("borate-alkali"))
    desk.save(number, Finish())
    before = kept(number)
    for attempt in (
        lambda: desk.keep(number, Typed(), read(s2="20")),
        lambda: desk.enlarge(number, 2),
        lambda: desk.save(number, Finish(by="R. Amara")),
        lambda: desk.give_up(number),
        lambda: desk.weighing(number),
    ):
        with pytest.raises(AlreadySaved):
            attempt()
    assert kept(number) == before


def test_a_mix_given_up_is_gone(desk: Desk) -> None:
    number = desk.begin(Wish("borate-alkali"))
    desk.give_up(number)
    assert desk.half_done() == ()
    with pytest.raises(Unknown):
        desk.weighing(number)


def test_a_mix_goes_on_though_its_recipe_was_edited(desk: Desk, bench: Path) -> None:
    number = desk.begin(Wish("borate-alkali"))
    path = bench / "recipes" / "borate-alkali.toml"
    path.write_text(path.read_text("utf-8").replace("17.3 g", "30 g"), "utf-8")
    mix = desk.weighing(number)
    assert mix.edited
    assert mix.rows[1].row.amounts[0].text == "17.3\xa0g"
    assert desk.plan(Wish("borate-alkali")).card.rows[1].amounts[0].text == "30.0\xa0g"
    assert desk.save(number, Finish()) == {}


def test_a_mix_goes_on_though_files_are_gone(desk: Desk, bench: Path) -> None:
    number = desk.begin(Wish("pyro-working"))
    for name in ("pyro-working", "pyro-a", "pyro-b"):
        (bench / "recipes" / f"{name}.toml").unlink()
    (bench / "jars.toml").unlink()
    assert desk.weighing(number).edited
    assert desk.save(number, Finish()) == {}
    assert kept(number)["title"] == "Pyro working bath"


def test_a_mix_keeps_the_assay_it_was_begun_with(desk: Desk, bench: Path) -> None:
    number = desk.begin(Wish("borate-alkali"))
    before = desk.weighing(number).rows[4].row
    jars = bench / "jars.toml"
    jars.write_text(jars.read_text("utf-8").replace("98 %", "50 %"), "utf-8")
    assert desk.weighing(number).rows[4].row == before
    fresh = desk.plan(Wish("borate-alkali")).card.rows[4]
    assert fresh.amounts[0].text == "7.3\xa0g"  # 3.7 g x 98 / 50 = 7.252 g


def test_the_terminals_half_done_mix_is_left_alone(
    desk: Desk, place: Workplace
) -> None:
    place.shelf.save_draft("borate-alkali", {"at": 2})
    number = desk.begin(Wish("borate-alkali"))
    assert [half.number for half in desk.half_done()] == [number]
    assert desk.save(number, Finish()) == {}
    assert place.shelf.draft("borate-alkali") == {"at": 2}
    assert place.shelf.drafts() == ["borate-alkali"]


def test_a_shelf_that_is_gone_is_told_plainly(desk: Desk, bench: Path) -> None:
    number = desk.begin(Wish("borate-alkali"))
    shutil.move(bench / "shelf.sqlite3", bench / "elsewhere.sqlite3")
    for attempt in (
        lambda: desk.weighing(number),
        lambda: desk.half_done(),
        lambda: desk.begin(Wish("borate-alkali")),
        lambda: desk.save(number, Finish()),
    ):
        with pytest.raises(ShelfError):
            attempt()
