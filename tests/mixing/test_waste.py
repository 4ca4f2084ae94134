"""What stands on the vessel for used solutions."""

from collections.abc import Sequence
from typing import Any

import pytest

from labelkit.mixing.bench import Settings
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.notices import NoticeText
from labelkit.mixing.rules import MixingRule, Severity
from labelkit.mixing.waste import (
    GENERAL,
    OTHER_WASTE,
    Ingredient,
    must_not_meet,
    waste_notice,
)
from labelkit.printing.typeset import plain

ROOM = Settings(
    disposal="the waste shelf", base_url="https://bottles.example.org", room="Room"
)
FIXER = Ingredient("plain fixer", ("hypo",), frozenset({"thiosulfate"}))
STOP = Ingredient("stop bath", ("citric acid",), frozenset({"acid"}))
TONER = Ingredient("sulfide", (), frozenset({"sulfide"}))
USED = Ingredient("used something")


@pytest.fixture(scope="module")
def rules(handbook: Handbook) -> Sequence[MixingRule]:
    return tuple(handbook.rules)


def notice(rules: Sequence[MixingRule], *what: Ingredient, **told: Any) -> NoticeText:
    never, settings = told.pop("never", ()), told.pop("settings", ROOM)
    return waste_notice(what, never, rules, settings, **told)


def things(text: NoticeText) -> list[str]:
    return [plain(thing) for thing in text.things]


def test_it_names_what_is_collected_and_that_it_may_hold_more(
    rules: Sequence[MixingRule],
) -> None:
    text = notice(rules, FIXER)
    assert (text.word, text.lead) == ("WASTE", "Plain fixer")
    assert plain(text.detail).startswith("Hypo. May hold anything")


def test_what_must_not_come_in_is_named_the_worst_first(
    rules: Sequence[MixingRule],
) -> None:
    told = things(notice(rules, TONER))
    assert told[0] == "any acid (stop bath, vinegar, acid fixer): deadly gas"
    assert notice(rules, TONER).closing == OTHER_WASTE


def test_no_warning_is_told_twice_or_within_a_longer_one(
    rules: Sequence[MixingRule],
) -> None:
    both = Ingredient(
        "x", (), frozenset({"developer", "sulfite-source", "thiosulfate"})
    )
    heads = [one.partition(":")[0] for one in things(notice(rules, both, STOP))]
    assert len(heads) == len(set(heads))
    assert "permanganate, dry or strong" not in heads
    assert any(head.startswith("permanganate, dichromate") for head in heads)


def test_what_is_in_it_is_not_what_must_not_come_in(
    rules: Sequence[MixingRule],
) -> None:
    told = things(notice(rules, Ingredient("fixer", (), FIXER.tags), STOP))
    assert not [one for one in told if one.startswith("fixer")]
    assert [one for one in told if one.startswith("acid")]


def test_more_acid_must_not_come_into_acid_fixer(rules: Sequence[MixingRule]) -> None:
    tags = frozenset({"thiosulfate", "sulfite-source", "acid"})
    told = things(notice(rules, Ingredient("acid fixer", (), tags)))
    assert "acid (stop bath, vinegar): choking gas" in told
    assert not [one for one in told if one.startswith("fixer (")]
    told = things(notice(rules, Ingredient("used acid fixer")))
    assert told[0].startswith("acid, household bleach")


def test_of_what_nobody_knows_the_general_things_are_named(
    rules: Sequence[MixingRule],
) -> None:
    text = notice(rules, USED)
    assert things(text) == [", ".join(GENERAL)]
    assert next(blank.term for blank in text.blanks) == "nor"
    known = notice(rules, FIXER)
    assert "nor" not in [blank.term for blank in known.blanks]


@pytest.mark.parametrize("nth", range(7))
def test_the_general_things_name_a_side_of_every_deadly_rule(
    rules: Sequence[MixingRule], nth: int
) -> None:
    deadly = [rule for rule in rules if rule.severity is Severity.DEADLY]
    assert len(deadly) == 7
    rule = deadly[nth]
    sides = f"{rule.never_with_a} {rule.never_with_b}".casefold()
    assert any(thing.split()[-1] in sides for thing in GENERAL), rule.id


def test_a_persons_own_things_come_first_and_stand_for_the_general_ones(
    rules: Sequence[MixingRule],
) -> None:
    text = notice(rules, USED, never=("acid", "bleach"))
    assert things(text) == ["acid", "bleach"]
    text = notice(rules, TONER, never=("bleach",))
    assert things(text)[:2] == [
        "bleach", "any acid (stop bath, vinegar, acid fixer): deadly gas",
    ]  # fmt: skip
    assert text.kept == 1 + 3


def test_nothing_is_called_calculated_or_safe(rules: Sequence[MixingRule]) -> None:
    said = plain(notice(rules, FIXER).first_words)
    assert said.startswith("Treat as hazardous: not calculated.")
    assert "data sheets, local rules, licensed practice come first" in said
    assert "harmless" not in said


def test_where_it_goes_is_told_where_the_room_says_it(
    rules: Sequence[MixingRule],
) -> None:
    assert notice(rules, USED).extra == ("Room.", "When full: the waste shelf.")
    assert notice(rules, USED, settings=Settings()).extra == ()


def test_a_code_is_there_only_for_one_thing_with_a_page(
    rules: Sequence[MixingRule],
) -> None:
    batch = Ingredient("x", number="7K3M-Q9TX-8")
    recipe = Ingredient("x", recipe="plain-fixer")
    text = notice(rules, batch)
    assert text.code == "HTTPS://BOTTLES.EXAMPLE.ORG/B/7K3M-Q9TX-8"
    assert text.number == "7K3M-Q9TX-8"
    assert notice(rules, recipe).code == "HTTPS://BOTTLES.EXAMPLE.ORG/R/PLAIN-FIXER"
    for other in (
        notice(rules, USED),
        notice(rules, batch, recipe),
        notice(rules, batch, settings=Settings()),
    ):
        assert (other.code, other.number, other.code_means) == ("", "", "")


def test_started_and_by_are_printed_where_they_are_told(
    rules: Sequence[MixingRule],
) -> None:
    blanks = notice(rules, FIXER, started="2031-03-14", by="M. Osei").blanks
    assert [blank.value for blank in blanks] == ["2031-03-14", "M. Osei", "", "", ""]


def test_two_that_are_deadly_together_are_found(rules: Sequence[MixingRule]) -> None:
    ((one, other, rule),) = must_not_meet([TONER, STOP], rules)
    assert (one, other, rule.severity) == ("sulfide", "stop bath", Severity.DEADLY)
    assert rule.product == "hydrogen sulfide"


def test_the_gravest_of_several_is_told_once(rules: Sequence[MixingRule]) -> None:
    both = Ingredient("x", (), frozenset({"sulfide", "thiosulfate", "sulfite-source"}))
    assert [rule.id for _, _, rule in must_not_meet([both, STOP], rules)] == [
        "acid-sulfide"
    ]


def test_what_does_no_harm_together_is_not_told(rules: Sequence[MixingRule]) -> None:
    assert list(must_not_meet([FIXER, FIXER, USED], rules)) == []
