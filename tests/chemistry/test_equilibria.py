"""The charge balance: monotone, blind to order, and honest about what it cannot do."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.chemistry import equilibria
from labelkit.chemistry.equilibria import (
    Acid,
    Medium,
    Polymer,
    Totals,
    davies_slope,
    solve,
)
from labelkit.files.acidity import read_acidity

TABLE = read_acidity()
WATER = Medium(TABLE.water)
SURE = [acid for acid in TABLE.acids.values() if not acid.rough]

amount = st.floats(1e-4, 0.5)
mixture = st.builds(
    Totals,
    acids=st.dictionaries(st.sampled_from(SURE), amount, max_size=4).map(
        lambda found: tuple(found.items())
    ),
    strong=st.lists(st.tuples(st.sampled_from([-2, -1, 1]), amount), max_size=3).map(
        tuple
    ),
)


def ph(totals: Totals, medium: Medium = WATER) -> float:
    balance = solve(totals, medium)
    assert balance is not None
    return balance.ph


@settings(max_examples=40, deadline=None)
@given(mixture, amount)
def test_more_hydroxide_never_lowers_the_ph(totals: Totals, more: float) -> None:
    ideal = Medium(TABLE.water, ideal=True)
    assert ph(totals.with_strong(1, more), ideal) > ph(totals, ideal)


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(SURE), st.floats(0.01, 0.3), st.floats(0, 3), st.floats(0.001, 0.1)
)
def test_more_lye_never_lowers_the_ph_of_a_buffer_with_activities(
    acid: Acid, total: float, lye: float, more: float
) -> None:
    base = Totals(((acid, total),), ((1, total * lye), (-1, total * acid.charge)))
    assert ph(base.with_strong(1, more)) > ph(base)


@settings(max_examples=30, deadline=None)
@given(mixture)
def test_the_order_of_the_parts_does_not_matter(totals: Totals) -> None:
    other = Totals(totals.acids[::-1], totals.strong[::-1])
    assert ph(other) == pytest.approx(ph(totals), abs=1e-7)


@settings(max_examples=30, deadline=None)
@given(mixture)
def test_the_charges_of_what_comes_out_add_up(totals: Totals) -> None:
    ideal = Medium(TABLE.water, ideal=True)
    balance = solve(totals, ideal)
    assert balance is not None
    net = totals.strong_charge + 10**-balance.ph - 10 ** (balance.ph - 13.995)
    size = 1e-7 + abs(totals.strong_charge)
    for acid, total in totals.acids:
        forms = balance.forms[acid.id]
        if acid.polymers:
            first = forms[0]
            for p in acid.polymers:
                condensed = 10 ** (p.log_k + p.protons * balance.ph) * first**p.units
                net -= p.protons * condensed
        else:
            assert sum(forms) == pytest.approx(total)
        net += sum(c * (acid.charge - step) for step, c in enumerate(forms))
        size += total
    assert abs(net) < 1e-6 * size


@pytest.mark.parametrize("charge", [-1, 1])
def test_diluting_a_strong_acid_or_base_moves_it_towards_neutral(charge: int) -> None:
    steps = [ph(Totals((), ((charge, 0.5 / 2**n),))) for n in range(12)]
    away = [abs(7 - step) for step in steps]
    assert away == sorted(away, reverse=True)


def test_boron_without_polymers_fails_where_the_lye_falls_short() -> None:
    # E-rec-12, a published buffer table of borax and lye: pH 9.40
    boric = TABLE.acids["boric"]
    bare = Acid("boric", 0, boric.pk)
    with_them = ph(Totals(((boric, 0.1692),), ((1, 0.1),)))
    without = ph(Totals(((bare, 0.1692),), ((1, 0.1),)))
    assert with_them == pytest.approx(9.4, abs=0.01)
    assert without == pytest.approx(9.4 - 0.12, abs=0.03)


def test_the_ionic_strength_is_held_at_a_half_in_the_activities() -> None:
    # E-c-07: 11.90 with the Davies equation as it stands, 11.58 to 11.63 by the models
    soda = Totals(((TABLE.acids["carbonic"], 0.5),), ((1, 1.0),))
    assert ph(soda) == pytest.approx(11.74, abs=0.01)


def test_activities_hardly_change_above_a_half() -> None:
    lye = [ph(Totals((), ((1, c), (1, 2.0), (-1, 2.0)))) for c in (0.1, 0.2)]
    assert lye[1] - lye[0] == pytest.approx(0.30103, abs=1e-6)


@pytest.mark.parametrize(
    ("at_C", "ratio"),
    # Robinson and Stokes, Electrolyte Solutions, recalled: A 0.4918, 0.5115, 0.5373
    [(0, 0.4918 / 0.5115), (25, 1.0), (50, 0.5373 / 0.5115)],
)
def test_the_davies_slope_follows_the_dielectric_constant(
    at_C: float, ratio: float
) -> None:
    assert davies_slope(at_C) / 0.509 == pytest.approx(ratio, abs=0.004)


def test_what_no_ph_can_balance_has_no_answer() -> None:
    assert solve(Totals((), ((1, 1000.0),)), WATER) is None
    assert solve(Totals((), ((-1, 1000.0),)), WATER) is None


def test_what_does_not_settle_has_no_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(equilibria, "MOST_ROUNDS", 3)
    assert solve(Totals((), ((1, 0.1),)), WATER) is None


def test_water_alone_is_neutral() -> None:
    assert ph(Totals()) == pytest.approx(13.995 / 2, abs=1e-4)


@pytest.mark.parametrize(
    ("at_C", "expected"),
    # pKw: CRC Handbook, recalled
    [(0, 14.95), (10, 14.53), (20, 14.17), (25, 13.995), (40, 13.54), (50, 13.26)],
)
def test_water_gives_off_more_as_it_warms(at_C: float, expected: float) -> None:
    (pk,) = TABLE.water.pk_at(at_C)
    assert pk == pytest.approx(expected, abs=0.02)


def test_unknown_enthalpies_leave_the_constants_alone() -> None:
    acid = Acid("x", 0, (4.1, 11.8))
    assert not acid.knows_temperature
    assert acid.pk_at(50) == acid.pk


def test_a_polymer_takes_its_part_of_the_total() -> None:
    acid = Acid("x", 0, (9.0,), polymers=(Polymer(3, 1, -7.5),))
    balance = solve(Totals(((acid, 0.3),), ((1, 0.1),)), WATER)
    assert balance is not None
    assert 0.01 < sum(balance.forms["x"]) < 0.29
