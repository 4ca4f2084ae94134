"""The mixing rules as they travel with labelkit."""

from collections import Counter

import pytest

from labelkit.files.chemicals import read_catalogue
from labelkit.files.data import tags
from labelkit.files.rules import read_rules
from labelkit.mixing.rules import Condition, MixingRule, Severity

RULES = read_rules()
CATALOGUE = read_catalogue()


def test_there_are_31_rules_with_their_severities() -> None:
    assert len({rule.id for rule in RULES}) == 31
    # counted in the collection of facts the rules were made from
    assert Counter(str(rule.severity) for rule in RULES) == {
        "deadly": 7, "serious": 14, "caution": 6, "quality": 4,
    }  # fmt: skip


def test_six_rules_rest_on_a_source_that_was_seen() -> None:
    assert Counter(str(rule.confidence) for rule in RULES) == {"found": 6, "memory": 25}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_rule_is_whole(rule: MixingRule) -> None:
    assert rule.tags_a <= set(tags())
    assert rule.tags_b <= set(tags())
    assert len(rule.source.split()) > 2
    assert rule.text.endswith(".")
    assert bool(rule.third) == (rule.condition is Condition.WITH_THIRD)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_what_kills_or_burns_is_printed_on_the_bottle(rule: MixingRule) -> None:
    # what is in a bottle has been dissolved: water no longer matters
    with_water = rule.tags_b == {"water"}
    if rule.severity in (Severity.DEADLY, Severity.SERIOUS):
        assert bool(rule.never_with_a) != with_water
        assert rule.never_with_b or with_water or rule.tags_b == {"metal-aluminium"}
    if rule.severity is Severity.QUALITY:
        assert not rule.never_with_a + rule.never_with_b
    for words in (rule.never_with_a, rule.never_with_b):
        assert len(words) <= 66
        assert not words or ":" in words


@pytest.mark.parametrize(
    ("one", "other", "rule"),
    [
        ("acetic-acid-28pct", "sodium-sulfide-nonahydrate", "acid-sulfide"),
        ("sodium-metabisulfite", "sodium-hypochlorite-household", "bleach-acid"),
        (
            "sulfuric-acid-10pct",
            "potassium-ferricyanide",
            "strong-acid-cyanide-complex",
        ),
        ("ammonium-thiosulfate-60pct", "sodium-hydroxide", "base-ammonium"),
        ("potassium-permanganate", "glycerol", "permanganate-organic"),
        ("potassium-dichromate", "hydrochloric-acid-37pct", "oxidiser-hcl"),
    ],
)
def test_known_enemies_are_told_apart_whichever_comes_first(
    one: str, other: str, rule: str
) -> None:
    a, b = CATALOGUE.substance(one).tags, CATALOGUE.substance(other).tags
    assert rule in {each.id for each in RULES if each.joins(a, b)}
    assert rule in {each.id for each in RULES if each.joins(b, a)}


def test_weak_acid_and_ferricyanide_are_ordinary_practice() -> None:
    # Practice of dilute bleaches; common practice, see the rule's own text
    acid = CATALOGUE.substance("citric-acid-anhydrous").tags
    ferricyanide = CATALOGUE.substance("potassium-ferricyanide").tags
    assert not [rule for rule in RULES if rule.joins(acid, ferricyanide)]
