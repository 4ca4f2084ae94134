"""Rules between tags, on a few of our own."""

from labelkit.mixing.rules import (
    Condition,
    MixingRule,
    Severity,
    never_with,
    rules_for,
)


def rule(
    name: str,
    severity: Severity,
    words: str,
    condition: Condition = Condition.ANY,
) -> MixingRule:
    return MixingRule(
        name,
        frozenset({"acid"}),
        frozenset({name}),
        severity,
        condition,
        product="gas",
        text="Keep apart.",
        never_with_a=words,
        never_with_b="acid: gas",
    )


CHOKES = rule("sulfite-source", Severity.SERIOUS, "sulfite: choking gas")
KILLS = rule("sulfide", Severity.DEADLY, "toner: deadly gas")
SPITS = rule(
    "base", Severity.SERIOUS, "lye: heats and spits", Condition.DRY_OR_CONCENTRATED
)
SMELLS = rule("thiosulfate", Severity.CAUTION, "")
RULES = (CHOKES, SPITS, SMELLS, KILLS)


def test_the_deadliest_comes_first() -> None:
    assert [r.id for r in rules_for({"acid"}, RULES)] == [
        "sulfide", "sulfite-source", "base", "thiosulfate",
    ]  # fmt: skip
    assert never_with({"acid"}, RULES) == (
        "toner: deadly gas",
        "sulfite: choking gas",
        "lye: heats and spits",
    )


def test_a_rule_for_strong_solutions_is_silent_on_weak_ones() -> None:
    assert "lye: heats and spits" in never_with({"acid"}, RULES)
    weak = never_with({"acid"}, RULES, concentrated=False)
    assert weak == ("toner: deadly gas", "sulfite: choking gas")


def test_what_bites_at_any_strength_comes_before_what_bites_only_dry() -> None:
    burns = MixingRule(
        "burns",
        frozenset({"permanganate"}),
        frozenset({"sulfite-source"}),
        Severity.DEADLY,
        Condition.DRY_OR_CONCENTRATED,
        product="fire",
        text="Keep apart.",
        never_with_a="sulfite, dry: fire",
        never_with_b="permanganate, dry: fire",
    )
    rules = (burns, CHOKES)
    # the bottle of the oxidiser itself says the deadliest first all the same
    assert never_with({"permanganate"}, rules)[0] == "sulfite, dry: fire"
    assert never_with({"sulfite-source"}, rules) == (
        "acid: gas",
        "permanganate, dry: fire",
    )


def test_each_side_is_told_about_the_other() -> None:
    assert KILLS.warning({"sulfide"}) == "acid: gas"
    assert KILLS.warning({"acid"}) == "toner: deadly gas"
    assert KILLS.warning({"water"}) == ""


def test_the_same_enemy_is_named_once() -> None:
    assert never_with({"sulfite-source", "sulfide"}, RULES) == ("acid: gas",)


def test_two_chemicals_of_one_side_do_not_fight() -> None:
    assert KILLS.joins({"acid"}, {"sulfide"})
    assert not KILLS.joins({"acid"}, {"acid"})
    assert not KILLS.joins({"sulfide"}, {"sulfide"})


def test_severities_have_the_levels_of_checks() -> None:
    assert [severity.level for severity in Severity] == ["stop", "warn", "note", "note"]
