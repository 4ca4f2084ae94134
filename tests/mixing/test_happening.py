"""What a person says happened becomes an event, or is refused in one line."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from labelkit.errors import BadInput
from labelkit.mixing.happening import HAPPENINGS, event_for, poured_into
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.remarks import remarks_on
from labelkit.mixing.said import NBSP
from tests.mixing.bottles import (
    MIXED,
    NOW,
    batch,
    event,
    fixer,
    found,
    happens,
    number,
    older,
)  # fmt: skip

KEEPS = 'keeps = "12 months"\nkeeps_opened = "6 months"\nkeeps_part_full = "2 months"\n'


def refused(record: Record, what: str, on: str = "2031-04-01", **more: Any) -> str:
    with pytest.raises(BadInput) as caught:
        happens(record, what, on, **more)
    return str(caught.value)


def test_a_volume_is_kept_in_mL_whatever_it_was_written_in() -> None:
    assert happens(batch(), "used", amount="60 mL").amount_mL == "60"
    assert happens(batch(), "used", amount="0.5 L").amount_mL == "500"
    # 29.5735 mL, NIST Handbook 44, appendix C
    kept = Decimal(happens(batch(), "used", amount="1 US fl oz").amount_mL)
    assert kept == pytest.approx(Decimal("29.5735"), abs=Decimal("0.0001"))


def test_film_is_kept_as_it_was_counted() -> None:
    made = happens(
        fixer(), "used", amount="4 sheets", by=" M.  Osei ", note="test strip"
    )
    assert (made.treated, made.amount_mL) == ("4 4x5 sheet", "")
    assert (made.by, made.note) == ("M. Osei", "test strip")


def test_a_dry_mixture_is_taken_by_the_gram() -> None:
    dry = batch(sizes=(100,), unit="g")
    assert happens(dry, "used", amount="12.5 g").amount_g == "12.5"
    assert refused(dry, "used", amount="5 mL") == (
        "amount: '5 mL' is not a mass. It is a dry mixture: write g or kg."
    )
    assert refused(batch(), "used", amount="5 g") == (
        "amount: '5 g' is not a volume. Write mL or L."
    )


@pytest.mark.parametrize("what", HAPPENINGS)
def test_everything_that_happens_can_be_said_without_more(what: str) -> None:
    assert happens(batch(), what).what == what


@pytest.mark.parametrize(
    ("what", "day"),
    [
        # calendar months, clamped to the month's end
        ("opened", "2031-09-30"),
        ("used", "2031-05-31"),
        ("topped-up", ""),
        ("tested", ""),
        ("moved", ""),
        ("discarded", ""),
    ],
)
def test_what_brings_the_date_forward(what: str, day: str) -> None:
    record = batch(document=KEEPS)
    assert happens(record, what, "2031-03-31").discard_after == day


def test_used_it_was_opened_too() -> None:
    record = batch(document='keeps_opened = "6 months"')
    assert happens(record, "used", "2031-03-31").discard_after == "2031-09-30"


def test_film_through_a_bath_does_not_make_it_part_full() -> None:
    record = fixer(more='keeps_part_full = "2 weeks"')
    assert happens(record, "used", amount="2 rolls").discard_after == ""
    assert happens(record, "used", amount="50 mL").discard_after == "2031-04-15"


def test_a_date_that_is_no_sooner_than_the_batchs_own_is_not_written_down() -> None:
    record = batch(document=KEEPS, discard_after="2031-05-31")
    assert happens(record, "used", "2031-03-31").discard_after == ""
    record = batch(document=KEEPS, discard_after="2031-06-01")
    assert happens(record, "used", "2031-03-31").discard_after == "2031-05-31"


def test_what_keeps_for_hours_is_told_by_the_clock() -> None:
    record = batch(document='keeps_part_full = "8 hours"')
    made = happens(record, "used", "2031-03-14T19:30")
    assert made.discard_after == "2031-03-15 03:30"


@pytest.mark.parametrize(
    ("what", "more", "said"),
    [
        (
            "boiled",
            {},
            "'boiled' is nothing that happens to a bottle. Write one of: opened, used, "
            "topped-up, tested, moved, discarded.",
        ),
        (
            "used",
            {"amount": "3"},
            "amount: '3' does not say of what. Write it as 2 rolls, 4 sheets (4x5), "
            "1 sheet 8x10 or 80 in2, or 60 mL.",
        ),
        (
            "opened",
            {"amount": "60 mL"},
            "amount: '60 mL' says nothing about opened. Give amounts with used and "
            "topped-up; else --note.",
        ),
        (
            "moved",
            {"amount": "window sill"},
            "amount: 'window sill' says nothing about moved. Give amounts with used "
            "and topped-up; else --note or --to PLACE.",
        ),
        (
            "topped-up",
            {"amount": "2 rolls"},
            "amount: '2 rolls' is not what a bottle is topped up with. Write mL or L.",
        ),
        (
            "used",
            {"place": "window sill"},
            "--to: a place does not go with used. Write: moved.",
        ),
        (
            "used",
            {"source": older()},
            "--from: a bottle to pour from does not go with used. Write: topped-up.",
        ),
        (
            "topped-up",
            {"source": older(name="0000-0001-Y")},
            "--from: 0000-0001-Y cannot be topped up from itself. Name the bottle it "
            "was poured from.",
        ),
        (
            "used",
            {"bottle": 2},
            "batch 0000-0001-Y has no bottle 2. Its bottles are numbered 1 to 1.",
        ),
        (
            "used",
            {"on": "2031-05-01T12:01"},
            "--on: 2031-05-01 12:01 lies in the future. Write down what has happened, "
            "when it has.",
        ),
        (
            "used",
            {"on": "2031-03-14T18:04"},
            "--on: 2031-03-14 18:04 is before it was mixed, 2031-03-14 18:05. Write a "
            "later day, or look whether this is the right bottle.",
        ),
        (
            "used",
            {"note": "x" * 301},
            f"--note: '{'x' * 39}…' has 301 characters. Write 300 at most.",
        ),
    ],
)
def test_what_does_not_go_together_is_refused(
    what: str, more: dict[str, Any], said: str
) -> None:
    assert refused(batch(), what, **more) == said


def test_film_is_counted_as_the_recipe_counts_it() -> None:
    document = '[use]\ncapacity = { amount = 40, of = "print", per = "1 L" }\n'
    record = batch(document=document)
    assert happens(record, "used", amount="3 prints").treated == "3 print"
    assert refused(record, "used", amount="2 rolls") == (
        "amount: '2 rolls' cannot be counted in print, as this recipe does. "
        "Write how many prints it was."
    )


@pytest.mark.parametrize(
    "on",
    [
        "2031-03-14T18:05",  # the moment it was mixed
        "2031-03-14",  # its day, without a time
        "2031-05-01T12:00",  # this moment
    ],
)
def test_the_first_and_the_last_moment_are_taken(on: str) -> None:
    assert happens(batch(), "used", on).at == datetime.fromisoformat(on)


def test_a_batch_dated_ahead_by_mistake_can_still_be_logged() -> None:
    ahead = batch(mixed_on=NOW + timedelta(days=400))
    assert event_for(ahead, "discarded", NOW, now=NOW).what == "discarded"


def test_a_found_bottle_is_logged_as_any_other() -> None:
    assert happens(found(), "moved", place="locked cupboard").place == "locked cupboard"
    assert refused(found(), "moved", "2031-01-01").startswith(
        "--on: 2031-01-01 is before it was found, 2031-03-14 18:05."
    )


# What is poured for another batch


def test_what_was_poured_for_a_batch_is_used_for_it() -> None:
    made = poured_into(
        batch(document=KEEPS), [], Decimal("5.00"), number(7), at=NOW, by="M. Osei"
    )
    assert (made.what, made.amount_mL, made.note) == ("used", "5", f"for {number(7)}")
    assert (made.bottle, made.by, made.at) == (None, "M. Osei", NOW)
    assert made.discard_after == "2031-07-01"


@pytest.mark.parametrize(
    ("discarded", "named", "bottle"),
    [((), None, None), ((1,), None, 2), ((), 1, 1), ((1, 2), None, None)],
)
def test_a_bottle_is_chosen_only_where_there_is_one(
    discarded: tuple[int, ...], named: int | None, bottle: int | None
) -> None:
    log = [event("discarded", bottle=n, id=str(n)) for n in discarded]
    record = batch(sizes=(250, 250))
    made = poured_into(record, log, Decimal(5), number(7), at=NOW, bottle=named)
    assert made.bottle == bottle


def test_it_is_never_used_before_it_was_mixed() -> None:
    early = MIXED - timedelta(days=3)
    assert poured_into(batch(), [], Decimal(5), number(7), at=early).at == MIXED


# What is said of it


def said(
    record: Record, before: list[Event], what: str, on: str = "2031-04-01", **more: Any
) -> list[str]:
    made = happens(record, what, on, **more)
    return [text.replace(NBSP, " ") for text in remarks_on(record, before, made)]


def test_the_last_roll_is_warned_of_and_what_is_over_is_called_so() -> None:
    before = [event("used", treated="8 roll")]
    assert said(fixer(), before, "used", amount="1 roll", bottle=1) == [
        "0000-0001-Y: Last roll: 1 of 10 rolls left."
    ]
    assert said(fixer(), before, "used", amount="2 rolls", bottle=1) == [
        "0000-0001-Y: Its capacity of 10 rolls is used up. Mix fresh."
    ]
    assert said(fixer(), before, "used", amount="3 rolls", bottle=1) == [
        "0000-0001-Y: OVER: 11 rolls through it, good for 10 rolls. Mix fresh."
    ]
    assert said(fixer(), before, "used", amount="3 sheets", bottle=1) == []


def test_more_than_it_held_is_said() -> None:
    assert said(batch(), [], "used", amount="520 mL") == [
        "0000-0001-Y: Empty: 20 mL more used than it held."
    ]


def test_a_discarded_bottle_is_written_down_and_asked_about() -> None:
    before = [event("discarded")]
    assert said(batch(), before, "used", "2031-04-02", amount="5 mL") == [
        "0000-0001-Y was discarded 2031-04-01; it is written down all the same. "
        "Is this the right bottle?"
    ]


def test_what_is_reserved_past_its_date_or_unknown_is_said() -> None:
    record = batch(use_mark="HOLD", discard_after="2031-03-31")
    assert said(record, [], "opened") == [
        "0000-0001-Y was past its date: Discard after 2031-03-31.",
        "0000-0001-Y is marked HOLD.",
    ]
    assert said(record, [], "tested") == []
    shared = batch(use_mark="SHARED", discard_after="2031-04-01")
    assert said(shared, [], "opened") == []  # good through its last day
    assert said(found(None), [], "opened")[0].endswith("is UNKNOWN. Leave it closed.")


def test_of_several_bottles_it_asks_which() -> None:
    record = batch(sizes=(250, 250))
    assert said(record, [], "used", amount="5 mL") == [
        "Which of the 2 bottles is not said, so each counts as in use: "
        "write 0000-0001-Y/1 and so on."
    ]
    assert said(record, [], "used", amount="5 mL", bottle=1) == []
