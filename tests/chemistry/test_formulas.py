"""Formulas: read strictly, weighed with the atomic weights of molmass."""

import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.formulas import Composition, atoms, composition, molar_mass
from labelkit.errors import BadInput

# Every case there stands beside its own source.
FILE = Path(__file__).parent.parent / "references" / "calculation-checks.toml"
CASES = tomllib.loads(FILE.read_text("utf-8"), parse_float=Decimal)["case"]


def cases(letter: str, *topics: str) -> list[Any]:
    chosen = [
        case
        for case in CASES
        if case["letter"] == letter and (not topics or case["topic"] in topics)
    ]
    assert chosen
    return [pytest.param(case, id=case["id"]) for case in chosen]


def inputs(case: dict[str, Any]) -> dict[str, Any]:
    return {each["name"]: each["value"] for each in case["inputs"]}


# Molar masses are kept to 0.001 g/mol, so each may be half of that off.
ROUNDED = Decimal("0.0005")


def check(
    case: dict[str, Any], name: str, got: Decimal, more: Decimal = Decimal(0)
) -> None:
    (wanted,) = (each for each in case["expected"] if each["name"] == name)
    assert wanted["tol_kind"] == "abs"
    assert abs(got - wanted["value"]) <= wanted["tol"] + more, (
        f"{case['title']}: {got}, not {wanted['value']}"
        f" ({case['confidence']}; {case['source']})"
    )


@pytest.mark.parametrize("case", cases("A", "atomic_weight"))
def test_atomic_weights_are_the_published_ones(case: dict[str, Any]) -> None:
    check(case, "atomic weight", molar_mass(inputs(case)["element"]))


@pytest.mark.parametrize("case", cases("A", "molar_mass"))
def test_molar_masses_are_the_published_ones(case: dict[str, Any]) -> None:
    check(case, "molar mass", molar_mass(inputs(case)["formula"]), ROUNDED)


@pytest.mark.parametrize("case", cases("A", "mass_to_amount"))
def test_grams_become_moles(case: dict[str, Any]) -> None:
    given_ = inputs(case)
    check(case, "amount", given_["mass"] / molar_mass(given_["formula"]))


@pytest.mark.parametrize("case", cases("A", "amount_to_mass"))
def test_moles_become_grams(case: dict[str, Any]) -> None:
    given_ = inputs(case)
    check(case, "mass", given_["amount"] * molar_mass(given_["formula"]))


def test_every_case_of_group_a_is_used() -> None:
    topics = {"atomic_weight", "molar_mass", "mass_to_amount", "amount_to_mass"}
    assert {case["topic"] for case in CASES if case["letter"] == "A"} == topics


BY_ID = {case["id"]: case for case in CASES}
CONVERSIONS = [case for case in CASES if case["letter"] == "D"]
FROM_TO = [case for case in CONVERSIONS if "from" in inputs(case)]
FACTORS = [case for case in CONVERSIONS if case["expected"][0]["name"] == "factor"]
BY_HAND = {"D-p-16", "D-p-18", "D-u-01"}


@pytest.mark.parametrize("case", FROM_TO, ids=lambda case: case["id"])
def test_one_hydrate_stands_in_for_another(case: dict[str, Any]) -> None:
    given_ = inputs(case)
    mass = given_["mass of form named in the recipe"]
    available = mass * molar_mass(given_["to"]) / molar_mass(given_["from"])
    check(case, "mass of available form", available)
    water = "water carried by available form relative to the recipe"
    check(case, water, available - mass)


@pytest.mark.parametrize("case", FACTORS, ids=lambda case: case["id"])
def test_published_conversion_factors_hold(case: dict[str, Any]) -> None:
    given_ = inputs(case)
    factor = molar_mass(given_["at hand"]) / molar_mass(given_["specified"])
    check(case, "factor", factor)


def test_a_textbooks_factors_for_carbonate_hold() -> None:
    case = BY_ID["D-p-16"]
    anhydrous = molar_mass("Na2CO3")
    check(case, "factor monohydrate", molar_mass("Na2CO3.H2O") / anhydrous)
    check(case, "factor decahydrate", molar_mass("Na2CO3.10H2O") / anhydrous)


def test_monohydrate_becomes_decahydrate() -> None:
    case = BY_ID["D-p-18"]
    moles = inputs(case)["mass Na2CO3·H2O"] / molar_mass("Na2CO3·H2O")
    check(case, "mass Na2CO3·10H2O", moles * molar_mass("Na2CO3·10H2O"))
    check(case, "equivalent anhydrous", moles * molar_mass("Na2CO3"))


def test_impure_potassium_hydroxide_stands_in_for_sodium_hydroxide() -> None:
    case = BY_ID["D-u-01"]
    given_ = inputs(case)
    pure = given_["mass NaOH"] * molar_mass("KOH") / molar_mass("NaOH")
    check(case, "mass KOH as weighed", pure / given_["KOH purity"] * 100)


def test_every_case_of_group_d_is_used() -> None:
    used = {case["id"] for case in (*FROM_TO, *FACTORS)} | BY_HAND
    assert used == {case["id"] for case in CONVERSIONS}
    assert len(used) == 20


def test_atoms_of_a_hydrate_include_its_water() -> None:
    assert atoms("Na2CO3.10H2O") == {"Na": 2, "C": 1, "O": 13, "H": 20}


def test_brackets_multiply_what_they_hold() -> None:
    assert atoms("(NH4)3[Fe(C2O4)3].3H2O") == {
        "N": 3, "H": 18, "Fe": 1, "C": 6, "O": 15,
    }  # fmt: skip


def test_an_ion_has_a_charge_and_misses_its_electrons() -> None:
    assert composition("Fe+3") == Composition({"Fe": 1}, 3)
    assert composition("Cr2O7-2") == Composition({"Cr": 2, "O": 7}, -2)
    assert composition("NH4+").charge == 1
    # electron: 0.000548579909 u (CODATA 2018)
    lost = molar_mass("Fe") - molar_mass("Fe+3")
    assert abs(lost - 3 * Decimal("0.000548579909")) <= Decimal("0.001")


@pytest.mark.parametrize(
    "written", ["Na2CO3·10H2O", "Na₂CO₃·10H₂O", " Na2CO3.10H2O ", "Na2CO3•10H2O"]
)
def test_a_middle_dot_and_low_figures_are_understood(written: str) -> None:
    assert composition(written) == composition("Na2CO3.10H2O")


def test_a_dot_before_a_number_never_multiplies_the_salt() -> None:
    # a general-purpose reader takes this for 480.4 g/mol; 2 x 45.017 + 2 x 18.015
    assert molar_mass("C2H2O4.2H2O") == Decimal("126.066")


def test_half_a_water_can_be_weighed_but_not_balanced() -> None:
    # potassium carbonate sesquihydrate: 138.206 + 1.5 x 18.015
    assert abs(molar_mass("K2CO3.1.5H2O") - Decimal("165.229")) <= Decimal("0.001")
    with pytest.raises(BadInput, match="half an atom") as caught:
        composition("K2CO3.1.5H2O")
    assert "K4C2O6.3H2O" in caught.value.faults[0].remedy


@pytest.mark.parametrize(
    ("written", "rest"),
    [
        ("Nacl", "'cl'"), ("NaCl2x", "'x'"), ("Fe(CN", "'Fe\\(CN'"), ("H2O)", "'\\)'"),
        ("H2O]", "'\\]'"), ("(H2O]", "'\\]'"), ("H0", "'0'"), ("K2CO3.", "'\\.'"),
        ("SO4--", "'-'"), ("XeF7Xx", "'Xx'"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_shown_where_it_starts(written: str, rest: str) -> None:
    with pytest.raises(BadInput, match="cannot be read") as caught:
        composition(written)
    assert "Na2CO3.10H2O" in caught.value.faults[0].remedy
    shown = rest.replace("\\", "")
    assert shown in caught.value.faults[0].problem


@pytest.mark.parametrize("written", ["", "  ", "+", "()", "2H2O", ".H2O", "water"])
def test_nothing_and_no_formula_are_refused(written: str) -> None:
    with pytest.raises(BadInput):
        molar_mass(written)


ELEMENTS = st.sampled_from(["H", "C", "N", "O", "Na", "S", "Cl", "K", "Fe", "Br", "Ag"])
PARTS = st.lists(st.tuples(ELEMENTS, st.integers(1, 30)), min_size=1, max_size=6)


@given(PARTS, st.integers(1, 12))
def test_a_formula_weighs_what_its_parts_weigh(
    parts: list[tuple[str, int]], times: int
) -> None:
    formula = "".join(f"{symbol}{count}" for symbol, count in parts)
    doubled = molar_mass(f"({formula}){times}.{times}H2O")
    together = times * (molar_mass(formula) + molar_mass("H2O"))
    assert abs(doubled - together) <= Decimal("0.001") * times
    # Another table of atomic weights: CIAAW as carried by periodictable.
    theirs = periodictable.formula(formula).mass
    assert float(molar_mass(formula)) == pytest.approx(theirs, rel=2e-4)
