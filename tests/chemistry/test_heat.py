"""Warming by dissolving and by pouring together (group F)."""

import tomllib
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.heat import mixed_C, rise_K, warming
from labelkit.chemistry.substances import Confidence, Figure, State, Substance
from labelkit.files.chemicals import read_catalogue
from tests.chemistry.published import REFERENCES, case, cases

CATALOGUE = read_catalogue()


def salt(
    molar_mass: str, kJ_per_mol: float | None, percent: str | None = None
) -> Substance:
    heat = None
    if kJ_per_mol is not None:
        heat = Figure(Decimal(str(kJ_per_mol)), "the case", Confidence.FOUND)
    return Substance(
        "salt",
        ("a salt",),
        "salt",
        State.SOLID,
        molar_mass=Decimal(molar_mass),
        heat_of_solution=heat,
        percent_by_mass=None if percent is None else Decimal(percent),
    )


# what is expected, which input is the warming [K], which inputs add up to the mass [g],
# and whether the figure is given off (1) or taken up (-1)
FROM_HEAT = {
    "F-os-01": ("heat", "temperature change", ["mass water"], 1),
    "F-os-03": ("heat released", "temperature rise", ["volume of mixture"], 1),
    "F-os-05": (
        "heat absorbed", "temperature change", ["mass NH4NO3", "mass water"], -1,
    ),
    "F-os-07": ("heat", "temperature change", ["mass CaCl2", "mass water"], -1),
}  # fmt: skip
LYE = tuple(id_ for id_ in cases("F") if id_.startswith("F-na-"))
HEATS = {
    "F-tab-01": "sodium-hydroxide",
    "F-tab-03": "potassium-hydroxide",
    "F-tab-05": "ammonium-chloride",
    "F-tab-07": "sodium-acetate-anhydrous",
    "F-tab-09": "sodium-chloride",
    "F-tab-11": "silver-nitrate",
    "F-tab-13": "acetic-acid-glacial",
}
NOT_COMPUTED = {"F-tab-15": "ammonia is not in the catalogue"}


@pytest.mark.parametrize("id_", FROM_HEAT)
def test_a_heat_warms_a_mass_as_published(id_: str) -> None:
    name, change, parts, sign = FROM_HEAT[id_]
    this = case(id_)
    mass_g, rise = sum(map(this.given, parts)), this.given(change)
    # the heat that would warm the mass exactly so far
    heat_J = rise / rise_K(1.0, mass_g)
    this.wants(name, sign * heat_J)


@pytest.mark.parametrize("id_", LYE)
def test_lye_warms_its_water_as_published(id_: str) -> None:
    this = case(id_)
    lye_g, water_g = this.given("mass NaOH"), this.given("mass water")
    lye = salt("39.997", this.given("enthalpy of solution"))
    told = warming([(lye, lye_g)], lye_g + water_g, 20.0)
    this.wants("temperature rise", told.rise_K)
    assert told.peak_C == pytest.approx(20 + told.rise_K)


def test_soda_warms_its_water_as_published() -> None:
    this = case("F-soda-01")
    soda_g, water_g = this.given("mass Na2CO3"), this.given("mass water")
    soda = salt("105.988", this.given("enthalpy of solution"))
    told = warming([(soda, soda_g)], soda_g + water_g, 20.0)
    this.wants("temperature change", told.rise_K)


def test_a_cold_pack_in_twice_the_water_cools_as_published() -> None:
    # the heat is that of the same salt in half the water, F-os-05: 1.0 kJ for 3.21 g
    this = case("F-os-09")
    salt_g, water_g = this.given("mass NH4NO3"), this.given("mass water")
    taken_up_kJ = case("F-os-05").data["expected"][0]["value"] / 1000
    nitrate = salt("80.043", taken_up_kJ / (salt_g / 80.043))
    start_C = this.given("initial temperature")
    told = warming([(nitrate, salt_g)], salt_g + water_g, start_C)
    this.wants("final temperature", told.peak_C)


@pytest.mark.parametrize("id_", HEATS)
def test_the_catalogue_holds_the_published_heat_of_solution(id_: str) -> None:
    heat = CATALOGUE.substance(HEATS[id_]).heat_of_solution
    assert heat is not None
    case(id_).wants("enthalpy of solution", float(heat.value))


def test_every_case_of_the_group_is_computed_or_says_why_not() -> None:
    computed = {*FROM_HEAT, *LYE, *HEATS, "F-soda-01", "F-os-09"}
    assert computed | set(NOT_COMPUTED) == set(cases("F"))
    assert computed.isdisjoint(NOT_COMPUTED)


def derived() -> dict[str, float]:
    text = (REFERENCES / "chemicals-derived.toml").read_text("utf-8")
    forms = tomllib.loads(text)["form"]
    return {form["id"]: form["j_per_g"] for form in forms if "j_per_g" in form}


@pytest.mark.parametrize(("id_", "j_per_g"), derived().items())
def test_one_gram_gives_off_what_was_reckoned_beforehand(
    id_: str, j_per_g: float
) -> None:
    told = warming([(CATALOGUE.substance(id_), 1)], 100, 20)
    share = float(CATALOGUE.substance(id_).solute_share)
    assert told.heat_J == pytest.approx(-j_per_g * share, abs=0.011 * abs(j_per_g) + 1)


def test_a_solution_gives_off_the_heat_of_its_solute() -> None:
    whole, half = salt("100", -50), salt("100", -50, percent="40")
    told = warming([(half, Decimal(10))], 100, 20)
    assert told.heat_J == pytest.approx(0.4 * warming([(whole, 10)], 100, 20).heat_J)


def test_what_dissolves_together_adds_up() -> None:
    one, other = salt("100", -50), salt("50", 20)
    told = warming([(one, 10), (other, 5)], 500, 20)
    # 0.1 mol x 50 kJ given off, 0.1 mol x 20 kJ taken up
    assert told.heat_J == pytest.approx(3000)
    assert told.rise_K == pytest.approx(3000 / (500 * 4.18))


def test_a_missing_heat_of_solution_is_said_and_not_counted() -> None:
    told = warming([(salt("100", None), 10)], 500, 20)
    assert told.rise_K == 0
    assert "heat of solution of a salt: no figure" in told.not_counted


def test_what_no_figure_here_counts_is_always_said() -> None:
    told = warming([(CATALOGUE.substance("sodium-hydroxide"), 5)], 500, 20)
    assert told.not_counted == (
        "heat of reaction and of dilution",
        "heat lost to the vessel and the air",
    )


def test_water_needs_no_heat_of_solution() -> None:
    told = warming([(CATALOGUE.substance("water"), 5)], 500, 20)
    assert not any("water" in line for line in told.not_counted)


@pytest.mark.parametrize(("lye_g", "said"), [(10.0, False), (10.01, True)])
def test_a_strong_solution_is_said_to_warm_less(lye_g: float, said: bool) -> None:
    lye = CATALOGUE.substance("sodium-hydroxide")
    told = warming([(lye, lye_g)], 100, 20)
    caveat = "that strong solutions give off less than dilute ones"
    assert (caveat in told.not_counted) is said


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        # common practice: equal parts meet in the middle
        ([(500, 20), (500, 60)], 40),
        ([(750, 20), (250, 60)], 30),
        ([(400, 18.5)], 18.5),
        ([(Decimal("333.3"), 20), (0, 90)], 20),
    ],
)
def test_vessels_meet_at_their_mean_by_mass(
    parts: list[tuple[Decimal | float, float]], expected: float
) -> None:
    assert mixed_C(parts) == pytest.approx(expected)


temperature = st.floats(0, 95)
mass = st.floats(0.1, 5000)


@given(st.lists(st.tuples(mass, temperature), min_size=1, max_size=5))
def test_a_mixture_lies_between_its_parts(parts: list[tuple[float, float]]) -> None:
    found = mixed_C(parts)
    coldest, warmest = min(t for _, t in parts), max(t for _, t in parts)
    assert coldest - 1e-9 <= found <= warmest + 1e-9


@given(mass, mass, st.floats(0.1, 100))
def test_more_water_warms_less(less: float, more: float, lye_g: float) -> None:
    lye = CATALOGUE.substance("sodium-hydroxide")
    small = warming([(lye, lye_g)], lye_g + less, 20).rise_K
    large = warming([(lye, lye_g)], lye_g + less + more, 20).rise_K
    assert large < small
