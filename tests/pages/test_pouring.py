"""How much to pour: by the table, and for any amount that is written."""

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.mixing.words import Headline, PageText
from labelkit.pages.frozen_page import pouring_of
from labelkit.pages.pouring import Dose, Pouring, doses, entries
from tests.pages.print_room import BATH_PAGE, BORATE_PAGE, record

BORATE = Pouring(Decimal("20.003"), 0.014, Decimal(250), Decimal(500))
NB = "\u00a0"


def told(pouring: Pouring, name: str, text: str) -> str:
    entry = next(e for e in entries(pouring, {name: text}) if e.name == name)
    assert entry.written == " ".join(text.split())
    return entry.told


def fault(text: str) -> str:
    entry = entries(BORATE, {"g": text})[0]
    assert entry.told == entry.remark == ""
    return entry.fault


def test_doses_are_multiples_of_the_headline() -> None:
    # 20.003 mL carry 1 g: 2 g in 40.006, 5 g in 100.015, 10 g in 200.03
    assert doses(BORATE_PAGE, BORATE) == (
        Dose(f"1{NB}g", f"20{NB}mL"),
        Dose(f"2{NB}g", f"40{NB}mL"),
        Dose(f"5{NB}g", f"100{NB}mL"),
        Dose(f"10{NB}g", f"200{NB}mL"),
    )


@pytest.mark.parametrize(("made_mL", "count"), [("200.03", 4), ("200.02", 3)])
def test_no_dose_is_larger_than_the_batch(made_mL: str, count: int) -> None:
    assert len(doses(BORATE_PAGE, replace(BORATE, made_mL=Decimal(made_mL)))) == count


def test_doses_follow_a_headline_for_a_tenth_of_a_gram() -> None:
    small = replace(
        BORATE_PAGE,
        headline=Headline("equivalence", "2 mL = 0.1 g", "sodium metaborate"),
    )
    grams = [dose.grams for dose in doses(small, BORATE)]
    assert grams == [f"{n}{NB}g" for n in ("0.1", "0.2", "0.5", "1")]


@pytest.mark.parametrize("page", [BATH_PAGE, replace(BORATE_PAGE, mL_per_g=None)])
def test_without_an_equivalence_there_is_no_dose(page: PageText) -> None:
    assert pouring_of(page, record(page, None)) is None
    assert doses(page, None) == ()


def test_a_page_reckons_with_its_own_bottles_and_batch() -> None:
    assert pouring_of(BORATE_PAGE, record(BORATE_PAGE, None)) == BORATE


@pytest.mark.parametrize(
    ("grams", "mL"),
    [
        # times 20.003, two figures at 1.4 %; three where two would move it beyond 2.8 %
        ("3", "60"), ("1", "20"), ("0.5", "10"), ("0,5", "10"), ("2.5 g", "50"),
        (" 12 ", "240"), ("0.52", "10.4"), ("0.525", "10.5"), (".5", "10"),
    ],
)  # fmt: skip
def test_grams_wanted_are_answered_in_mL(grams: str, mL: str) -> None:
    assert told(BORATE, "g", grams) == mL


@pytest.mark.parametrize(("mL", "grams"), [("60", "3"), ("100 ml", "5"), ("7", "0.35")])
def test_mL_poured_are_answered_in_grams(mL: str, grams: str) -> None:
    assert told(BORATE, "mL", mL) == grams


def test_a_strength_known_well_is_told_in_three_figures() -> None:
    # 3 times 20.1 is 60.3
    known = Pouring(Decimal("20.1"), 0.009)
    assert told(known, "g", "3") == "60.3"


@pytest.mark.parametrize(
    ("grams", "remark"),
    [
        # 12.498 g take 249.997 mL, 12.499 g take 250.017; 24.99 g 499.875, 25 g 500.075
        ("12.498", ""),
        ("12.499", f"More than one bottle holds (250{NB}mL carry 12.5{NB}g)."),
        ("24.99", f"More than one bottle holds (250{NB}mL carry 12.5{NB}g)."),
        ("25", f"More than was mixed (500{NB}mL carry 25{NB}g)."),
    ],
)
def test_more_than_there_is_is_said(grams: str, remark: str) -> None:
    entry = entries(BORATE, {"g": grams})[0]
    assert entry.remark == remark
    assert entry.told


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("abc", "'abc' does not start with a number. Write grams as a number"),
        ("0", "'0' is not more than 0. Write a number above 0."),
        ("-3", "'-3' is not more than 0."),
        ("1,000", "'1,000' can be read in two ways. Write 1000 or 1.000."),
        ("3 mg", "'3 mg' is not a number of g. Write grams as a number, such as 2.5."),
        ("3 4", "'3 4' has more than one number."),
        ("½", "has a fraction"),
        ("1e30", "is more than is ever mixed"),
        ("1e9999", "is not a number of g"),
        ("9" * 5000, "is more than is ever mixed"),
        ("0.0000001", "is less than can be measured"),
        ("inf", "does not start with a number"),
        ("nan", "does not start with a number"),
        ("<b>3</b>", "does not start with a number"),
    ],
)
def test_what_cannot_be_read_says_what_to_write(text: str, says: str) -> None:
    if len(text) > 40:
        entry = entries(BORATE, {"g": text})[0]
        assert says in entry.fault
        assert len(entry.written) == 40
    else:
        assert says in fault(text)


@given(st.text(max_size=50), st.text(max_size=50))
def test_whatever_is_written_there_is_an_answer_or_a_fault(g: str, mL: str) -> None:
    for entry in entries(BORATE, {"g": g, "mL": mL}):
        assert not (entry.told and entry.fault)
        assert bool(entry.told or entry.fault) == bool(entry.written)


@given(
    st.decimals(min_value="0.1", max_value="1000", places=2, allow_nan=False),
    st.decimals(min_value="0.5", max_value="500", places=4, allow_nan=False),
)
def test_an_answer_is_no_further_off_than_it_is_rounded(
    grams: Decimal, mL_per_g: Decimal
) -> None:
    # to two figures half up a value moves by at most a half in ten: 5 %
    answer = Decimal(told(Pouring(mL_per_g), "g", str(grams)))
    exact = grams * mL_per_g
    assert abs(answer - exact) / exact <= Decimal("0.05")
    digits = answer.normalize().as_tuple().digits
    assert len(digits) <= 2
    step = Decimal(1).scaleb(exact.adjusted() - 1)
    assert answer == exact.quantize(step, rounding=ROUND_HALF_UP)
