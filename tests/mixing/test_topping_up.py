"""A bottle topped up from an older one is as old as that."""

from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.remarks import remarks_on
from labelkit.mixing.topping_up import Source, source_from
from tests.mixing.bottles import NOW, batch, event, happens, number, older

# Topping up or merging keeps the older mix date: common practice, no source.


@pytest.mark.parametrize(
    ("source", "day"),
    [
        # the older bottle's own date
        (older(discard_after="2031-08-01"), "2031-08-01"),
        # older, and no date of its own: this one's 12 months, from that mixing
        (older(), "2031-12-31"),
        (older(discard_after="2032-02-01"), "2031-12-31"),
        # younger: only a date before this one's counts
        (older(mixed_on=NOW), ""),
        (older(mixed_on=NOW, discard_after="2032-03-13"), "2032-03-13"),
        (older(mixed_on=NOW, discard_after="2032-03-14"), ""),
    ],
)
def test_topping_up_keeps_the_older_date(source: Source, day: str) -> None:
    made = happens(batch(), "topped-up", amount="100 mL", source=source)
    assert (made.discard_after, made.source) == (day, number(2))


@given(
    own=st.dates(date(2031, 1, 1), date(2034, 1, 1)),
    theirs=st.none() | st.dates(date(2031, 1, 1), date(2034, 1, 1)),
    mixed=st.datetimes(datetime(2030, 1, 1), datetime(2032, 1, 1)),  # noqa: DTZ001
)
def test_topping_up_never_brings_a_later_date(
    own: date, theirs: date | None, mixed: datetime
) -> None:
    record = batch(discard_after=str(own))
    source = older(mixed_on=mixed, discard_after=str(theirs) if theirs else None)
    made = happens(record, "topped-up", source=source).discard_after
    assert not made or made < str(own)
    if theirs is not None and theirs < own:
        assert made
        assert made <= str(theirs)


def test_another_solution_poured_in_is_written_down_with_it() -> None:
    source = older(recipe="plain-fixer", title="Plain fixer")
    made = happens(batch(), "topped-up", source=source, note="in a hurry")
    assert made.note == "in a hurry; Plain fixer is another solution"
    assert remarks_on(batch(), [], made, source) == (
        f"{number(2)} is Plain fixer, not Borate alkali: what this bottle holds now is "
        "not what its label says. Label it anew, or discard it.",
    )


def test_the_source_is_the_bottle_named_or_the_one_with_the_earliest_date() -> None:
    record = batch(sizes=(250, 250))
    log = [
        event("used", bottle=2, discard_after="2031-06-02"),
        event("used", bottle=1, discard_after="2031-05-02"),
        event("discarded", bottle=1),
    ]
    assert source_from(record, log, None).discard_after == "2031-06-02"
    assert source_from(record, log, None).name == number(1)
    assert source_from(record, log, 1).discard_after == "2031-05-02"
    assert source_from(record, log, 1).name == f"{number(1)}/1"
