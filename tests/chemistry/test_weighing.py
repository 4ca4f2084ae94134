"""Uncertainty of weighings, volumes and strengths (group H)."""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from labelkit.chemistry.weighing import (
    Contribution,
    assay_u,
    combined,
    headline_figures,
    is_fine_enough,
    least_mass_g,
    net_mass_u_g,
    other_branch_is_near,
    reading_u,
    rectangular,
    triangular,
    volume_u_mL,
    weighing_u,
)
from tests.chemistry.published import case, cases

share = st.floats(1e-5, 0.2)


@pytest.mark.parametrize("id_", ["H-d-1", "H-d-3"])
def test_a_readability_gives_the_uncertainty_of_its_readings(id_: str) -> None:
    this = case(id_)
    division = this.given("readability")
    this.wants("standard uncertainty of one reading", reading_u(division))
    this.wants(
        "standard uncertainty of a tared net mass (two readings)",
        net_mass_u_g(Decimal(str(division))),
    )


def test_a_rectangular_tolerance_gives_its_uncertainty() -> None:
    this = case("H-t-1")
    this.wants("standard uncertainty", rectangular(this.given("half-width")))
    assert volume_u_mL(this.given("half-width")) == rectangular(0.5)


def test_a_triangular_tolerance_gives_its_uncertainty() -> None:
    this = case("H-t-4")
    this.wants("standard uncertainty", triangular(this.given("half-width")))


def test_a_temperature_moves_a_volume_as_the_guide_says() -> None:
    this = case("H-v-1")
    expansion = this.given("expansion coefficient of water")
    half_width = this.given("volume") * expansion * this.given("temperature half-width")
    this.wants("standard uncertainty", rectangular(half_width))


def test_the_cadmium_standard_comes_out_as_in_the_guide() -> None:
    this = case("H-A1")
    purity, volume = this.given("purity"), this.given("flask volume")
    u_purity = rectangular(this.given("half-width of purity (rectangular)"))
    u_volume = math.hypot(
        triangular(this.given("flask tolerance (triangular)")),
        this.given("u(filling)"),
        rectangular(this.given("temperature effect half-width (rectangular)")),
    )
    this.wants("u(purity)", u_purity)
    this.wants("u(volume)", u_volume)
    concentration = this.given("mass") * purity / volume * 1000
    this.wants("concentration", concentration)
    parts = [
        Contribution("mass", this.given("u(mass)") / this.given("mass")),
        Contribution("purity", u_purity / purity),
        Contribution("volume", u_volume / volume, -1),
    ]
    u = concentration * combined(parts)
    this.wants("combined standard uncertainty", u)
    this.wants("combined standard uncertainty as published", u)
    this.wants("expanded uncertainty k=2 as published", 2 * u)


def test_the_standardised_acid_comes_out_as_in_the_guide() -> None:
    this = case("H-A3")
    powers = {
        "repeatability factor": ("u(repeatability)", 1),
        "mass KHP": ("u(mass)", 1),
        "purity": ("u(purity)", 1),
        "volume T2": ("u(T2)", 1),
        "volume T1": ("u(T1)", -1),
        "molar mass": ("u(molar mass)", -1),
        "aliquot": ("u(aliquot)", -1),
    }
    concentration = 1000 * math.prod(this.given(n) ** p for n, (_, p) in powers.items())
    this.wants("concentration", concentration)
    parts = [
        Contribution(name, this.given(u) / this.given(name), power)
        for name, (u, power) in powers.items()
    ]
    this.wants("combined standard uncertainty", concentration * combined(parts))


def test_every_case_of_the_group_is_computed() -> None:
    computed = {"H-d-1", "H-d-3", "H-t-1", "H-t-4", "H-v-1", "H-A1", "H-A3"}
    assert computed == set(cases("H"))


def test_the_metaborate_batch_comes_out_as_reckoned_beforehand() -> None:
    # the borax limits, the lye is 2 % over: only borax and the volume count
    this = case("Z-D09")
    readability = this.given("readability of the balance (tared, two readings)")
    volume = this.given("final volume")
    parts = [
        Contribution(
            "borax", weighing_u(this.given("mass borax decahydrate"), readability)
        ),
        Contribution(
            "lye", weighing_u(this.given("mass NaOH as weighed"), readability), 0
        ),
        Contribution(
            "volume",
            volume_u_mL(this.given("volume half-width (rectangular)")) / volume,
            -1,
        ),
    ]
    this.wants("standard uncertainty", 25.304 * combined(parts))


@given(share, share, share, st.floats(-2, 2))
def test_contributions_combine_as_in_an_independent_library(
    a: float, b: float, c: float, power: float
) -> None:
    strength = ufloat(7, 7 * a) * ufloat(0.985, 0.985 * b) / ufloat(400, 400 * c)
    other = ufloat(3, 3 * a) ** power * strength
    parts = [
        Contribution("mass", a),
        Contribution("assay", b),
        Contribution("volume", c, -1),
        Contribution("other", a, power),
    ]
    assert combined(parts) == pytest.approx(other.std_dev / abs(other.nominal_value))


@given(st.lists(share, min_size=1, max_size=6), share)
def test_one_more_contribution_never_makes_it_surer(
    us: list[float], more: float
) -> None:
    parts = [Contribution(str(n), u) for n, u in enumerate(us)]
    assert combined([*parts, Contribution("more", more)]) >= combined(parts)


def test_nothing_contributes_nothing() -> None:
    assert combined([]) == 0
    assert combined([Contribution("an excess", 0.5, 0)]) == 0


@pytest.mark.parametrize(
    ("readability", "grams", "fine"),
    # 0.1 g: sqrt(2)/sqrt(12) x 0.1 g = 0.04082 g, which is 5 % of 0.8165 g
    [("0.1", "0.817", True), ("0.1", "0.816", False), ("0.01", "0.0817", True)],
)
def test_a_weighing_is_fine_enough_to_5_per_cent(
    readability: str, grams: str, fine: bool
) -> None:
    assert is_fine_enough(Decimal(grams), Decimal(readability)) is fine


@given(st.floats(1e-4, 10))
def test_the_least_mass_is_just_fine_enough(readability: float) -> None:
    least = least_mass_g(readability)
    assert is_fine_enough(least * 1.0001, readability)
    assert not is_fine_enough(least * 0.9999, readability)


def test_an_assay_is_known_to_a_point_unless_told_otherwise() -> None:
    assert assay_u(98.5) == pytest.approx(1 / math.sqrt(3) / 98.5)
    assert assay_u(99.99, 0.01) == pytest.approx(0.01 / math.sqrt(3) / 99.99)


@pytest.mark.parametrize(
    ("relative_u", "figures"), [(0.00999, 3), (0.01, 2), (0.3, 2), (None, 2), (0, 3)]
)
def test_a_headline_has_as_many_figures_as_are_known(
    relative_u: float | None, figures: int
) -> None:
    assert headline_figures(relative_u) == figures


@pytest.mark.parametrize(
    ("excess", "near"), [(0.0599, True), (0.0601, False), (-0.05, True), (0, True)]
)
def test_the_other_branch_is_near_within_the_expanded_uncertainty(
    excess: float, near: bool
) -> None:
    assert other_branch_is_near(excess, 0.03) is near
