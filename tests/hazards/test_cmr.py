"""Annex I, 3.5 to 3.7: Tables 3.5.2, 3.6.2, 3.7.2; Annex VI, Notes 11 and 12."""

from decimal import Decimal

import pytest

from tests.hazards.making import chemical, limit, said_by, verdict

BORAX = chemical("borax", "Repr. 1B FD", notes=("11",), tags=("borate", "base"))
BORIC_ACID = chemical("boric acid", "Repr. 1B FD", notes=("11",), tags=("borate",))
METABORATE = chemical("metaborate", "Repr. 2", "Eye Irrit. 2", tags=("borate",))


def reached(*parts: tuple[object, str], regime: str = "eu-clp") -> tuple[str, ...]:
    return verdict(*parts, regime=regime, ph_bounds=(5, 10)).classes  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("one", "at"),
    [
        ("Muta. 1A", "0.1"),
        ("Muta. 1B", "0.1"),
        ("Muta. 2", "1.0"),
        ("Carc. 1A", "0.1"),
        ("Carc. 1B", "0.1"),
        ("Carc. 2", "1.0"),
        ("Repr. 1A FD", "0.3"),
        ("Repr. 1B D", "0.3"),
        ("Repr. 2 f", "3.0"),
        ("Lact.", "0.3"),
    ],
)
def test_tables_3_5_2_3_6_2_and_3_7_2(one: str, at: str) -> None:
    data = chemical("agent", one)
    assert reached((data, at)) == (one,)
    assert reached((data, str(Decimal(at) * Decimal("0.999")))) == ()


@pytest.mark.parametrize("regime", ["un-ghs", "us-hcs"])
@pytest.mark.parametrize("one", ["Carc. 2", "Repr. 1B FD", "Repr. 2 d", "Lact."])
def test_un_and_american_rules_take_a_tenth_of_a_percent(regime: str, one: str) -> None:
    # 29 CFR 1910.1200 Appendix A, A.6 and A.7; GHS 3.6 and 3.7, the stricter (memory)
    data = chemical("agent", one)
    assert reached((data, "0.1"), regime=regime) == (one,)
    assert reached((data, "0.099"), regime=regime) == ()


def test_agents_are_not_added_up() -> None:
    parts = [(chemical(f"a{n}", "Carc. 1B"), "0.09") for n in range(5)]
    assert reached(*parts) == ()


def test_a_specific_limit_replaces_the_generic_one() -> None:
    data = chemical("agent", "Repr. 1B D", limits=(limit("Repr. 1B", "5"),))
    assert reached((data, "5")) == ("Repr. 1B D",)
    assert reached((data, "4.99")) == ()


def test_a_limit_for_a_class_the_entry_does_not_carry_is_enough() -> None:
    data = chemical("agent", "Repr. 2", limits=(limit("Repr. 1B D", "5"),))
    assert reached((data, "5")) == ("Repr. 1B Df",)
    assert reached((data, "4.99")) == ("Repr. 2",)


def test_note_11_adds_up_boron_compounds() -> None:
    # Delegated Regulation (EU) 2023/1434
    assert reached((BORAX, "0.2"), (BORIC_ACID, "0.1")) == ("Repr. 1B FD",)
    assert reached((BORAX, "0.2"), (BORIC_ACID, "0.0999")) == ()
    assert reached((BORAX, "0.3")) == ("Repr. 1B FD",)
    assert reached((BORAX, "0.2999")) == ()


def test_any_borate_counts_for_note_11_even_without_an_entry() -> None:
    assert reached((METABORATE, "0.3")) == ("Repr. 1B FD",)
    assert reached((METABORATE, "0.2"), (BORAX, "0.1")) == ("Repr. 1B FD",)


def test_note_11_is_not_known_outside_europe() -> None:
    assert reached((BORAX, "0.09"), (BORIC_ACID, "0.09"), regime="un-ghs") == ()
    found = verdict((BORAX, "0.3"), regime="gb-clp", ph_bounds=(5, 10))
    assert found.classes == ("Repr. 1B FD",)
    assert any("GB mandatory list" in notice for notice in found.notices)


def test_note_12_adds_up_ethylhexanoates() -> None:
    acid = chemical("acid", "Repr. 1B D", notes=("12",))
    salt = chemical("salt", "Repr. 1B D", notes=("12",))
    assert reached((acid, "0.15"), (salt, "0.15")) == ("Repr. 1B D",)
    assert reached((acid, "0.15"), (salt, "0.1499")) == ()


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        # Annex VI, 1.1.2.1.2 on the letters; F and D known, f and d suspected
        ("Repr. 1B F", "Repr. 2 d", "Repr. 1B Fd"),
        ("Repr. 1B F", "Repr. 1B D", "Repr. 1B FD"),
        ("Repr. 1B D", "Repr. 2 f", "Repr. 1B Df"),
        ("Repr. 1B D", "Repr. 2", "Repr. 1B Df"),
        ("Repr. 1B FD", "Repr. 2 fd", "Repr. 1B FD"),
        ("Repr. 2 f", "Repr. 2 d", "Repr. 2 fd"),
        ("Repr. 2", "Repr. 2 d", "Repr. 2"),
        ("Repr. 1B", "Repr. 1B D", "Repr. 1B"),
        ("Repr. 1B", "Repr. 1B FD", "Repr. 1B FD"),
        ("Repr. 1A D", "Repr. 1B F", "Repr. 1A FD"),
    ],
)
def test_letters_of_several_ingredients_are_joined(
    first: str, second: str, expected: str
) -> None:
    parts = ((chemical("one", first), "5"), (chemical("two", second), "5"))
    assert reached(*parts) == (expected,)


def test_by_inhalation_only_holds_if_it_holds_for_all() -> None:
    dust, other = chemical("dust", "Carc. 1B i"), chemical("other", "Carc. 1B")
    assert verdict((dust, "1")).label_h == ("H350i",)
    assert verdict((dust, "1"), (other, "1")).label_h == ("H350",)


def test_the_most_severe_category_is_kept() -> None:
    strong, weak = chemical("strong", "Muta. 1B"), chemical("weak", "Muta. 2")
    assert reached((strong, "0.1"), (weak, "5")) == ("Muta. 1B",)


def test_reasons_show_the_sum_of_note_11() -> None:
    found = verdict((BORAX, "0.2"), (BORIC_ACID, "0.1"), ph_bounds=(5, 10))
    assert said_by("Note 11", found) == [
        "borax 0.2 % + boric acid 0.1 % = 0.3 % ≥ 0.3 %"
    ]
    assert found.names == ("borax", "boric acid")
