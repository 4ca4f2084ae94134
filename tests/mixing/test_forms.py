"""Conversions, against published factors and factors from two tables of weights.

Group D of references/calculation-checks.toml goes through the same function as the
catalogue's own forms; what the catalogue does not hold is read as own chemicals.
"""

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.substances import Substance
from labelkit.errors import NoAnswer
from labelkit.files.chemicals import entries_from_tables, read_catalogue
from labelkit.files.pairs import read_exchange
from labelkit.mixing.forms import convert

CATALOGUE = read_catalogue()
EXCHANGE = read_exchange()
REFERENCES = Path(__file__).parent.parent / "references" / "calculation-checks.toml"
CASES: dict[str, Mapping[str, Any]] = {
    case["id"]: case
    for case in tomllib.loads(REFERENCES.read_text("utf-8"), parse_float=Decimal)[
        "case"
    ]
    if case["letter"] == "D"
}
# What the trade's families and the catalogue call the parents of the published table.
PARENTS = {
    "NaOH": "sodium-hydroxide",
    "KOH": "potassium-hydroxide",
    "NaBr": "sodium-bromide",
    "KBr": "potassium-bromide",
    "NaC6H7O6": "ascorbic-acid",
    "C6H8O6": "ascorbic-acid",
    "K2CO3": "potassium-carbonate",
    "Na2CO3": "sodium-carbonate",
}


def own(formula: str) -> Substance:
    """A form of a person's own, read as their chemicals.toml would be."""
    written = formula.replace("·", ".")
    dry = formula.partition("·")[0]
    table = {
        "id": "form-" + "".join(filter(str.isalnum, formula)).lower(),
        "names": [f"own {written}"],
        "parent": PARENTS.get(dry, "own-" + "".join(filter(str.isalnum, dry)).lower()),
        "formula": written,
        "classes": [],
        "basis": "own",
        "source": "made for the test",
    }
    entries, faults = entries_from_tables([table], place="chemicals.toml")
    assert not faults
    return entries[0].substance


def values(case: Mapping[str, Any], key: str) -> dict[str, Any]:
    return {each["name"]: each["value"] for each in case[key]}


def near(got: Decimal, wanted: Mapping[str, Any]) -> bool:
    return abs(got - Decimal(str(wanted["value"]))) <= Decimal(str(wanted["tol"]))


def cases(start: str) -> list[Any]:
    chosen = [pytest.param(c, id=i) for i, c in CASES.items() if i.startswith(start)]
    assert chosen
    return chosen


@pytest.mark.parametrize("case", cases("D-h-"))
def test_hydrates_are_exchanged_with_the_water_they_bring(
    case: Mapping[str, Any],
) -> None:
    given_ = values(case, "inputs")
    mass_g = Decimal(given_["mass of form named in the recipe"])
    found = convert(own(given_["from"]), own(given_["to"]), mass_g, EXCHANGE)
    mass, water = case["expected"]
    assert near(found.g_to, mass)
    assert near(found.water_g, water)


@pytest.mark.parametrize(
    "case", [p for p in cases("D-p-") if p.id not in ("D-p-16", "D-p-18")]
)
def test_published_factors_are_met(case: Mapping[str, Any]) -> None:
    given_ = values(case, "inputs")
    found = convert(
        own(given_["specified"]), own(given_["at hand"]), Decimal(1), EXCHANGE
    )
    (factor,) = case["expected"]
    assert near(found.factor, factor)


def test_carbonate_of_the_general_textbook() -> None:
    # D-p-16: general photography textbook, Appendix D
    anhydrous = own("Na2CO3")
    for hydrate, factor in zip(
        ("Na2CO3·H2O", "Na2CO3·10H2O"), CASES["D-p-16"]["expected"], strict=True
    ):
        found = convert(anhydrous, own(hydrate), Decimal(1), EXCHANGE)
        assert near(found.factor, factor)


def test_a_published_worked_answer_for_carbonate() -> None:
    # D-p-18: cine-processing forum, 2013: 52.5 g monohydrate = 121 g decahydrate
    start, mass_g = own("Na2CO3·H2O"), Decimal("52.5")
    deca, anhydrous = CASES["D-p-18"]["expected"]
    assert near(convert(start, own("Na2CO3·10H2O"), mass_g, EXCHANGE).g_to, deca)
    assert near(convert(start, own("Na2CO3"), mass_g, EXCHANGE).g_to, anhydrous)


def test_a_jar_of_potash_that_is_not_pure() -> None:
    # D-u-01: 10 g of sodium hydroxide, potassium hydroxide of 85 %
    found = convert(own("NaOH"), own("KOH"), Decimal(10), EXCHANGE)
    (weighed,) = CASES["D-u-01"]["expected"]
    assert near(found.g_to / Decimal("0.85"), weighed)


@pytest.mark.parametrize(
    ("one", "other", "factor"),
    [
        # practice.md, section 5, computed from molar masses
        ("sodium-carbonate-anhydrous", "sodium-carbonate-monohydrate", "1.170"),
        ("sodium-carbonate-anhydrous", "sodium-carbonate-decahydrate", "2.700"),
        ("sodium-thiosulfate-anhydrous", "sodium-thiosulfate-pentahydrate", "1.570"),
        ("borax-decahydrate", "borax-pentahydrate", "0.764"),
        ("sodium-hydroxide", "potassium-hydroxide", "1.403"),
        ("potassium-hydroxide", "sodium-hydroxide", "0.713"),
        ("potassium-carbonate", "sodium-carbonate-monohydrate", "0.897"),
        ("sodium-metabisulfite", "potassium-metabisulfite", "1.169"),
        ("sodium-ascorbate", "ascorbic-acid", "0.889"),
        # 252.065 / 294.185: molar masses of both dichromates (CIAAW 2021)
        ("potassium-dichromate", "ammonium-dichromate", "0.857"),
        # the catalogue's remark: 190.1 g metabisulfite replaces 208.1 g bisulfite
        ("sodium-bisulfite", "sodium-metabisulfite", "0.913"),
    ],
)
def test_factors_of_practice(one: str, other: str, factor: str) -> None:
    found = convert(
        CATALOGUE.substance(one), CATALOGUE.substance(other), Decimal(1), EXCHANGE
    )
    assert round(found.factor, 3) == Decimal(factor)


def test_a_solution_is_exchanged_by_what_is_dissolved_in_it() -> None:
    # American 28 % acid: 3 volumes of glacial and 8 of water (the catalogue's remark)
    glacial = CATALOGUE.substance("acetic-acid-glacial")
    weak = CATALOGUE.substance("acetic-acid-28pct")
    mass_g = 3 * glacial.density.value if glacial.density else Decimal(0)
    found = convert(glacial, weak, mass_g, EXCHANGE)
    assert found.mL_from == 3
    assert found.mL_to == pytest.approx(11, rel=Decimal("0.03"))
    assert found.water_g == pytest.approx(8, rel=Decimal("0.03"))


def test_metabisulfite_takes_up_the_water_that_makes_bisulfite() -> None:
    bisulfite = CATALOGUE.substance("sodium-bisulfite")
    powder = CATALOGUE.substance("sodium-metabisulfite")
    found = convert(bisulfite, powder, Decimal("208.122"), EXCHANGE)
    # Na2S2O5 + H2O = 2 NaHSO3
    assert found.g_to == pytest.approx(Decimal("190.106"), abs=Decimal("0.002"))
    assert found.water_g == pytest.approx(Decimal("-18.015"), abs=Decimal("0.002"))


def told_no(one: str, other: str) -> str:
    with pytest.raises(NoAnswer) as caught:
        convert(
            CATALOGUE.substance(one), CATALOGUE.substance(other), Decimal(1), EXCHANGE
        )
    assert caught.value.exit_code == 1
    return str(caught.value)


@pytest.mark.parametrize(
    ("one", "other", "said"),
    [
        ("metol", "phenidone", "no honest number: one developing agent"),
        ("hydroquinone", "ascorbic-acid", "no honest number: one developing agent"),
        ("sodium-sulfite-anhydrous", "sodium-bisulfite", "no published pair"),
        ("borax-decahydrate", "sodium-metaborate-tetrahydrate", "no published pair"),
        ("gelatin", "gum-arabic", "no published pair"),
    ],
)
def test_what_has_no_honest_number_is_refused_with_a_way_out(
    one: str, other: str, said: str
) -> None:
    told = told_no(one, other)
    assert said in told
    assert "Look for" in told


def test_the_two_iron_citrates_are_not_exchanged() -> None:
    green = CATALOGUE.substance("ferric-ammonium-citrate-green")
    table = {
        "id": "ferric-ammonium-citrate-brown",
        "parent": "ferric-ammonium-citrate",
        "classes": [],
        "source": "made for the test",
    }
    ((entry,), faults) = entries_from_tables([table], place="chemicals.toml")
    assert not faults
    with pytest.raises(NoAnswer, match="no fixed composition"):
        convert(green, entry.substance, Decimal(1), EXCHANGE)
    assert convert(green, green, Decimal(7), EXCHANGE).g_to == 7


def test_a_family_stays_a_family_of_two_parents_only() -> None:
    # sulfite is no bisulfite, though both carry SO2
    assert EXCHANGE.family_of("sodium-sulfite", "sodium-bisulfite") is None
    assert EXCHANGE.family_of("sodium-bisulfite", "sodium-metabisulfite") is not None


FORMS = [s for s in CATALOGUE.substances if s.formula]


@given(st.sampled_from(FORMS), st.decimals(Decimal("0.01"), 1000, places=2))
def test_there_and_back_is_where_it_began(form: Substance, mass_g: Decimal) -> None:
    for other in FORMS:
        if other.parent != form.parent:
            continue
        there = convert(form, other, mass_g, EXCHANGE)
        back = convert(other, form, there.g_to, EXCHANGE)
        assert back.g_to == pytest.approx(mass_g, rel=Decimal("1e-20"))
        # what one brings more of water the other brings less, and nothing else moves
        assert there.water_g == pytest.approx(
            -back.water_g, rel=Decimal("1e-18"), abs=Decimal("1e-18")
        )
