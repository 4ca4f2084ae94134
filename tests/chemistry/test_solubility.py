"""How much dissolves: tables, bases and units (group G)."""

import tomllib
from decimal import Decimal
from math import inf, isinf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.chemistry.refusal import Refusal
from labelkit.chemistry.solubility import (
    Dissolution,
    Saturation,
    as_form,
    dissolve,
    nearest_saturation,
    per_100_g_water,
    percent_ww,
    saturation,
    temperature_to_dissolve,
)
from labelkit.chemistry.substances import Confidence, Solubility, State, Substance
from labelkit.files.chemicals import read_catalogue
from tests.chemistry.published import REFERENCES, case, cases

CATALOGUE = read_catalogue()
BORAX = CATALOGUE.substance("borax-decahydrate")

COMPUTED = {"G-03", "G-05", "G-07", "G-09", "G-13"}
NOT_COMPUTED = {
    "G-01": "nothing tells a mole fraction",
    "G-11": "nothing tells the slope of a solubility",
    "G-15": "nothing reckons with solubility products",
}


def table(
    *points: tuple[float, float],
    unit: str = "g per 100 g water",
    basis: str = "this form",
    confidence: Confidence = Confidence.FOUND,
    note: str = "",
) -> Solubility:
    exact = tuple((Decimal(str(at)), Decimal(str(s))) for at, s in points)
    return Solubility(exact, unit, basis, "a test", confidence, note)


def salt(*tables: Solubility, miscible: bool = False) -> Substance:
    return Substance(
        "salt",
        ("a salt",),
        "salt",
        State.SOLID,
        solubility=tables,
        miscible=miscible,
    )


def held(substance: Substance, at_C: float) -> Saturation:
    told = saturation(substance, at_C)
    assert isinstance(told, Saturation), told
    return told


def refused(substance: Substance, at_C: float) -> str:
    told = saturation(substance, at_C)
    assert isinstance(told, Refusal), told
    return told.reason


def dissolved(
    substance: Substance, mass_g: Decimal | float, water_g: float, at_C: float
) -> Dissolution:
    told = dissolve(substance, mass_g, water_g, at_C)
    assert isinstance(told, Dissolution), told
    return told


def test_mass_per_cent_becomes_grams_in_100_g_of_water() -> None:
    this = case("G-03")
    this.wants("grams per 100 g water", per_100_g_water(this.given("mass percent")))


def test_grams_in_100_g_of_water_become_mass_per_cent() -> None:
    this = case("G-05")
    percent = percent_ww(this.given("solubility"))
    this.wants("mass percent", percent)
    density = this.given("density of saturated solution")
    this.wants("grams per litre", percent / 100 * density * 1000)


def test_a_solubility_between_two_points_is_interpolated() -> None:
    this = case("G-07")
    points = [(t, this.given(f"solubility {t} °C")) for t in (20, 40)]
    told = held(salt(table(*points)), 30)
    this.wants("solubility 30 °C", told.g_per_100_g_water)


def test_borax_dissolves_as_its_producer_says() -> None:
    this = case("G-09")
    per_100 = per_100_g_water(this.given("saturation"))
    borax = salt(table((20, per_100)))
    water_g, borax_g = this.given("mass water"), this.given("mass borax decahydrate")
    told = dissolved(borax, borax_g, water_g, 20)
    assert told.fits is this.data["expected"][0]["value"], this.told("does not fit")
    this.wants(
        "maximum in the same total mass",
        told.saturation.percent / 100 * (water_g + borax_g),
    )


def test_an_anhydrous_figure_becomes_one_for_the_hydrate() -> None:
    this = case("G-13")
    told = as_form(this.given("solubility as Na2B4O7"), BORAX)
    this.wants("solubility as decahydrate", told)


def test_every_case_of_the_group_is_computed_or_says_why_not() -> None:
    assert COMPUTED | set(NOT_COMPUTED) == set(cases("G"))
    assert COMPUTED.isdisjoint(NOT_COMPUTED)


def derived() -> list[tuple[str, int, float]]:
    text = (REFERENCES / "chemicals-derived.toml").read_text("utf-8")
    return [
        (form["id"], at_C, value)
        for form in tomllib.loads(text)["form"]
        for found in form.get("per_100_g_water", [])[:1]
        for at_C, value in zip(found["at_C"], found["values"], strict=True)
    ]


def test_every_hydrate_dissolves_as_was_reckoned_beforehand() -> None:
    off = []
    for id_, at_C, value in derived():
        substance = CATALOGUE.substance(id_)
        told = saturation(substance, at_C)
        if not isinstance(told, Saturation):
            continue
        first = substance.solubility[0]
        if first.source == told.source and first.basis == "anhydrous":
            off.append((abs(told.g_per_100_g_water / value - 1), id_, at_C))
    assert len(off) > 100
    assert max(off)[0] < 0.002, max(off)  # they are stored to 0.01 g


def test_the_points_of_a_table_come_back_as_they_are() -> None:
    lye = CATALOGUE.substance("sodium-hydroxide")
    for at_C, value in lye.solubility[0].points:
        told = held(lye, float(at_C))
        assert told.g_per_100_g_water == pytest.approx(float(value))


def test_borax_holds_4_7_per_cent_at_20() -> None:
    # producers' data, quoted in G-09: 4.71 % w/w of the decahydrate
    assert held(BORAX, 20).percent == pytest.approx(4.71, abs=0.05)


@pytest.mark.parametrize("at_C", [-0.1, 100.1])
def test_beyond_its_table_nothing_is_told(at_C: float) -> None:
    reason = refused(BORAX, at_C)
    assert "borax" in reason
    assert "0 to 100 °C" in reason


@pytest.mark.parametrize("at_C", [0, 100])
def test_at_the_ends_of_its_table_it_is_told(at_C: float) -> None:
    assert held(BORAX, at_C).at_C == at_C


def test_a_gap_between_two_tables_is_not_bridged() -> None:
    gap = salt(table((0, 10), (20, 20)), table((40, 40), (60, 60)))
    assert refused(gap, 30) == (
        "the solubility of a salt is known for 0 to 20 °C and 40 to 60 °C, not 30 °C"
    )
    assert held(gap, 20).g_per_100_g_water == 20
    assert held(gap, 40).g_per_100_g_water == 40


def test_one_point_holds_at_its_own_temperature_only() -> None:
    metol = CATALOGUE.substance("metol")
    assert held(metol, 15).g_per_100_g_water == pytest.approx(4.79)
    assert refused(metol, 20) == "the solubility of metol is known for 15 °C, not 20 °C"
    nearest = nearest_saturation(metol, 20)
    assert nearest is not None
    assert nearest.at_C == 15


def test_where_no_table_is_known_there_is_no_nearest_either() -> None:
    unknown = CATALOGUE.substance("dimezone-s")
    assert "no solubility" in refused(unknown, 20)
    assert nearest_saturation(unknown, 20) is None


@pytest.mark.parametrize(
    ("unit", "value"),
    [
        ("g per 100 g water", 4.79),
        ("g per 100 mL of water", 4.79),
        ("g per L of water", 47.9),
    ],
)
def test_units_of_water_mean_the_same(unit: str, value: float) -> None:
    told = held(salt(table((15, value), unit=unit)), 15)
    assert told.g_per_100_g_water == pytest.approx(4.79)


def test_grams_in_100_mL_of_solution_go_through_a_density() -> None:
    # 20 g in 100 mL leave 93 mL, that is 92.83 g, for water
    told = held(salt(table((20, 20), unit="g per 100 mL")), 20)
    assert told.g_per_100_g_water == pytest.approx(20 / 92.83 * 100, rel=1e-3)
    assert any("estimate of its density" in note for note in told.notes)


def test_crystal_water_is_taken_out_of_100_mL_of_solution() -> None:
    # 30 g of the dihydrate hold 24.49 g of anhydrous salt and 5.51 g of water: 8.57 mL
    # of salt leave 91.26 g of water, of which 85.75 g were poured in
    citrate = replace(
        salt(table((20, 30), unit="g per 100 mL")),
        formula="Na2X.2H2O",
        molar_mass=Decimal("196.3"),
    )
    told = held(citrate, 20)
    assert told.g_per_100_g_water == pytest.approx(30 / 85.75 * 100, rel=1e-3)


@pytest.mark.parametrize(
    ("unit", "basis"), [("g per dram", "this form"), ("g per L of water", "unclear")]
)
def test_a_table_that_cannot_be_reckoned_with_is_left_out(
    unit: str, basis: str
) -> None:
    assert "no solubility" in refused(salt(table((20, 5), unit=unit, basis=basis)), 20)


def test_the_more_trusted_table_wins_and_then_the_fuller() -> None:
    recalled = table((0, 1), (40, 1), confidence=Confidence.MEMORY)
    short = table((20, 2))
    full = table((0, 3), (20, 3), (40, 3))
    assert held(salt(recalled, short), 20).g_per_100_g_water == 2
    assert held(salt(short, full), 20).g_per_100_g_water == 3
    assert held(salt(recalled, short), 30).g_per_100_g_water == 1


def test_what_is_told_says_what_is_left_out() -> None:
    notes = held(salt(table((20, 5), note="seen twice")), 20).notes
    assert notes == ("ions that other solutes bring are not reckoned", "seen twice")


@pytest.mark.parametrize(
    ("grams", "fits"), [(49.73, True), (49.74, False)]
)  # 2.564 g anhydrous in 100 g of water at 20 °C are 4.9737 g of the decahydrate
def test_the_limit_is_what_the_water_holds(grams: float, fits: bool) -> None:
    told = dissolved(BORAX, Decimal(str(grams)), 1000, 20)
    assert told.fits is fits
    assert told.most_g == pytest.approx(49.737, abs=0.001)
    assert (told.warm_to_C is None) is fits


def test_what_does_not_dissolve_is_told_how_it_would() -> None:
    told = dissolved(BORAX, 60, 1000, 20)
    assert told.water_g == pytest.approx(60 / 4.9737 * 100, rel=1e-3)
    assert told.warm_to_C is not None
    assert dissolved(BORAX, 60, 1000, told.warm_to_C).fits
    assert not dissolved(BORAX, 60, 1000, told.warm_to_C - 0.02).fits
    assert dissolved(BORAX, 60, told.water_g * 1.0001, 20).fits


def test_where_no_warmth_helps_none_is_told() -> None:
    salted = CATALOGUE.substance("sodium-chloride")
    assert dissolved(salted, 500, 1000, 20).warm_to_C is None
    assert temperature_to_dissolve(salted, 500, 0, 20) is None


def test_without_water_nothing_dissolves() -> None:
    told = dissolved(BORAX, 1, 0, 20)
    assert not told.fits
    assert told.most_g == 0


def test_what_does_not_dissolve_at_all_needs_endless_water() -> None:
    assert isinf(dissolved(salt(table((20, 0))), 1, 100, 20).water_g)


def test_a_hydrate_may_melt_in_its_own_water() -> None:
    alum = CATALOGUE.substance("potassium-alum-dodecahydrate")
    assert as_form(150, alum) == inf
    assert percent_ww(inf) == 100


def test_what_mixes_in_any_proportion_has_no_limit() -> None:
    assert dissolve(salt(miscible=True), 5000, 1, 20) is None


def test_an_unknown_solubility_is_a_refusal_not_a_yes() -> None:
    assert isinstance(dissolve(CATALOGUE.substance("metol"), 1, 1000, 20), Refusal)


@given(st.floats(0.01, 99))
def test_mass_per_cent_round_trips(percent: float) -> None:
    assert percent_ww(per_100_g_water(percent)) == pytest.approx(percent)


@given(st.floats(0, 100), st.floats(0.1, 2000))
def test_more_water_never_dissolves_less(at_C: float, water_g: float) -> None:
    less = dissolved(BORAX, 40, water_g, at_C)
    more = dissolved(BORAX, 40, water_g * 1.5, at_C)
    assert more.most_g > less.most_g
    assert more.fits or not less.fits
