"""The rule of thumb for densities: its limits, its band, and measured solutions."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.crystal_water import crystal_water_share
from labelkit.chemistry.density import Dissolved, estimate_density
from labelkit.chemistry.substances import State, Substance
from labelkit.files.chemicals import read_catalogue

CATALOGUE = read_catalogue()
LITRE = Decimal(1000)


def part(id_: str, grams: Decimal | float | str) -> Dissolved:
    substance = CATALOGUE.substance(id_)
    liquid = substance.state is State.LIQUID
    return Dissolved(substance, Decimal(str(grams)), liquid)


def density(*parts: Dissolved) -> float:
    told = estimate_density(LITRE, parts)
    assert told.g_per_mL is not None, told.reason
    return float(told.g_per_mL)


def refused(*parts: Dissolved) -> str:
    told = estimate_density(LITRE, parts)
    assert told.g_per_mL is told.low is told.high is None
    return told.reason


# CRC Handbook, "Concentrative Properties of Aqueous Solutions", 20 °C, recalled [g/mL]
IN_THE_BAND = [
    ("sodium-chloride", 10, 1.0707),
    ("sodium-chloride", 20, 1.1478),
    ("potassium-bromide", 10, 1.0740),
    ("potassium-ferricyanide", 10, 1.0537),
    ("potassium-carbonate", 5, 1.0433),
    ("sodium-thiosulfate-anhydrous", 10, 1.0827),
]
# the same table: denser than the rule of thumb allows, by up to 3 %
DENSER = [
    ("sodium-carbonate-anhydrous", 10, 1.1029),
    ("sodium-thiosulfate-anhydrous", 20, 1.1740),
    ("sodium-hydroxide", 5, 1.0538),
]


def estimate_and_band(id_: str, percent: int, published: float) -> list[float]:
    told = estimate_density(LITRE, [part(id_, percent * 10 * published)])
    found = [told.low, told.g_per_mL, told.high]
    return [float(value) for value in found if value is not None]


@pytest.mark.parametrize(("id_", "percent", "published"), IN_THE_BAND)
def test_salt_solutions_lie_in_the_band(
    id_: str, percent: int, published: float
) -> None:
    low, _, high = estimate_and_band(id_, percent, published)
    assert low <= published <= high


@pytest.mark.parametrize(("id_", "percent", "published"), DENSER)
def test_some_strong_solutions_are_denser_than_the_rule_of_thumb(
    id_: str, percent: int, published: float
) -> None:
    _, estimate, high = estimate_and_band(id_, percent, published)
    assert high < published < estimate * 1.035


def test_every_gram_of_solute_takes_up_0_35_mL() -> None:
    # 100 g of salt in 1000 mL leave 965 mL for water
    expected = (100 + 965 * 0.9982) / 1000
    assert density(part("sodium-chloride", 100)) == pytest.approx(expected)


def test_water_alone_has_the_density_of_water() -> None:
    assert density() == pytest.approx(0.9982)
    assert density(part("water", 400)) == pytest.approx(0.9982)


def test_crystal_water_is_water() -> None:
    anhydrous = Decimal("201.219") / Decimal("381.372") * 50
    assert density(part("borax-decahydrate", 50)) == pytest.approx(
        density(part("borax-anhydrous", anhydrous)), abs=1e-5
    )


def test_a_liquid_takes_up_what_its_own_density_says() -> None:
    # 126.1 g of glycerol at 1.261 g/mL are 100 mL
    expected = (126.1 + 900 * 0.9982) / 1000
    assert density(part("glycerol", "126.1")) == pytest.approx(expected)


def test_the_band_is_2_per_cent_either_way() -> None:
    told = estimate_density(LITRE, [part("sodium-chloride", 100)])
    assert told.g_per_mL is not None
    assert told.low == told.g_per_mL * Decimal("0.98")
    assert told.high == told.g_per_mL * Decimal("1.02")


def test_there_is_no_estimate_above_400_g_in_a_litre() -> None:
    assert density(part("sodium-thiosulfate-anhydrous", 400)) > 1.2
    assert "400 g" in refused(part("sodium-thiosulfate-anhydrous", "400.01"))


def test_crystal_water_does_not_count_towards_the_400_g() -> None:
    assert density(part("sodium-thiosulfate-pentahydrate", 600)) > 1.2


@pytest.mark.parametrize(("grams", "known"), [(97, True), (99, False)])
def test_there_is_no_estimate_above_10_per_cent_of_alcohol(
    grams: int, known: bool
) -> None:
    # at 98 g the whole weighs 972.2 g, of which 10 % are 97.2 g
    told = estimate_density(LITRE, [part("ethanol", grams)])
    assert (told.g_per_mL is not None) is known
    assert known or "alcohol" in told.reason


def test_a_liquid_of_unknown_density_leaves_no_estimate() -> None:
    unknown = Substance("oil", ("an oil",), "oil", State.LIQUID)
    reason = refused(Dissolved(unknown, Decimal(5), liquid=True))
    assert reason == "the density of an oil is not known"


def test_more_than_fits_leaves_no_estimate() -> None:
    assert "no room" in refused(part("glycerol", 1300))


@given(st.floats(0, 199), st.floats(0, 199))
def test_more_salt_never_makes_it_lighter(some: float, more: float) -> None:
    less = density(part("sodium-chloride", f"{some:.3f}"))
    assert density(part("sodium-chloride", f"{some + more:.3f}")) >= less


@given(st.floats(0.01, 50))
def test_it_does_not_depend_on_the_size_of_the_batch(factor: float) -> None:
    scale = Decimal(f"{factor:.4f}")
    small = estimate_density(LITRE, [part("borax-decahydrate", 40)])
    large = estimate_density(
        LITRE * scale,
        [Dissolved(CATALOGUE.substance("borax-decahydrate"), 40 * scale)],
    )
    assert small.g_per_mL is not None
    assert large.g_per_mL is not None
    assert float(large.g_per_mL) == pytest.approx(float(small.g_per_mL), rel=1e-12)


@pytest.mark.parametrize(
    ("id_", "share"),
    [
        # waters x 18.015 over the molar mass of the form
        ("borax-decahydrate", 180.15 / 381.372),
        ("sodium-carbonate-monohydrate", 18.015 / 124.003),
        ("potassium-alum-dodecahydrate", 216.18 / 474.388),
        ("sodium-hydroxide", 0),
        ("gelatin", 0),
    ],
)
def test_the_share_of_crystal_water_follows_from_the_formula(
    id_: str, share: float
) -> None:
    found = crystal_water_share(CATALOGUE.substance(id_))
    assert float(found) == pytest.approx(share, abs=1e-5)


def test_crystal_water_is_water_and_the_rest_takes_up_room() -> None:
    # 10 x 18.015 / 381.37 (CIAAW 2021) of borax is water
    borax = part("borax-decahydrate", 100)
    assert float(borax.crystal_water_g) == pytest.approx(47.24, abs=0.01)
    assert float(borax.room_mL) == pytest.approx(0.35 * 52.76, abs=0.01)
    assert float(borax.volume_mL) == pytest.approx(18.47 + 47.24 / 0.9982, abs=0.02)


def test_a_liquid_takes_up_what_its_density_says() -> None:
    acid = part("acetic-acid-glacial", "104.9")
    density = acid.substance.density
    assert density is not None
    assert acid.room_mL == acid.volume_mL == acid.mass_g / density.value
    assert acid.crystal_water_g == 0
