"""Between which pH values a solution must lie: what is proven, and when nothing is."""

from math import inf, log10

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.chemistry.acid_roles import Solute
from labelkit.chemistry.acidity import Estimate, estimate_ph
from labelkit.chemistry.ph_bounds import PhBounds, ph_bounds
from labelkit.files.acidity import read_acidity

TABLE = read_acidity()
KNOWN = sorted(TABLE.roles)

# Regulation (EC) No 1272/2008, Annex I, 3.2.3.1.2: the limits they are asked about
ACID_LIMIT, ALKALINE_LIMIT = 2.0, 11.5


def mixed(**molality: float | None) -> list[Solute]:
    return [Solute(name.replace("_", "-"), c) for name, c in molality.items()]


def bounds(**molality: float | None) -> PhBounds:
    found = ph_bounds(mixed(**molality), TABLE)
    assert found is not None
    return found


# ½(14 + pKa + log c) and ½(pKa − log c), textbook formulas for a weak base and a weak
# acid, with 0.5 to spare
@pytest.mark.parametrize("c", [0.1, 0.3, 1.0])
@pytest.mark.parametrize(
    ("base", "pka"),
    [("sodium-acetate-anhydrous", 4.756), ("potassium-oxalate-monohydrate", 4.266)],
)
def test_a_weak_base_is_bounded_by_the_textbook_formula(
    base: str, pka: float, c: float
) -> None:
    found = ph_bounds([Solute(base, c)], TABLE)
    assert found is not None
    assert found.high == pytest.approx((14 + pka + log10(c)) / 2 + 0.5, abs=0.03)


@pytest.mark.parametrize("c", [0.1, 0.3, 1.0])
def test_sulfite_is_bounded_by_the_formula_and_its_doubt(c: float) -> None:
    high = bounds(sodium_sulfite_anhydrous=c).high
    formula = (14 + 7.172 + log10(c)) / 2 + 0.5
    assert high == pytest.approx(formula + 0.4 / 2, abs=0.03)


@pytest.mark.parametrize("c", [0.1, 0.3, 1.0])
def test_a_weak_acid_is_bounded_by_the_textbook_formula(c: float) -> None:
    low = bounds(acetic_acid_28pct=c).low
    assert low == pytest.approx((4.756 - log10(c)) / 2 - 0.5, abs=0.03)


@pytest.mark.parametrize("c", [0.01, 0.1, 1.0])
def test_a_strong_acid_or_base_is_bounded_by_its_own_amount(c: float) -> None:
    assert bounds(sodium_hydroxide=c).high == pytest.approx(
        13.995 + log10(c) + 0.5, abs=0.01
    )
    assert bounds(hydrochloric_acid_37pct=c).low == pytest.approx(
        -log10(c) - 0.5, abs=0.2
    )


@pytest.mark.parametrize("c", [0.05, 0.5, 1.0, 2.0])
def test_sulfite_and_borax_never_reach_the_alkaline_limit(c: float) -> None:
    assert bounds(sodium_sulfite_anhydrous=c).high < ALKALINE_LIMIT
    assert bounds(borax_decahydrate=c).high < ALKALINE_LIMIT


def test_carbonate_and_metaborate_may_reach_the_alkaline_limit() -> None:
    assert bounds(sodium_carbonate_anhydrous=0.05).high >= ALKALINE_LIMIT
    assert bounds(sodium_metaborate_tetrahydrate=0.1).high >= ALKALINE_LIMIT


def test_a_fixer_without_a_number_is_proven_to_be_neither() -> None:
    parts = mixed(
        sodium_thiosulfate_pentahydrate=1.2,
        sodium_sulfite_anhydrous=0.12,
        sodium_metabisulfite=0.05,
    )
    assert not isinstance(estimate_ph(parts, TABLE), Estimate)
    found = ph_bounds(parts, TABLE)
    assert found is not None
    assert found.low > ACID_LIMIT
    assert found.high < ALKALINE_LIMIT


def test_a_developer_without_a_number_is_proven_to_stay_below_the_limit() -> None:
    parts = mixed(
        metol=0.0058,
        hydroquinone=0.045,
        sodium_sulfite_anhydrous=0.8,
        borax_decahydrate=0.005,
    )
    assert not isinstance(estimate_ph(parts, TABLE), Estimate)
    found = ph_bounds(parts, TABLE)
    assert found is not None
    assert found.high < ALKALINE_LIMIT


@settings(max_examples=25, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(KNOWN), st.floats(1e-4, 0.3), min_size=1, max_size=4
    )
)
def test_every_estimate_lies_within_the_bounds(known: dict[str, float]) -> None:
    parts = [Solute(name, c) for name, c in known.items()]
    told, found = estimate_ph(parts, TABLE), ph_bounds(parts, TABLE)
    assert found is not None
    assert found.low < found.high
    if isinstance(told, Estimate):
        assert found.low <= told.value - 0.4
        assert told.value + 0.4 <= found.high


def test_an_unknown_ingredient_leaves_nothing_proven() -> None:
    parts = [*mixed(sodium_hydroxide=0.1), Solute("a-dye-of-our-own", 1e-9)]
    assert ph_bounds(parts, TABLE) is None


def test_an_unknown_amount_leaves_nothing_proven() -> None:
    assert ph_bounds(mixed(borax_decahydrate=None), TABLE) is None


def test_an_oxidiser_beside_a_reducer_leaves_nothing_proven() -> None:
    bleach = Solute("hydrogen-peroxide-3pct", 0.1, tags=frozenset({"peroxide"}))
    hypo = Solute("sodium-sulfite-anhydrous", 0.1, tags=frozenset({"reducer"}))
    assert ph_bounds([bleach, hypo], TABLE) is None
    assert ph_bounds([bleach], TABLE) is not None


def test_household_bleach_is_open_on_the_alkaline_side() -> None:
    assert bounds(sodium_hypochlorite_household=0.1).high == inf


def test_colloids_bring_the_range_of_their_own_solutions() -> None:
    assert bounds(gelatin=None) == PhBounds(3.5, 8.0)
    lye = bounds(sodium_hydroxide=0.1)
    with_gum = bounds(sodium_hydroxide=0.1, gum_arabic=None)
    assert with_gum.low == 3.5
    assert with_gum.high == lye.high


def test_iron_that_is_not_reckoned_may_set_any_acid_free() -> None:
    alone = bounds(ferric_ammonium_citrate_green=None)
    assert alone.low == 2.5
    beside = bounds(
        ferric_ammonium_citrate_green=None, potassium_oxalate_monohydrate=0.1
    )
    assert beside.low == -inf
    assert beside.high < ALKALINE_LIMIT


def test_a_metal_ion_may_set_any_acid_free() -> None:
    citrate = 0.1
    found = bounds(copper_sulfate_pentahydrate=0.1, citric_acid_anhydrous=citrate)
    assert found.low < -log10(3 * citrate) - 0.5 + 0.1


def test_a_polyol_may_make_borate_a_stronger_acid() -> None:
    # mannitol makes boric acid an acid of pK about 4, from memory; glycerol does less
    bare, bound = bounds(boric_acid=0.2), bounds(boric_acid=0.2, glycerol=1.0)
    assert bound.low == pytest.approx((3.0 - log10(0.2)) / 2 - 0.5, abs=0.06)
    assert bound.low < bare.low
    assert bound.high == pytest.approx(bare.high)


def test_water_is_bounded_around_neutral() -> None:
    assert bounds(water=55.5) == ph_bounds([], TABLE)
    assert bounds(water=55.5).low == pytest.approx(6.4975)
