"""Dilutions: group C of the worked examples, and what a cylinder can tell."""

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.chemistry.amounts import Amount, parse_amount
from labelkit.chemistry.formulas import molar_mass
from labelkit.errors import BadInput
from labelkit.files.chemicals import read_catalogue
from labelkit.mixing.dilution import (
    Basis,
    Concentration,
    Diluted,
    Liquid,
    dilute_ratio,
    dilute_strength,
    fine_enough_mL,
    least_stock_mL,
    liquid_of,
    measurable_batches,
    parse_concentration,
    readable,
)
from labelkit.mixing.recipe import Capacity

CATALOGUE = read_catalogue()
REFERENCES = Path(__file__).parent.parent / "references" / "calculation-checks.toml"
CASES: dict[str, Mapping[str, Any]] = {
    case["id"]: case
    for case in tomllib.loads(REFERENCES.read_text("utf-8"), parse_float=Decimal)[
        "case"
    ]
}


def given_in(case: str) -> dict[str, Any]:
    return {each["name"]: each["value"] for each in CASES[case]["inputs"]}


def wanted(case: str, name: str) -> Any:
    (each,) = [e for e in CASES[case]["expected"] if e["name"] == name]
    return pytest.approx(Decimal(each["value"]), abs=Decimal(each["tol"]))


def liquid(words: str, **more: Decimal) -> Liquid:
    return Liquid(parse_concentration(words), **more)


def stock_mL(found: Diluted) -> Decimal:
    return found.pours[0].volume_mL


@pytest.mark.parametrize("case", ["C-12", "C-15"])
def test_stock_for_a_dilution_of_the_textbook(case: str) -> None:
    known = given_in(case)
    found = dilute_strength(
        liquid(f"{known['stock concentration']} mol/L"),
        liquid(f"{known['final concentration']} mol/L"),
        parse_amount(f"{known['final volume']} L"),
    )
    assert stock_mL(found) / 1000 == wanted(case, "stock volume")


def test_what_a_dilution_of_the_textbook_comes_to() -> None:
    # C-08: 0.850 L of 5.00 mol/L to 1.80 L: the strength that takes just that much
    known = given_in("C-08")
    strength = Decimal("2.36")
    assert strength == wanted("C-08", "final concentration")
    found = dilute_strength(
        liquid(f"{known['stock concentration']} mol/L"),
        liquid(f"{strength} mol/L"),
        parse_amount(f"{known['final volume']} L"),
    )
    assert stock_mL(found) == pytest.approx(850, rel=Decimal("1e-3"))


def test_how_far_a_stock_of_the_textbook_goes() -> None:
    # C-10: 11 mL of 0.45 mol/L to 0.12 mol/L
    known = given_in("C-10")
    (volume,) = [e["value"] for e in CASES["C-10"]["expected"]]
    found = dilute_strength(
        liquid(f"{known['stock concentration']} mol/L"),
        liquid(f"{known['final concentration']} mol/L"),
        parse_amount(f"{volume} L"),
    )
    assert stock_mL(found) == pytest.approx(11, rel=Decimal("0.01"))


@pytest.mark.parametrize("case", ["C-ref-1", "C-ref-3", "C-ref-5", "C-ref-7"])
def test_acid_and_lye_for_a_litre_of_one_mole(case: str) -> None:
    # ACS-style table: % w/w, density, mL for 1 L of 1 mol/L
    known = given_in(case)
    solute = known.get("solute") or {"C-ref-7": "KOH"}[case]
    molar = molar_mass(solute)
    found = dilute_strength(
        liquid(f"{known['mass percent']} % w/w", density_g_per_mL=known["density"]),
        liquid("1 mol/L", molar_mass=molar),
        parse_amount("1 L"),
    )
    assert stock_mL(found) == wanted(case, "volume for 1 L of 1 mol/L")


@pytest.mark.parametrize("case", ["C-ref-9", "C-ref-10", "C-ref-12"])
def test_percent_by_mass_as_grams_in_a_hundred_mL(case: str) -> None:
    known = given_in(case)
    strong = liquid(f"{known['mass percent']} % w/w", density_g_per_mL=known["density"])
    found = dilute_strength(strong, liquid("1 % w/v"), parse_amount("100 mL"))
    # 100 mL of 1 % hold 1 g: so much of the strong one holds it too
    assert 100 / stock_mL(found) == wanted(case, "grams of solute per 100 mL")


def test_a_clearing_bath_from_strong_acid() -> None:
    # Z-D06: 1 % w/v hydrochloric acid, 2 L from 37 % of 1.19 g/mL
    known = given_in("Z-D06")
    found = dilute_strength(
        liquid("37 % w/w", density_g_per_mL=Decimal(known["density"])),
        liquid("1 % w/v"),
        parse_amount("2 L"),
    )
    assert stock_mL(found) == wanted("Z-D06", "volume of acid")
    sold = liquid_of(CATALOGUE.substance("hydrochloric-acid-37pct"))
    again = dilute_strength(sold, liquid("1 % w/v"), parse_amount("2 L"))
    # the catalogue's density is that of a model, 1.185 g/mL
    assert stock_mL(again) == pytest.approx(stock_mL(found), rel=Decimal("0.01"))


def test_spirit_by_volume() -> None:
    # C-20: 70 % v/v isopropyl alcohol of 0.785 g/mL: 355 mL hold 195 g
    known = given_in("C-20")
    pure = Decimal(known["density of pure solute"])
    found = dilute_strength(
        liquid("70 % v/v", solute_g_per_mL=pure),
        liquid("10 % w/v"),
        parse_amount("1950 mL"),
    )
    assert stock_mL(found) == pytest.approx(355, abs=Decimal("1.2"))
    by_volume = dilute_strength(
        liquid("70 % v/v"), liquid("20 % v/v"), parse_amount("700 mL")
    )
    assert stock_mL(by_volume) == 200
    assert by_volume.notes == (
        "Spirit and water shrink together: fill up to the mark.",
    )


def test_by_weight_no_density_is_needed() -> None:
    found = dilute_strength(
        liquid("40 % w/w"), liquid("10 % w/w"), parse_amount("100 g")
    )
    assert [pour.mass_g for pour in found.pours] == [25, 75]


@pytest.mark.parametrize(
    ("strong", "weak", "make", "said"),
    [
        ("37 % w/w", "1 % w/v", "2 L", "--density-from: 37 % w/w cannot be turned"),
        ("20 % w/v", "4 % w/w", "1 L", "--density-to: 4 % w/w cannot be turned"),
        ("5 mol/L", "1 % w/v", "1 L", "--chemical: 5 mol/L cannot be turned"),
        ("70 % v/v", "1 % w/v", "1 L", "--chemical: 70 % v/v cannot be turned"),
        ("4 % w/v", "4 % w/v", "1 L", "--to: 4 % w/v is not stronger than 4 % w/v"),
        ("4 % w/w", "5 % w/w", "1 kg", "--to: 4 % w/w is not stronger than 5 % w/w"),
        ("20 % w/v", "4 % w/v", "1 kg", "--make: 1000 g of 4 % w/v is asked for by"),
    ],
)
def test_bases_are_kept_apart(strong: str, weak: str, make: str, said: str) -> None:
    with pytest.raises(BadInput) as caught:
        dilute_strength(liquid(strong), liquid(weak), parse_amount(make))
    assert str(caught.value).startswith(said)


@pytest.mark.parametrize(
    ("words", "basis"),
    [
        ("20 % w/v", Basis.MASS_IN_VOLUME),
        ("20%(m/m)", Basis.MASS_IN_MASS),
        ("70 % v/v", Basis.VOLUME_IN_VOLUME),
        ("50 g/L", Basis.GRAMS_PER_LITRE),
        ("0,5 mol/L", Basis.MOLES_PER_LITRE),
    ],
)
def test_a_strength_says_of_what(words: str, basis: Basis) -> None:
    assert parse_concentration(words).basis is basis


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            "5",
            "'5' has no unit. Write it as 20 % w/v, 37 % w/w, 70 % v/v, 50 g/L or "
            "0.5 mol/L.",
        ),
        (
            "5 %",
            "'5 %' does not say of what: w/v is 5 g in 100 mL (50 g/L), w/w is 5 g in "
            "100 g of solution, v/v is 5 mL in 100 mL. Write 5 % w/v, 5 % w/w or "
            "5 % v/v.",
        ),
        ("0 % w/v", "'0 % w/v' is not more than 0. Write a number above 0."),
        ("1e308 g/L", None),
        (
            "101 mol/L",
            "'101 mol/L' is more than there can be. Write at most 100 mol/L.",
        ),
        (
            "strong",
            "'strong' does not start with a number. Write a number and its unit.",
        ),
    ],
)
def test_a_strength_that_means_two_things_is_refused(
    words: str, said: str | None
) -> None:
    if said is None:
        # grams per litre have no bound of their own: the dilution is simply tiny
        assert parse_concentration(words).value.is_finite()
        return
    with pytest.raises(BadInput) as caught:
        parse_concentration(words)
    assert str(caught.value) == said


def parts(*numbers: str) -> tuple[Decimal, ...]:
    return tuple(Decimal(n) for n in numbers)


def test_a_ratio_is_shared_out() -> None:
    found = dilute_ratio(parts("1", "9"), Decimal(1000))
    assert {p.part: p.volume_mL for p in found.pours} == {"stock": 100, "water": 900}
    three = dilute_ratio(parts("1", "1", "100"), Decimal(510))
    assert {p.part: p.volume_mL for p in three.pours} == {"A": 5, "B": 5, "water": 500}


@given(
    st.lists(st.decimals(Decimal("0.1"), 1000, places=1), min_size=2, max_size=6),
    st.decimals(1, 100_000, places=1),
)
def test_the_parts_of_a_ratio_add_up(ratio: list[Decimal], make_mL: Decimal) -> None:
    found = dilute_ratio(ratio, make_mL)
    assert sum(p.volume_mL for p in found.pours) == pytest.approx(make_mL)
    assert len(found.pours) == len(ratio)


def test_a_cylinder_tells_what_is_far_above_its_lines() -> None:
    # half a line's worth either way: g / sqrt(3) / V <= 5 %, so V >= 11.55 lines
    assert readable(Decimal(60), Decimal(5))
    assert not readable(Decimal(57), Decimal(5))
    assert readable(Decimal("5.88"), Decimal("0.5"))
    assert fine_enough_mL([Decimal("5.88")]) == Decimal("0.5")
    assert fine_enough_mL([Decimal(60), Decimal(600)]) == 5
    assert fine_enough_mL([Decimal("0.5")]) is None


def test_batches_of_whole_lines_are_offered_and_none_far_too_large() -> None:
    offered = measurable_batches(parts("1", "9"), Decimal(5), Decimal(300))
    assert [b.make_mL for b in offered] == [600, 750]
    assert all(p.volume_mL % 5 == 0 for b in offered for p in b.pours)
    assert measurable_batches(parts("1", "1", "100"), Decimal(5), Decimal(600)) == ()


def test_the_least_stock_of_one_roll_follows_from_the_capacity() -> None:
    capacity = Capacity(Decimal(20), "roll", parse_amount("1 L"))
    assert least_stock_mL(capacity) == 50
    assert least_stock_mL(None) is None


percents = st.decimals(Decimal("0.1"), 99, places=1)


@given(percents, percents, st.decimals(1, 10_000, places=0))
def test_what_goes_in_is_what_comes_out(
    strong: Decimal, weak: Decimal, make_mL: Decimal
) -> None:
    if weak >= strong:
        return
    found = dilute_strength(
        Liquid(Concentration(strong, Basis.MASS_IN_VOLUME)),
        Liquid(Concentration(weak, Basis.MASS_IN_VOLUME)),
        Amount(make_mL, parse_amount("1 mL").dimension),
    )
    assert stock_mL(found) * strong == pytest.approx(make_mL * weak)


@pytest.mark.parametrize(
    "chemical", ["borax-decahydrate", "sodium-sulfide-60pct-flakes"]
)
def test_a_solid_is_no_solution_to_dilute(chemical: str) -> None:
    with pytest.raises(BadInput, match="is no solution with a known density"):
        liquid_of(CATALOGUE.substance(chemical))
