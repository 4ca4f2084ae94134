"""What must not stand together, what is too old, and what was used too far.

Which bottles must stand apart is known from school and university safety pages and an
art-hazard sheet (acids apart from cyanide, sulfide, hypochlorite; oxidisers apart from
organics), as the facts of practice give it; the pairs below are written from that page
and looked up in our own rules.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.files.handling import read_handling
from labelkit.mixing.caution import Apart
from labelkit.mixing.handling import apart
from labelkit.mixing.neighbours import Stood, Trouble, tags_in, troubles
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.standing import standings
from tests.mixing.bottles import batch, event, fixer, found, number

LATER = datetime.fromisoformat("2031-04-20T12:00")
RULES = read_handling().apart


def stood(record: Record, tags: Sequence[str] = (), *events: Event) -> list[Stood]:
    return [Stood(s, frozenset(tags)) for s in standings(record, events) if s.stands]


def at(place: str, which: int = 1, bottle: int | None = None) -> Event:
    return replace(event("moved", bottle=bottle, place=place), batch=number(which))


def found_in(*bottles: list[Stood], rules: Sequence[Apart] = RULES) -> list[Trouble]:
    every = [one for some in bottles for one in some]
    return list(troubles(every, rules, LATER))


@pytest.mark.parametrize(
    ("one", "other"),
    [
        # practice, section 6: acids apart from cyanide, sulfide, hypochlorite
        ("acid", "cyanide-complex"),
        ("acid", "sulfide"),
        ("acid", "hypochlorite"),
        # oxidisers apart from organics
        ("strong-oxidiser", "organic"),
        ("strong-oxidiser", "developer"),
        # section 4: hypochlorite and ammonium; silver and ammonia, kept
        ("hypochlorite", "ammonium"),
        ("silver", "ammonia"),
    ],
)
def test_what_the_trade_keeps_apart_is_found_whichever_stands_first(
    one: str, other: str
) -> None:
    for first, second in ((one, other), (other, one)):
        (trouble, *_) = found_in(
            stood(batch(1, title="First"), [first]),
            stood(batch(2, title="Second"), [second]),
        )
        assert trouble.kind == "apart"
        assert {*trouble.bottles, *trouble.others} == {number(1), number(2)}
        assert trouble.source
        assert f"{number(1)} (First)" in trouble.text
        assert f"{number(2)} (Second)" in trouble.text
        assert "moved --to PLACE" in trouble.remedy


def test_what_may_stand_together_is_left_alone() -> None:
    pair = [stood(batch(1), ["carbonate"]), stood(batch(2), ["sulfite"])]
    assert found_in(*pair) == []


def test_the_deadly_is_told_first() -> None:
    told = found_in(
        stood(batch(1), ["acid"]),
        stood(batch(2), ["cyanide-complex"]),
        stood(batch(3), ["sulfide"]),
    )
    assert [trouble.severity for trouble in told] == ["deadly", "serious"]
    assert "kills" in told[0].text


def test_bottles_in_other_places_do_not_meet() -> None:
    acid, sulfide = batch(1), batch(2)
    apart_ = [
        stood(acid, ["acid"], at("window sill")),
        stood(sulfide, ["sulfide"], at("cupboard B", 2)),
    ]
    assert found_in(*apart_) == []
    (trouble,) = found_in(
        stood(acid, ["acid"], at("Cupboard B")),
        stood(sulfide, ["sulfide"], at("cupboard B", 2)),
    )
    assert trouble.place == "Cupboard B"
    assert "stand together at Cupboard B" in trouble.text


def test_bottles_without_a_place_count_as_one_place() -> None:
    (trouble,) = found_in(stood(batch(1), ["acid"]), stood(batch(2), ["sulfide"]))
    assert trouble.place == ""
    moved = stood(batch(2), ["sulfide"], at("cupboard B", 2))
    assert found_in(stood(batch(1), ["acid"]), moved) == []


def test_one_batch_is_never_beside_itself() -> None:
    both = ["acid", "sulfide"]
    assert found_in(stood(batch(1, sizes=(250, 250)), both)) == []
    # beside another it is told, of whichever side
    assert len(found_in(stood(batch(1), both), stood(batch(2), ["acid"]))) == 1


def test_an_empty_bottle_and_a_discarded_one_meet_nothing() -> None:
    sulfide = stood(batch(2), ["sulfide"])
    assert (
        found_in(stood(batch(), ["acid"], event("used", amount_mL="500")), sulfide)
        == []
    )
    assert found_in(stood(batch(), ["acid"], event("discarded")), sulfide) == []
    assert found_in(stood(batch(), ["acid"], event("used", amount_mL="499")), sulfide)


def test_a_hundred_bottles_are_told_in_one_line() -> None:
    acids = [stood(batch(n, sizes=(9,) * 10), ["acid"]) for n in range(1, 11)]
    sulfides = [stood(batch(n), ["sulfide"]) for n in range(11, 61)]
    (trouble,) = found_in(*acids, *sulfides)
    assert (len(trouble.bottles), len(trouble.others)) == (100, 50)
    assert "and 97 more and" in trouble.text
    assert len(trouble.text) < 500


def test_what_is_past_its_date_is_told_with_why() -> None:
    record = batch(discard_after="2031-04-19")
    (trouble,) = found_in(stood(record))
    assert (trouble.kind, trouble.bottles) == ("past", (number(1),))
    assert trouble.text.replace("\u00a0", " ") == (
        "0000-0001-Y (Borate alkali) is past its date: Discard after 2031-04-19"
    )
    assert found_in(stood(batch(discard_after="2031-04-20"))) == []


def test_what_was_used_too_far_is_told() -> None:
    over = event("used", treated="10.5 roll")
    (trouble,) = found_in(stood(fixer(), (), over))
    assert trouble.kind == "over"
    assert "OVER: 10.5 rolls through it, good for 10 rolls" in trouble.text.replace(
        "\u00a0", " "
    )
    assert found_in(stood(fixer(), (), event("used", treated="10 roll"))) == []


def test_a_found_bottle_is_told_when_nobody_claimed_it() -> None:
    (trouble,) = found_in(stood(found("2031-04-19")))
    assert trouble.kind == "unclaimed"
    assert "to be claimed by 2031-04-19, and nobody knows what is in it" in trouble.text
    assert "Leave it closed" in trouble.remedy
    assert found_in(stood(found("2031-04-20"))) == []
    assert found_in(stood(found(None))) == []


@pytest.mark.parametrize(
    ("data", "tags"),
    [
        ({}, ()),
        ({"answer": {"contents": [{"chemical": "a"}]}}, ()),
        (
            {
                "answer": {"contents": [{"chemical": "a"}]},
                "chemicals": [
                    {"id": "a", "tags": ["acid", "organic"]},
                    {"id": "b", "tags": ["sulfide"]},  # weighed, and used up
                    {"id": "c"},
                ],
            },
            ("acid", "organic"),
        ),
    ],
)
def test_only_what_is_in_the_bottle_counts(
    data: dict[str, Any], tags: Sequence[str]
) -> None:
    assert tags_in(batch(data=data)) == frozenset(tags)
    assert tags_in(found()) == frozenset()


every_tag = sorted({tag for rule in RULES for tag in rule.tags_a | rule.tags_b})


@given(st.lists(st.sets(st.sampled_from(every_tag), max_size=4), max_size=7))
def test_rule_by_rule_finds_what_pair_by_pair_would(held: list[set[str]]) -> None:
    bottles = [stood(batch(n), sorted(tags)) for n, tags in enumerate(held)]
    told = found_in(*bottles)
    pairs = [
        (rule.id, {number(i), number(j)})
        for i, one in enumerate(held)
        for j, other in enumerate(held[:i])
        for rule in apart(one, other, RULES)
    ]
    assert len(told) == len({rule for rule, _ in pairs})
    for rule, pair in pairs:
        texts = [r.text.removesuffix(".") for r in RULES if r.id == rule]
        assert any(
            pair <= {*trouble.bottles, *trouble.others}
            for trouble in told
            if texts[0] in trouble.text
        )
