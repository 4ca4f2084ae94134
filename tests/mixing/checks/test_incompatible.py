"""What must not meet: every rule bites where it should, and no ordinary practice."""

from itertools import product

import pytest

from labelkit.files.rules import read_rules
from labelkit.mixing.check import Level
from labelkit.mixing.rules import Condition, MixingRule, Severity
from tests.mixing.checks.remarks import levels, only, own, recipe, remarks, water
from tests.mixing.conftest import Room

STOP, WARN, NOTE = Level.STOP, Level.WARN, Level.NOTE
SULFITE, HYPO = "sodium-sulfite-anhydrous", "sodium-thiosulfate-pentahydrate"
CODE = "incompatible"
# What the vessels' own remarks say of contact with water; here only metal is left.
MET_IN_SOLUTION = [r for r in read_rules() if r.condition is not Condition.CONTACT]
ONLY_STRONG = [
    r for r in MET_IN_SOLUTION if r.condition is Condition.DRY_OR_CONCENTRATED
]


def one_pair(rule: MixingRule, grams_a: float, grams_b: float, turned: bool) -> str:
    """Side a and side b of a rule, in water that comes to 1000 g with them."""
    tag_a, tag_b = own_pair(rule)
    sides = [("side-a", f"{grams_a} g"), ("side-b", f"{grams_b} g")]
    third = [("third", "10 g")] if rule.third else []
    steps = [
        ("water", f"{1000 - grams_a - grams_b} g"),
        *third,
        *sides[:: -1 if turned else 1],
    ]
    chemicals = own("side-a", tag_a) + own("side-b", tag_b)
    if rule.third:
        chemicals += own("third", *rule.third)
    return recipe(*steps, makes="2 L") + chemicals


def own_pair(rule: MixingRule) -> tuple[str, str]:
    """A tag of each side between which no other rule stands."""
    others = [other for other in read_rules() if other is not rule]
    return next(
        (a, b)
        for a, b in product(sorted(rule.tags_a), sorted(rule.tags_b))
        if not any(other.joins({a}, {b}) for other in others)
    )


@pytest.mark.parametrize("turned", [False, True], ids=["a first", "b first"])
@pytest.mark.parametrize("rule", MET_IN_SOLUTION, ids=lambda r: r.id)
def test_every_rule_bites_at_its_own_level_whichever_goes_in_first(
    rule: MixingRule, turned: bool, room: Room
) -> None:
    found = remarks(room, one_pair(rule, 200, 200, turned), CODE)
    assert [check.level for check in found] == [Level(rule.severity.level)]
    assert rule.text in found[0].text
    assert found[0].step == (4 if rule.third else 3)


# `dry_or_concentrated` begins at 10 % w/w of what the vessel holds: the contract.
@pytest.mark.parametrize("rule", ONLY_STRONG, ids=lambda r: r.id)
def test_a_rule_for_strong_solutions_begins_at_ten_per_cent_of_either_side(
    rule: MixingRule, room: Room
) -> None:
    assert levels(room, one_pair(rule, 100, 20, False), CODE)
    assert levels(room, one_pair(rule, 20, 100, False), CODE)
    assert not levels(room, one_pair(rule, 99, 20, True), CODE)
    assert not levels(room, one_pair(rule, 20, 99, False), CODE)


def test_what_lay_strong_in_the_vessel_counts_as_it_lay(room: Room) -> None:
    # 12 % of permanganate, then a litre of weak alcohol onto it
    text = recipe(
        ("water", "88 g"), ("oxidiser", "12 g"),
        ("water", "900 g", 'in = "jug"'), ("spirit", "20 g", 'in = "jug"'),
        'pour = "jug"', makes="2 L",
    ) + own("oxidiser", "permanganate") + own("spirit", "alcohol")  # fmt: skip
    assert levels(room, text, CODE) == [(STOP, 5)]


def test_a_rule_that_needs_a_third_is_silent_without_it(room: Room) -> None:
    silver = ("silver-nitrate", "5 g")
    text = recipe(water(500), silver, ("ethanol", "50 mL"))
    assert remarks(room, text, CODE) == []
    acid = own("aqua-fortis", "nitric-acid")
    third = recipe(water(500), ("aqua-fortis", "9 g"), silver, ("ethanol", "50 mL"))
    assert levels(room, third + acid, CODE) == [(NOTE, 4)]


# Nothing is said below 0.01 % of a serious pair, 0.5 % of one for caution, 1 % where
# only quality suffers (ours); of a deadly pair at any share.
@pytest.mark.parametrize(
    ("rule_id", "least_g"),
    [("bleach-thiosulfate-organic", 0.1), ("acid-carbonate", 5), ("alum-alkali", 10)],
)
def test_traces_are_passed_over(rule_id: str, least_g: float, room: Room) -> None:
    (rule,) = (r for r in MET_IN_SOLUTION if r.id == rule_id)
    assert levels(room, one_pair(rule, least_g, 20, False), CODE)
    assert not levels(room, one_pair(rule, least_g * 0.99, 20, False), CODE)


def test_a_trace_of_what_kills_is_not(room: Room) -> None:
    text = recipe(
        water(1000), ("sodium-sulfide-nonahydrate", "0.01 g"),
        ("citric-acid-monohydrate", "0.01 g"), makes="2 L",
    )  # fmt: skip
    said = only(room, text, CODE)
    assert (said.level, said.step) == (STOP, 3)
    assert said.text.startswith("Do not mix: citric acid monohydrate with sodium")


def test_strong_acid_on_ferricyanide_kills_and_weak_acid_does_only_when_hot(
    room: Room,
) -> None:
    bleach = ("potassium-ferricyanide", "5 g")
    strong = recipe(water(500), bleach, ("hydrochloric-acid-10pct", "5 mL"))
    assert levels(room, strong, CODE) == [(STOP, 3)]
    weak = ("citric-acid-monohydrate", "5 g")
    assert remarks(room, recipe(water(500, 50), bleach, weak), CODE) == []
    # hot begins above 50 degC; ours
    assert levels(room, recipe(water(500, 60), bleach, weak), CODE) == [(STOP, 3)]


# Ordinary practice that must pass without alarm; each as handbooks build it.
@pytest.mark.parametrize(
    "steps",
    [
        pytest.param(
            (water(50), ("ferric-ammonium-citrate-green", "12 g"),
             ("potassium-ferricyanide", "5 g")),
            id="blueprint A and B",
        ),
        pytest.param(
            (water(750), ("potassium-ferricyanide", "20 g"),
             ("potassium-bromide", "20 g"), ("sodium-carbonate-anhydrous", "10 g")),
            id="bleach for a sulfide toner",
        ),
        pytest.param(
            (water(750), ("potassium-ferricyanide", "5 g"), (HYPO, "60 g")),
            id="ferricyanide reducer with hypo",
        ),
        pytest.param(
            (water(750), ("potassium-dichromate", "9 g"),
             ("sulfuric-acid-37pct", "25 mL")),
            id="dichromate reversal bleach",
        ),
        pytest.param(
            (water(750), ("potassium-permanganate", "2 g"),
             ("sulfuric-acid-10pct", "100 mL")),
            id="permanganate reversal bleach",
        ),
        pytest.param(
            (water(750), ("copper-sulfate-pentahydrate", "7 g"),
             ("trisodium-citrate-dihydrate", "50 g"),
             ("potassium-ferricyanide", "6 g")),
            id="copper toner",
        ),
        pytest.param(
            (water(750), (SULFITE, "100 g"), ("hydroquinone", "5 g"),
             ("borax-decahydrate", "5 g"), ("boric-acid", "5 g")),
            id="borax developer",
        ),
        pytest.param(
            (water(750), ("sodium-metabisulfite", "2 g"), (SULFITE, "50 g"),
             ("hydroquinone", "10 g"), ("potassium-carbonate", "40 g")),
            id="developer with a little metabisulfite",
        ),
        pytest.param(
            (water(750), (SULFITE, "30 g"), ("amidol", "5 g")), id="amidol"
        ),
    ],
)  # fmt: skip
def test_ordinary_practice_is_not_remarked_on(
    steps: tuple[tuple[str, ...], ...], room: Room
) -> None:
    assert remarks(room, recipe(*steps), CODE) == []


def test_an_acid_hardening_fixer_built_in_order_only_smells(room: Room) -> None:
    text = recipe(
        water(600, 50), (HYPO, "240 g"), (SULFITE, "15 g"),
        ("acetic-acid-28pct", "48 mL"),
        ("boric-acid", "7.5 g"), ("potassium-alum-dodecahydrate", "15 g"),
    )  # fmt: skip
    said = only(room, text, CODE)
    assert (said.level, said.step) == (NOTE, 4)
    assert "open the window" in said.text


# Moles of sulfite for a mole of acid: below a quarter it chokes, from two on it does
# not smell; ours. 10 g of sulfite are 79.3 mmol, 1 g of acid of 28 % 4.66 mmol.
@pytest.mark.parametrize(
    ("acid_g", "found"),
    [
        (8.4, []), (8.6, [(NOTE, 3)]), (67.9, [(NOTE, 3)]), (68.2, [(WARN, 3)]),
    ],
)  # fmt: skip
def test_sulfite_that_is_there_first_tames_weak_acid(
    acid_g: float, found: list[tuple[Level, int]], room: Room
) -> None:
    text = recipe(water(600), (SULFITE, "10 g"), ("acetic-acid-28pct", f"{acid_g} g"))
    assert levels(room, text, CODE) == found


def test_strong_acid_is_tamed_by_no_sulfite(room: Room) -> None:
    text = recipe(water(600), (SULFITE, "100 g"), ("sodium-bisulfate-anhydrous", "1 g"))
    assert levels(room, text, CODE) == [(WARN, 3)]


def test_acid_on_thiosulfate_without_any_sulfite_is_serious(room: Room) -> None:
    text = recipe(water(600), (HYPO, "240 g"), ("citric-acid-monohydrate", "15 g"))
    assert levels(room, text, CODE) == [(WARN, 3)]


def test_acid_before_the_sulfite_is_left_to_the_remark_on_the_order(room: Room) -> None:
    text = recipe(
        water(600), (HYPO, "240 g"), ("acetic-acid-28pct", "10 mL"), (SULFITE, "60 g")
    )
    assert remarks(room, text, CODE) == []
    assert levels(room, text, "order") == [(WARN, 3)]


def test_wet_gum_with_dichromate_is_the_craft_itself(room: Room) -> None:
    wet = recipe(
        ("water", "60 g"), ("gum-arabic", "30 g"), ("ammonium-dichromate", "10 g")
    )
    assert levels(room, wet, CODE) == [(NOTE, 3)]
    dry = recipe(
        ("water", "40 g"), ("gum-arabic", "50 g"), ("ammonium-dichromate", "10 g")
    )
    assert levels(room, dry, CODE) == [(WARN, 3)]


CITRIC = """
[[reaction]]
from = ["citric-acid-anhydrous", "sodium-bicarbonate"]
to   = ["trisodium-citrate-dihydrate"]
"""


def test_a_declared_reaction_is_no_alarm_but_its_gas_is_told(room: Room) -> None:
    steps = (
        water(800), ("citric-acid-anhydrous", "19.2 g"), ("sodium-bicarbonate", "26 g"),
    )  # fmt: skip
    assert "foam with acid" in only(room, recipe(*steps), CODE).text
    said = only(room, recipe(*steps) + CITRIC, CODE)
    assert (said.level, said.step) == (NOTE, 3)
    # 0.1 mol of citric acid frees 0.3 mol of carbon dioxide, 7.2 L at 20 degC
    assert said.text.startswith("7.2 L of carbon dioxide come off")


def test_what_a_declared_reaction_used_up_cannot_meet_anything(room: Room) -> None:
    text = recipe(
        water(800), ("citric-acid-anhydrous", "19.2 g"), ("sodium-bicarbonate", "26 g"),
        ("sodium-sulfide-nonahydrate", "5 g"),
    )  # fmt: skip
    assert STOP in {check.level for check in remarks(room, text, CODE)}
    assert levels(room, text + CITRIC, CODE) == [(NOTE, 3)]


def test_a_declared_reaction_does_not_excuse_a_deadly_pair(room: Room) -> None:
    declared = """
[[reaction]]
from = ["sour", "toner"]
to   = ["salt"]
"""
    chemicals = (
        own("sour", "acid", more='formula = "HCl"')
        + own("toner", "sulfide", more='formula = "Na2S"')
        + own("salt", "chloride", more='formula = "NaCl"')
        + own("gas", more='formula = "H2S"')
    )
    declared = declared.replace('["salt"]', '["salt", "gas"]')
    text = recipe(water(800), ("toner", "5 g"), ("sour", "1 g")) + declared + chemicals
    assert levels(room, text, CODE) == [(STOP, 3)]


@pytest.mark.parametrize(
    ("vessel", "told"),
    [
        ("aluminium jug", True), ("galvanised pail", True), ("tin", True),
        ("glass", False), ("continental jug", False),
    ],
)  # fmt: skip
def test_lye_in_a_metal_vessel_is_serious(vessel: str, told: bool, room: Room) -> None:
    inside = f'in = "{vessel}"'
    text = recipe(
        ("water", "75 mL", 'at = "15 degC"', inside),
        ("potassium-hydroxide", "1 g", inside),
        f'pour = "{vessel}"',
    )
    assert levels(room, text, CODE) == ([(WARN, 2)] if told else [])


def test_a_bottle_of_aluminium_for_lye_is_told_too(room: Room) -> None:
    head = 'keep_in = "aluminium flask"'
    lye = recipe(water(75, 15), ("sodium-hydroxide", "1 g"), head=head)
    assert levels(room, lye, CODE) == [(WARN, None)]
    salt = recipe(water(75, 15), ("potassium-bromide", "1 g"), head=head)
    assert remarks(room, salt, CODE) == []


def test_bottles_poured_together_meet_what_the_other_holds(room: Room) -> None:
    toner = recipe(water(90), ("sodium-sulfide-nonahydrate", "5 g"), makes="100 mL")
    stock = {"toner": room.stock(toner, "toner")}
    text = recipe(
        water(500), ("citric-acid-monohydrate", "5 g"), ("recipe:toner", "50 mL")
    )
    found = room.plan(text, stocks=stock).checks
    assert [(c.level, c.step) for c in found if c.code == CODE] == [(STOP, 3)]


def test_a_pair_inside_one_bottle_met_when_it_was_mixed(room: Room) -> None:
    fixer = recipe(
        water(90), (HYPO, "20 g"), ("citric-acid-monohydrate", "2 g"), makes="100 mL"
    )
    stock = {"fixer": room.stock(fixer, "fixer")}
    text = recipe(water(500), ("recipe:fixer", "50 mL"))
    found = room.plan(text, stocks=stock).checks
    assert [c for c in found if c.code == CODE] == []


def test_of_several_rules_the_gravest_speaks(room: Room) -> None:
    text = recipe(water(500), ("sodium-hypochlorite-household", "50 mL"),
                  ("ammonium-thiosulfate-60pct", "50 mL"))  # fmt: skip
    said = only(room, text, CODE)
    assert said.level is STOP
    assert "chloramines" in said.text


def test_one_gas_is_noted_once(room: Room) -> None:
    text = recipe(
        water(600), (HYPO, "240 g"), (SULFITE, "10 g"),
        ("sodium-metabisulfite", "25 g"), ("potassium-alum-dodecahydrate", "15 g"),
    )  # fmt: skip
    assert levels(room, text, CODE) == [(NOTE, 4)]


def test_a_dry_mixture_is_dry(room: Room) -> None:
    text = recipe(
        ("potassium-permanganate", "10 g"), ("citric-acid-anhydrous", "60 g"),
        makes="70 g", fill=False,
    )  # fmt: skip
    assert levels(room, text, CODE) == [(STOP, 2)]


def test_deadly_rules_are_all_stops() -> None:
    deadly = {r.id for r in read_rules() if r.severity is Severity.DEADLY}
    assert {r.id for r in read_rules() if r.severity.level == "stop"} == deadly
    assert len(deadly) >= 5
