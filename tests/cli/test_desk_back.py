"""A mix made larger after an overshoot is taken back, as if it had been read right."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from labelkit.cli.desk import Desk
from labelkit.cli.workplace import Workplace
from labelkit.errors import Unknown
from labelkit.mixing.desk import AlreadySaved, Finish, Typed, Weighing, Wish
from tests.cli.conftest import kept, labelkit

FILL = 7  # the step that makes up to 500 mL
# 4.625 g of lye for 3.7 g: 25 % too much, so 625 mL and 17.3 x 0.25 = 4.3 g more borax
TOO_MUCH = {1: "300", 2: "17.3", 4: "50", 5: "4.625"}
RIGHT = {**TOO_MUCH, 5: "3.7"}


def made_larger(desk: Desk, readings: dict[int, str]) -> str:
    """A mix in which the lye was overshot, made larger for it."""
    number = desk.begin(Wish("borate-alkali"))
    desk.keep(number, Typed(), Typed(read=readings, sure={5: "4.625"}))
    desk.enlarge(number, 5)
    mix = desk.weighing(number)
    assert (mix.made, mix.at_first, mix.larger_for) == ("625 mL", "500 mL", (5,))
    return number


def typed(desk: Desk, number: str, **changed: dict[int, str]) -> Weighing:
    """Fields changed by hand, all others as the page shows them."""
    before = desk.weighing(number).typed
    now = {name: {**getattr(before, name), **new} for name, new in changed.items()}
    return desk.keep(number, before, replace(before, **now))


def on_the_shelf(desk: Desk, number: str) -> dict[str, object]:
    assert desk.save(number, Finish(by="R. Amara")) == {}
    differs = {"batch", "mixed_on"}
    return {name: word for name, word in kept(number).items() if name not in differs}


def as_planned(mix: Weighing) -> list[object]:
    rows = (replace(row, doubt="", sure=False) for row in mix.rows)
    return [mix.made, mix.checks, mix.ready, *rows]


def test_there_is_nothing_to_take_back_where_nothing_was_made_larger(
    desk: Desk,
) -> None:
    with pytest.raises(Unknown):
        desk.take_back("7K3M-Q9TX-8")
    number = desk.begin(Wish("borate-alkali"))
    before = desk.keep(number, Typed(), Typed(read=TOO_MUCH))
    desk.take_back(number)
    assert desk.weighing(number) == before
    assert (before.larger_for, before.at_first) == ((), "")


def test_what_is_filled_up_already_stays_larger(desk: Desk) -> None:
    number = made_larger(desk, TOO_MUCH)
    before = desk.weighing(number).typed
    desk.keep(number, before, replace(before, ticked=frozenset({FILL})))
    desk.take_back(number)
    mix = desk.weighing(number)
    assert (mix.made, mix.at_first) == ("625 mL", "")
    desk.keep(number, mix.typed, replace(mix.typed, ticked=frozenset()))
    desk.take_back(number)
    assert desk.weighing(number).made == "500 mL"


def test_what_was_saved_or_given_up_is_not_taken_back(desk: Desk) -> None:
    number = made_larger(desk, TOO_MUCH)
    typed(desk, number, more={2: "4.3"})
    assert desk.save(number, Finish()) == {}
    with pytest.raises(AlreadySaved):
        desk.take_back(number)
    assert kept(number)["make"] == {"mL": 625}


@pytest.mark.parametrize("corrected_first", [True, False])
def test_a_corrected_reading_leads_where_it_had_led_if_read_right_at_first(
    desk: Desk, bench: Path, corrected_first: bool
) -> None:
    at_once = desk.begin(Wish("borate-alkali"))
    desk.keep(at_once, Typed(), Typed(read=RIGHT))
    number = made_larger(desk, TOO_MUCH)
    if corrected_first:
        assert not typed(desk, number, read={5: "3.7"}).ready
    desk.take_back(number)
    desk.take_back(number)  # the button pressed twice
    desk = Desk(Workplace(bench))  # as after a restart
    typed(desk, number, read={5: "3.7"})
    mix = desk.weighing(number)
    # no more than this is asked: did the borax that was called for go in?
    assert [row.row.number for row in mix.rows if row.doubt] == [2]
    assert not mix.ready
    typed(desk, number, sure={2: "17.3"})
    assert as_planned(desk.weighing(number)) == as_planned(desk.weighing(at_once))
    assert on_the_shelf(desk, number) == on_the_shelf(desk, at_once)


def test_what_went_in_on_top_stays_in_and_is_told(desk: Desk) -> None:
    number = made_larger(desk, TOO_MUCH)
    typed(desk, number, more={2: "4.3"}, read={5: "3.7"})
    desk.take_back(number)
    row = desk.weighing(number).rows[1]
    # 21.6 / 17.3 = 1.2486
    assert row.doubt == "21.6 g is 25 % more than planned."
    assert (row.typed, row.more, row.due, row.sure) == ("17.3", "4.3", "", False)
    assert "" in desk.save(number, Finish())
    typed(desk, number, sure={2: "21.6 g"})
    weighed = {row["step"]: row["g"] for row in on_the_shelf(desk, number)["weighed"]}  # type: ignore[attr-defined]
    assert (weighed[2], weighed[5]) == (21.6, 3.7)


def test_where_nothing_was_read_it_is_asked_before_it_counts_as_planned(
    desk: Desk,
) -> None:
    number = made_larger(desk, {5: "4.625"})
    desk.take_back(number)
    mix = typed(desk, number, read={5: "3.7"})
    # water is left out: filling up brings what it lacks
    assert [row.row.number for row in mix.rows if row.doubt] == [2]
    row = mix.rows[1]
    assert row.doubt.startswith("21.6 g was planned here meanwhile.")
    assert (row.told, row.sure, mix.ready) == ("17.3 g", False, False)
    assert "" in desk.save(number, Finish())
    assert typed(desk, number, sure={2: "17.3 g"}).ready
    assert not typed(desk, number, sure={2: ""}).ready
    assert typed(desk, number, read={2: "18"}).ready


def test_what_was_weighed_for_the_larger_mix_and_not_read_is_asked_too(
    desk: Desk,
) -> None:
    number = desk.begin(Wish("borate-alkali"))
    desk.keep(number, Typed(), Typed(read={2: "21.625"}, sure={2: "21.625"}))
    desk.enlarge(number, 2)  # 25 % more: 4.6 g of lye is planned now
    before = desk.weighing(number).typed
    desk.keep(number, before, replace(before, ticked=frozenset({6})))
    desk.take_back(number)
    rows = desk.weighing(number).rows
    assert [row.row.number for row in rows if row.doubt and not row.sure] == [5]
    assert rows[4].doubt.startswith("4.6 g was planned here meanwhile.")


def test_a_reading_that_is_emptied_answers_nothing(desk: Desk) -> None:
    number = made_larger(desk, TOO_MUCH)
    desk.take_back(number)
    mix = typed(desk, number, read={2: "", 5: "3.7"})
    assert (mix.rows[1].told, mix.ready) == ("17.3 g", False)


def test_what_was_confirmed_of_the_larger_mix_is_asked_again(desk: Desk) -> None:
    number = made_larger(desk, TOO_MUCH)
    assert typed(desk, number, sure={2: "17.3"}).rows[1].sure  # 20 % less than 21.6 g
    desk.take_back(number)
    assert not desk.weighing(number).rows[1].sure


def test_what_is_on_top_of_no_reading_answers_nothing(desk: Desk) -> None:
    number = made_larger(desk, TOO_MUCH)
    typed(desk, number, more={2: "4.3"}, read={2: "", 5: "3.7"})
    desk.take_back(number)
    assert not desk.weighing(number).ready
    mix = typed(desk, number, more={2: "4.2"})
    assert (mix.rows[1].told, mix.ready) == ("17.3 g", False)
    assert typed(desk, number, read={2: "13"}, more={2: "4.3"}).ready


def test_it_is_made_larger_again_only_once_it_is_said_what_is_in(desk: Desk) -> None:
    number = made_larger(desk, TOO_MUCH)
    desk.take_back(number)
    assert desk.weighing(number).rows[4].offer == ""
    desk.enlarge(number, 5)
    assert not desk.weighing(number).larger
    typed(desk, number, sure={2: "17.3"})
    assert "4.3 g more of Borax" in desk.weighing(number).rows[4].offer
    desk.enlarge(number, 5)
    mix = desk.weighing(number)
    assert (mix.made, mix.rows[1].due, mix.larger_for) == ("625 mL", "4.3 g", (5,))
    assert mix.rows[1].doubt == "17.3 is 20 % less than planned."  # 17.3 / 21.625


def test_all_that_made_it_larger_is_taken_back_at_once(desk: Desk) -> None:
    number = made_larger(desk, TOO_MUCH)
    typed(desk, number, more={2: "10"})  # 27.3 g for 21.6 g
    typed(desk, number, sure={2: "27.3 g", 5: "4.625"})
    desk.enlarge(number, 2)
    mix = desk.weighing(number)
    assert mix.larger_for == (5, 2)
    assert mix.at_first == "500 mL"
    desk.take_back(number)
    mix = desk.weighing(number)
    assert (mix.made, mix.larger_for) == ("500 mL", ())
    # 27.3 / 17.3 = 1.578
    assert mix.rows[1].doubt == "27.3 g is 58 % more than planned."
    assert mix.rows[4].doubt == "4.625 is 25 % more than planned."


def test_a_page_that_was_open_before_loses_nothing_it_took(desk: Desk) -> None:
    number = made_larger(desk, TOO_MUCH)
    old = desk.weighing(number).typed
    desk.take_back(number)
    desk.keep(number, old, replace(old, more={2: "4.3"}))
    row = desk.weighing(number).rows[1]
    assert (row.more, row.doubt) == ("4.3", "21.6 g is 25 % more than planned.")
    assert labelkit("shelf").code == 0
