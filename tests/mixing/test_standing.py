"""How a bottle stands, from its batch and its log; the sums are done by hand beside."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.bottle_state import BottleState, State
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.said import NBSP
from labelkit.mixing.standing import standings, told
from labelkit.mixing.state_text import happened, marks, numbers_told, short_left
from tests.mixing.bottles import batch, event, fixer, found

LATER = datetime.fromisoformat("2031-04-20T12:00")


def only(record: Record, *events: Event) -> BottleState:
    (state,) = standings(record, events)
    return state


def words(state: BottleState) -> str:
    return told(state).replace(NBSP, " ")


def test_a_bottle_nobody_touched_is_full() -> None:
    state = only(batch())
    assert (state.state, state.remaining) == (State.FULL, Decimal(500))
    assert words(state) == "Full: 500 mL. Discard after 2032-03-14."


def test_an_opened_one_is_as_full_as_it_was() -> None:
    state = only(batch(), event("opened", discard_after="2031-05-01"))
    assert (state.state, state.remaining) == (State.OPENED, Decimal(500))
    assert words(state) == (
        "Opened: 500 mL. Discard after 2031-05-01 (opened 2031-04-01)."
    )


def test_what_was_used_is_missing_and_what_was_added_is_there() -> None:
    state = only(
        batch(),
        event("used", "2031-04-01", amount_mL="60"),
        event("used", "2031-04-02", amount_mL="0.5"),
        event("topped-up", "2031-04-03", amount_mL="20"),
    )
    # 500 − 60.5 + 20
    assert (state.used, state.topped_up) == (Decimal("60.5"), Decimal(20))
    assert (state.state, state.remaining) == (State.PART_FULL, Decimal("459.5"))
    assert words(state).startswith("Part full: 459.5 mL of 500 mL left.")
    assert short_left(state).replace(NBSP, " ") == "459.5 of 500 mL"


def test_used_without_an_amount_leaves_an_unknown_rest_and_says_so() -> None:
    state = only(batch(), event("used"), event("used", "2031-04-02", amount_mL="60"))
    assert (state.state, state.remaining) == (State.PART_FULL, None)
    assert words(state).startswith(
        "Part full: what is left is not known (used 2031-04-01, how much was not said)."
    )
    assert short_left(state).replace(NBSP, " ") == "? of 500 mL"


@pytest.mark.parametrize(
    ("used", "left", "over", "state"),
    [("499", 1, 0, State.PART_FULL), ("500", 0, 0, State.EMPTY),
     ("501", 0, 1, State.EMPTY)],
)  # fmt: skip
def test_more_used_than_it_holds_is_said_and_nothing_is_lost(
    used: str, left: int, over: int, state: State
) -> None:
    found = only(batch(), event("used", amount_mL=used))
    assert found.state is state
    assert [found.remaining, found.overdrawn] == [left, over]
    assert found.used == Decimal(used)
    assert ("1 mL more used than it held" in words(found)) is bool(over)


def test_filled_up_again_it_counts_as_opened() -> None:
    state = only(
        batch(),
        event("used", amount_mL="60"),
        event("topped-up", "2031-04-02", amount_mL="60"),
    )
    assert (state.state, state.remaining) == (State.OPENED, Decimal(500))


def test_film_that_went_through_a_bath_leaves_it_as_full_as_it_was() -> None:
    state = only(fixer(), event("used", treated="2 roll"))
    assert (state.state, state.remaining) == (State.OPENED, Decimal(500))


@pytest.mark.parametrize(
    ("treated", "said", "mark"),
    [
        # 20 rolls a litre: 10 to the half litre
        ((), "Good for 10 rolls.", ()),
        (("3 roll",), "7 of 10 rolls left.", ()),
        (("8 roll", "3 4x5 sheet"), "1.25 of 10 rolls left.", ()),
        (("8 roll", "4 4x5 sheet"), "Last roll: 1 of 10 rolls left.", ("last roll",)),
        (("8 roll", "120 in2"), "Last roll: 0.5 of 10 rolls left.", ("last roll",)),
        (("10 roll",), "Its capacity of 10 rolls is used up.", ("used up",)),
        (
            ("10 roll", "1 in2"),
            "OVER: more than 10 rolls through it, good for 10 rolls.",
            ("OVER",),
        ),
        (("9 roll", "2 8x10 sheet"), "OVER: 11 rolls through it, good for 10 rolls.",
         ("OVER",)),
    ],
)  # fmt: skip
def test_capacity_is_counted_and_warned_of(
    treated: Sequence[str], said: str, mark: tuple[str, ...]
) -> None:
    events = [event("used", id=str(n), treated=one) for n, one in enumerate(treated)]
    state = only(fixer(), *events)
    assert said in words(state)
    assert marks(state, LATER) == mark


def test_topping_up_does_not_revive_an_exhausted_bath() -> None:
    # an army manual, as the facts of practice give it: replenisher never does
    state = only(
        fixer(),
        event("used", treated="11 roll"),
        event("topped-up", "2031-04-02", amount_mL="500"),
    )
    assert state.tallied is not None
    assert state.tallied.over
    assert state.tallied.left == 0


def test_film_is_counted_though_no_capacity_is_known() -> None:
    state = only(batch(), event("used", treated="4 4x5 sheet"))
    assert "1 roll through it; no capacity known." in words(state)


def test_each_bottle_has_its_share_of_the_capacity() -> None:
    first, second = standings(
        fixer(sizes=(300, 200)), [event("used", treated="4 roll", bottle=2)]
    )
    assert first.tallied is not None
    assert second.tallied is not None
    # 20 a litre: 6 and 4
    assert [first.tallied.holds, second.tallied.holds] == [6, 4]
    assert [first.tallied.used, second.tallied.used] == [0, 4]


def test_what_was_taken_from_a_batch_of_several_is_missing_somewhere() -> None:
    states = standings(
        fixer(sizes=(250, 250)),
        [
            event("used", amount_mL="60", bottle=None),
            event("used", "2031-04-02", treated="2 roll", bottle=None),
        ],
    )
    for state in states:
        assert (state.state, state.remaining) == (State.PART_FULL, None)
        assert "which bottle was not said" in words(state)
        assert state.tallied is not None
        assert state.tallied.used == 2  # on the safe side: counted against each


def test_the_earliest_date_counts_and_tells_why() -> None:
    state = only(
        batch(),
        event("opened", "2031-04-01", discard_after="2031-10-01"),
        event("used", "2031-04-02", amount_mL="5", discard_after="2031-06-02"),
        event("topped-up", "2031-04-03", amount_mL="5", discard_after="2031-07-01"),
    )
    assert state.discard_after == "2031-06-02"
    assert state.why == "part full since 2031-04-02"


@pytest.mark.parametrize(
    ("more", "why"),
    [
        ({"what": "topped-up", "source": "0000-0002-W"},
         "topped up from 0000-0002-W 2031-04-01"),
        ({"what": "used", "treated": "1 roll"}, "in use since 2031-04-01"),
        ({"what": "opened"}, "opened 2031-04-01"),
    ],
)  # fmt: skip
def test_what_brought_the_date_forward_is_named(more: dict[str, Any], why: str) -> None:
    assert only(batch(), event(discard_after="2031-05-01", **more)).why == why


def test_a_date_of_an_hour_is_earlier_than_the_end_of_its_day() -> None:
    state = only(
        batch(discard_after="2031-03-14"),
        event("used", "2031-03-14T19:00", discard_after="2031-03-14 23:00"),
    )
    assert state.discard_after == "2031-03-14 23:00"
    assert not state.is_past(datetime.fromisoformat("2031-03-14T22:59"))
    assert state.is_past(datetime.fromisoformat("2031-03-14T23:00"))


def test_no_date_is_said_too() -> None:
    assert "No discard date known: test before use." in words(
        only(batch(discard_after=None))
    )


def test_a_discarded_bottle_says_only_that() -> None:
    first, second = standings(
        batch(sizes=(250, 250), use_mark="HOLD"),
        [event("discarded", bottle=2), event("used", "2031-04-02", bottle=2)],
    )
    assert (first.stands, second.stands) == (True, False)
    assert words(second) == "Discarded 2031-04-01."
    assert marks(second, LATER) == ()
    assert (first.name, second.name) == ("0000-0001-Y/1", "0000-0001-Y/2")


def test_marks_come_with_the_most_urgent_first() -> None:
    record = batch(discard_after="2031-04-19", use_mark="ASK M. Osei")
    assert marks(only(record), LATER) == ("PAST ITS DATE", "ASK M. Osei")
    the_day_before = datetime.fromisoformat("2031-04-19T23:59")
    assert marks(only(record), the_day_before) == ("ASK M. Osei",)


def test_it_stands_where_it_was_last_moved_to() -> None:
    events = [
        event("moved", "2031-04-02", place="cupboard B"),
        event("moved", "2031-04-01", place="window sill"),
        event("moved", "2031-04-03", note="dusted"),
    ]
    state = only(batch(), *events)
    assert state.place == "cupboard B"
    assert "Stands: cupboard B." in words(state)


def test_a_dry_mixture_is_told_in_grams() -> None:
    state = only(batch(sizes=(100,), unit="g"), event("used", amount_g="12.5"))
    assert (state.unit, state.remaining) == ("g", Decimal("87.5"))
    assert words(state).startswith("Part full: 87.5 g of 100 g left.")


def test_a_bottle_that_was_found_is_never_told_to_be_full() -> None:
    state = only(found())
    assert (state.state, state.filled, state.found) == (State.UNKNOWN, None, True)
    assert words(state) == ("UNKNOWN: what is in it is not known. Claim by 2031-04-14.")
    assert marks(state, LATER) == ("PAST ITS CLAIM DATE", "FOUND")
    on_its_last_day = datetime.fromisoformat("2031-04-14T23:59")
    assert marks(state, on_its_last_day) == ("FOUND",)
    assert marks(only(found(None)), LATER) == ("FOUND",)


@pytest.mark.parametrize("data", [{}, {"answer": []}, {"recipe": {"document": "x ="}}])
def test_a_record_that_says_nothing_of_its_bottles_stands_all_the_same(
    data: dict[str, Any],
) -> None:
    state = only(batch(data=data), event("used", amount_mL="5"))
    assert (state.filled, state.remaining, state.tallied) == (None, None, None)
    assert words(state) == "Part full. Discard after 2032-03-14."


@pytest.mark.parametrize("amount", ["NaN", "-5", "many", "Infinity", "0"])
def test_an_amount_that_is_none_is_not_counted(amount: str) -> None:
    state = only(batch(), event("used", amount_mL=amount))
    assert state.used == 0
    assert state.remaining is None


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"what": "used", "amount_mL": "60"}, "used 60 mL"),
        ({"what": "used", "amount_g": "5"}, "used 5 g"),
        ({"what": "used", "treated": "4 4x5 sheet"}, "used for 4 sheets 4x5"),
        ({"what": "topped-up", "amount_mL": "9", "source": "0000-0002-W/2"},
         "topped-up 9 mL from 0000-0002-W/2"),
        ({"what": "moved", "place": "cupboard B"}, "moved to cupboard B"),
        ({"what": "opened"}, "opened"),
    ],
)  # fmt: skip
def test_an_event_is_told_in_words(more: dict[str, Any], said: str) -> None:
    assert happened(event(**more)).replace(NBSP, " ") == said


@pytest.mark.parametrize(
    ("bottles", "said"),
    [
        ([2], "2"),
        ([1, 2], "1, 2"),
        ([1, 2, 3], "1 to 3"),
        ([1, 3, 4, 5, 7], "1, 3 to 5, 7"),
    ],
)
def test_bottles_that_follow_one_another_are_told_together(
    bottles: list[int], said: str
) -> None:
    assert numbers_told(bottles) == said


amounts = st.sampled_from(["", "1", "60", "499", "500", "0.25", "2000"])
days = st.dates().map(str)
logs = st.lists(
    st.builds(
        Event,
        batch=st.just("0000-0001-Y"),
        bottle=st.sampled_from([None, 1, 2]),
        what=st.sampled_from(["opened", "used", "topped-up", "moved", "discarded"]),
        at=st.datetimes(),
        amount_mL=amounts,
        treated=st.sampled_from(["", "1 roll", "3 4x5 sheet"]),
        discard_after=st.just("") | days,
        id=st.uuids().map(str),
    ),
    max_size=8,
)


@given(logs, st.randoms(use_true_random=False))
def test_the_order_of_the_log_never_matters(events: list[Event], dice: Any) -> None:
    record = fixer(sizes=(250, 250))
    before = standings(record, events)
    dice.shuffle(events)
    assert standings(record, events) == before


@given(logs)
def test_nothing_left_is_ever_less_than_nothing_and_nothing_is_lost(
    events: list[Event],
) -> None:
    for state in standings(fixer(sizes=(250, 250)), events):
        if state.remaining is not None:
            assert state.remaining >= 0
            assert state.filled is not None
            assert state.remaining - state.overdrawn == (
                state.filled + state.topped_up - state.used
            )
        assert state.tallied is not None
        assert state.tallied.left is not None
        assert state.tallied.left >= 0


@given(logs)
def test_no_date_is_later_than_any_that_batch_or_log_names(events: list[Event]) -> None:
    for state in standings(fixer(sizes=(250, 250)), events):
        named = ["2031-05-14"] + [
            e.discard_after
            for e in events
            if e.discard_after and e.bottle in (None, state.bottle)
        ]
        assert state.discard_after == min(named)
        assert (state.why == "") == (min(named) == "2031-05-14")
