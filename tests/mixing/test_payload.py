"""What the code on a label or card carries."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.numbers import read_number
from labelkit.mixing.payload import (
    QR_ALPHANUMERIC,
    address_path,
    batch_payload,
    recipe_payload,
)

NUMBER = "7K3M-Q9TX-8"


def payload(**changed: str | int) -> str:
    told: dict[str, str | int] = {
        "base_url": "",
        "title": "Borate alkali stock",
        "equivalence": "20 mL = 1 g",
        "mixed": "2031-03-14",
        "discard": "2032-03-14",
        "signal": "Danger",
        **changed,
    }
    return batch_payload(NUMBER, **told)  # type: ignore[arg-type]


def test_with_room_for_it_everything_is_told() -> None:
    assert payload(budget=154) == (
        "7K3M-Q9TX-8 BORATE ALKALI STOCK 20ML:1G MIXED 2031-03-14 "
        "DISCARD 2032-03-14 DANGER"
    )


@pytest.mark.parametrize(
    ("budget", "told"),
    [
        (82, "20ML:1G MIXED 2031-03-14 DISCARD 2032-03-14 DANGER"),
        (81, "20ML:1G MIXED 2031-03-14 DISCARD 2032-03-14"),
        (74, "20ML:1G MIXED 2031-03-14"),
        (55, "20ML:1G"),
        (38, ""),
    ],
)
def test_what_is_over_budget_goes_in_turn(budget: int, told: str) -> None:
    """Signal word, discard date, mix date, equivalence (reckoning, Batch numbers)."""
    text = payload(budget=budget)
    assert text == f"7K3M-Q9TX-8 BORATE ALKALI STOCK {told}".strip()
    assert len(text) <= budget


@pytest.mark.parametrize(
    ("budget", "told"),
    [(30, "7K3M-Q9TX-8 BORATE ALKALI"), (20, "7K3M-Q9TX-8 BORATE"), (12, NUMBER)],
)
def test_a_long_name_is_cut_at_a_word(budget: int, told: str) -> None:
    assert payload(budget=budget) == told


def test_a_dry_date_and_a_missing_equivalence_are_left_out() -> None:
    text = payload(equivalence="", discard="", signal="")
    assert text == "7K3M-Q9TX-8 BORATE ALKALI STOCK MIXED 2031-03-14"


def test_accents_are_stripped_and_signs_left_out() -> None:
    text = payload(title="Révélateur “doux”", equivalence="", discard="", signal="")
    assert text == "7K3M-Q9TX-8 REVELATEUR DOUX MIXED 2031-03-14"


def test_a_title_with_a_slash_names_no_bottle() -> None:
    text = payload(title="A/2 and B", equivalence="", discard="", signal="")
    assert text == "7K3M-Q9TX-8 A-2 AND B MIXED 2031-03-14"


def test_an_address_is_in_upper_case_with_the_number_as_printed() -> None:
    text = payload(base_url="https://bottles.example.org/", title="A very long title")
    assert text.startswith("HTTPS://BOTTLES.EXAMPLE.ORG/B/7K3M-Q9TX-8")


def test_words_follow_an_address_only_where_the_code_does_not_grow() -> None:
    """Version 3 holds 61 characters at level M (ISO/IEC 18004)."""
    short = payload(
        base_url="https://b.example", title="Soda", equivalence="9 mL = 1 g"
    )
    assert short == "HTTPS://B.EXAMPLE/B/7K3M-Q9TX-8"
    roomy = payload(
        base_url="https://bottles.example.org", title="Soda", equivalence=""
    )
    assert roomy == ("HTTPS://BOTTLES.EXAMPLE.ORG/B/7K3M-Q9TX-8/SODA-2031-03-14")
    assert len(roomy) == 57
    assert payload(base_url="https://bottles.example.org") == (
        "HTTPS://BOTTLES.EXAMPLE.ORG/B/7K3M-Q9TX-8"
    )


def test_a_lower_case_path_is_kept_as_written() -> None:
    text = payload(base_url="https://example.org/room")
    assert text == "https://example.org/room/B/7K3M-Q9TX-8"


def test_an_equivalence_in_an_address_has_no_colon_of_its_own() -> None:
    assert address_path("Soda", "20ML-1G", "2031-03-14") == "SODA-20ML-1G-2031-03-14"
    assert address_path("A/B stock, 10 %") == "A-B-STOCK-10"


def test_a_card_opens_its_recipe() -> None:
    address = recipe_payload(
        "pyro-a", base_url="https://b.example", title="Pyrogallol", revision="1"
    )
    assert address == "HTTPS://B.EXAMPLE/R/PYRO-A"
    words = recipe_payload("pyro-a", base_url="", title="Pyrogallol", revision="1")
    assert words == "PYROGALLOL REVISION 1"
    without = recipe_payload("pyro-a", base_url="", title="Pyrogallol", revision="")
    assert without == "PYROGALLOL"


@given(
    title=st.text(max_size=80),
    signal=st.sampled_from(["", "Danger", "Warning"]),
    budget=st.integers(11, 154),
)
def test_a_text_is_short_enough_small_enough_and_names_the_batch(
    title: str, signal: str, budget: int
) -> None:
    text = payload(title=title, signal=signal, budget=budget)
    assert len(text) <= budget
    assert set(text) <= QR_ALPHANUMERIC
    assert read_number(text) == NUMBER
