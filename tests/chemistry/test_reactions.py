"""Reactions: balanced by the atoms, run to the end of the reagent that limits."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

import pytest
from chempy import balance_stoichiometry
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.formulas import atoms, composition, molar_mass
from labelkit.chemistry.reactions import Equation, Species, balance, pretty, run
from labelkit.errors import BadInput
from tests.chemistry.published import Case, case, cases

BALANCING = [c for c in cases("B").values() if c.data["topic"] == "balance"]
# Named by us or found by labelkit: each case is balanced both ways.
FOUND_BY_US = ({"H2O"}, {"H2O", "CO2"}, {"H2O", "SO2"})

# What a print room makes in its jugs: (added, made).
PREPARATIONS = [
    (["Na2B4O7.10H2O", "NaOH"], ["NaBO2.4H2O"]),
    (["Na2B4O7.5H2O", "NaOH"], ["NaBO2.2H2O"]),
    (["Na2B4O7", "KOH"], ["NaBO2", "KBO2"]),
    (["H3BO3", "NaOH"], ["NaBO2.4H2O"]),
    (["Na2S2O5", "NaOH"], ["Na2SO3"]),
    (["NaHSO3", "NaOH"], ["Na2SO3"]),
    (["Na2S2O5", "Na2CO3"], ["Na2SO3"]),
    (["C6H8O6", "NaHCO3"], ["C6H7NaO6"]),
    (["C6H8O7.H2O", "Na2CO3"], ["C6H5Na3O7.2H2O"]),
    (["C2H2O4.2H2O", "K2CO3"], ["K2C2O4.H2O"]),
    (["C2H2O4.2H2O", "KOH"], ["K2C2O4.H2O"]),
    (["C2H4O2", "NaHCO3"], ["C2H3NaO2.3H2O"]),
    (["NaHCO3", "NaOH"], ["Na2CO3.10H2O"]),
    (["NH4Cl", "NaOH"], ["NaCl"]),
]


def named(formulas: Iterable[str]) -> list[Species]:
    return [Species(formula, formula) for formula in formulas]


def given_formulas(one: Case, name: str) -> list[str]:
    (found,) = (i["value"] for i in one.data["inputs"] if i["name"] == name)
    return list(found)


def wanted(one: Case) -> dict[str, int]:
    return {f: n for side in one.data["expected"] for f, n in side["value"].items()}


def counted(equation: Equation) -> dict[str, int]:
    """Every coefficient, what labelkit found by itself included."""
    found = dict(equation.coefficients)
    if equation.water:
        found["H2O"] = abs(equation.water)
    if equation.gas:
        found[equation.gas[0]] = equation.gas[1]
    return found


def balanced(reactants: Iterable[str], products: Iterable[str]) -> Equation:
    return balance(named(reactants), named(products))


def told(reactants: list[str], products: list[str]) -> str:
    with pytest.raises(BadInput) as caught:
        balanced(reactants, products)
    return str(caught.value)


@pytest.mark.parametrize("one", BALANCING, ids=lambda one: one.id)
def test_an_equation_has_the_published_coefficients(one: Case) -> None:
    reactants = given_formulas(one, "reactants")
    products = given_formulas(one, "products")
    got = counted(balanced(reactants, products))
    assert got == wanted(one), one.told(f"got {got}, expected {wanted(one)}")


@pytest.mark.parametrize("left_out", FOUND_BY_US, ids=sorted)
@pytest.mark.parametrize("one", BALANCING, ids=lambda one: one.id)
def test_what_is_left_out_is_found(one: Case, left_out: set[str]) -> None:
    reactants = [f for f in given_formulas(one, "reactants") if f != "H2O"]
    products = [f for f in given_formulas(one, "products") if f not in left_out]
    if not products:  # butane burns to nothing that a room would name
        products = ["CO2"]
    got = counted(balanced(reactants, products))
    assert got == wanted(one), one.told(f"got {got}, expected {wanted(one)}")


def as_chempy(formulas: Iterable[str]) -> dict[str, str]:
    return {f.replace(".", ".."): f for f in formulas}


@pytest.mark.parametrize(
    ("added", "made"), PREPARATIONS, ids=lambda formulas: "+".join(formulas)
)
def test_chempy_balances_what_is_mixed_in_a_jug_in_the_same_way(
    added: list[str], made: list[str]
) -> None:
    ours = balanced(added, made)
    left, right = list(added), list(made)
    if ours.water:
        (right if ours.water > 0 else left).append("H2O")
    if ours.gas:
        right.append(ours.gas[0])
    names = as_chempy(left) | as_chempy(right)
    theirs = balance_stoichiometry(set(as_chempy(left)), set(as_chempy(right)))
    counts = {names[f]: int(n) for side in theirs for f, n in side.items()}
    assert counted(ours) == counts


def net(equation: Equation) -> dict[str, int]:
    """Atoms and charge made less those used up."""
    terms = [(s.formula, -n) for s, n in equation.reactants]
    terms += [(s.formula, n) for s, n in equation.products]
    terms.append(("H2O", equation.water))
    if equation.gas:
        terms.append(equation.gas)
    sums: dict[str, int] = {}
    for formula, n in terms:
        found = composition(formula)
        for what, count in {**found.atoms, "charge": found.charge}.items():
            sums[what] = sums.get(what, 0) + n * count
    return {what: count for what, count in sums.items() if count}


@pytest.mark.parametrize(
    ("added", "made"), PREPARATIONS, ids=lambda formulas: "+".join(formulas)
)
def test_no_atom_is_made_or_lost(added: list[str], made: list[str]) -> None:
    assert net(balanced(added, made)) == {}


def test_an_equation_is_told_as_chemists_write_it() -> None:
    equation = balanced(["Na2B4O7.10H2O", "NaOH"], ["NaBO2.4H2O"])
    assert str(equation) == "Na2B4O7·10H2O + 2 NaOH + 5 H2O → 4 NaBO2·4H2O"


def test_gas_that_comes_off_is_told_last() -> None:
    equation = balanced(["C6H8O6", "NaHCO3"], ["C6H7NaO6"])
    assert str(equation) == "C6H8O6 + NaHCO3 → C6H7NaO6 + H2O + CO2"


def test_water_that_is_named_is_counted_as_a_chemical() -> None:
    equation = balanced(["H3BO3", "NaOH"], ["NaBO2", "H2O"])
    assert equation.water == 0
    assert equation.coefficients["H2O"] == 2


@pytest.mark.parametrize(
    ("formula", "shown"),
    [
        ("Na2CO3.10H2O", "Na2CO3·10H2O"),
        ("K2CO3.1.5H2O", "K2CO3·1.5H2O"),
        ("KBr", "KBr"),
    ],
)
def test_hydrate_water_stands_behind_a_raised_dot(formula: str, shown: str) -> None:
    assert pretty(formula) == shown


def test_an_element_on_one_side_only_is_named() -> None:
    assert told(["Na2B4O7.10H2O", "NaCl"], ["NaBO2.4H2O"]) == (
        "Na2B4O7.10H2O + NaCl to NaBO2.4H2O cannot be balanced: Cl only before. "
        "Name every by-product under 'to'; water, CO2, SO2, NH3 and O2 are found "
        "by labelkit."
    )


def test_an_element_from_nowhere_is_named() -> None:
    assert "cannot be balanced: K only after" in told(["NaOH"], ["NaOH", "KOH"])


def test_the_right_elements_in_impossible_numbers_are_told() -> None:
    assert "cannot be balanced: no whole numbers fit" in told(["Na2S2O3"], ["Na2SO3"])


def test_a_chemical_without_a_part_in_it_is_refused() -> None:
    assert "cannot be balanced" in told(["NaOH", "KBr"], ["NaOH"])


def test_two_reactions_in_one_are_refused_with_both_written_out() -> None:
    assert told(["H3BO3", "NaOH", "C2H4O2"], ["NaBO2", "C2H3NaO2"]) == (
        "H3BO3 + NaOH + C2H4O2 to NaBO2 + C2H3NaO2 balances in more than one way. "
        "Write one reaction at a time, such as: H3BO3 + NaOH → NaBO2 + 2 H2O; or "
        "NaOH + C2H4O2 → C2H3NaO2 + H2O."
    )


def test_the_readings_name_the_gas_and_not_water() -> None:
    words = told(["C6H8O6", "NaHCO3", "C2H4O2"], ["C6H7NaO6", "C2H3NaO2"])
    assert "C6H8O6 + NaHCO3 → C6H7NaO6 + H2O + CO2" in words
    assert "NaHCO3 + C2H4O2 → C2H3NaO2 + H2O + CO2" in words


def test_a_heap_of_chemicals_is_no_reaction() -> None:
    heap = [f"Na{n}Cl{n}" for n in range(1, 12)]
    assert told(heap[:5], heap[5:]) == (
        "11 chemicals are named, more than one reaction has. "
        "Write one reaction at a time, of at most 10 chemicals."
    )


def grams(of: Mapping[str, float | str]) -> dict[str, Decimal]:
    return {formula: Decimal(str(mass)) for formula, mass in of.items()}


def test_gas_is_given_in_grams_and_in_litres_at_20_degrees() -> None:
    """R T / p with R of the SI Brochure, 9th ed.: 24.055 L/mol at 20 degC, 1 atm."""
    equation = balanced(["C6H8O6", "NaHCO3"], ["C6H7NaO6"])
    done = run(equation, grams({"C6H8O6": 176.124, "NaHCO3": 100}))
    assert done.gas is not None
    assert done.gas.formula == "CO2"
    assert done.gas.mass_g == molar_mass("CO2")
    exact_L = 8.314462618 * 293.15 / 101.325
    assert float(done.gas.volume_L) == pytest.approx(exact_L, rel=1e-4)


def test_bicarbonate_runs_out_before_an_equal_mass_of_citric_acid() -> None:
    one = case("B-lim-06")
    equation = balanced(["NaHCO3", "C6H8O7"], ["Na3C6H5O7"])
    done = run(equation, grams({"NaHCO3": 1, "C6H8O7": 1}))
    assert done.limiting == "NaHCO3"
    assert done.gas is not None
    one.wants("mass CO2", float(done.gas.mass_g))
    one.wants("excess C6H8O7 left", 1 - float(done.consumed_g["C6H8O7"]))


def test_the_limiting_reagent_is_used_up_to_the_last_digit() -> None:
    equation = balanced(["Na2B4O7.10H2O", "NaOH"], ["NaBO2.4H2O"])
    available = grams({"Na2B4O7.10H2O": "17.3", "NaOH": "3.626"})
    done = run(equation, available)
    assert done.consumed_g["NaOH"] == available["NaOH"]
    assert done.consumed_g["Na2B4O7.10H2O"] < available["Na2B4O7.10H2O"]


masses = st.decimals(min_value="0.01", max_value="5000", places=2)


@pytest.mark.parametrize(
    ("added", "made"), PREPARATIONS, ids=lambda formulas: "+".join(formulas)
)
@given(data=st.data())
def test_running_a_reaction_keeps_mass_and_every_element(
    added: list[str], made: list[str], data: Any
) -> None:
    equation = balanced(added, made)
    available = {formula: data.draw(masses) for formula in added}
    done = run(equation, available)
    moles: dict[str, Decimal] = {}
    changes = [(f, -m) for f, m in done.consumed_g.items()]
    changes += [*done.formed_g.items(), ("H2O", done.water_g)]
    if done.gas:
        changes.append((done.gas.formula, done.gas.mass_g))
    for formula, mass_g in changes:
        for element, count in atoms(formula).items():
            n = mass_g / molar_mass(formula) * count
            moles[element] = moles.get(element, Decimal(0)) + n
    most = max(available.values())
    assert all(abs(n) < most * Decimal("1e-20") for n in moles.values())
    # molar masses are kept to 0.001 g/mol each, so masses agree to a few of those
    assert abs(sum(mass_g for _, mass_g in changes)) < most * Decimal("0.001")
    assert all(done.consumed_g[f] <= available[f] for f in added)
