"""A page is where a printed code looks for it, and never outside the folder."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.payload import batch_payload, recipe_payload
from labelkit.pages.addresses import (
    is_one_folder,
    printed_folders,
    recipe_folder,
    up,
)
from tests.pages.print_room import BORATE, BORATE_PAGE, TAIL, record


def with_codes(*codes: str, number: str = BORATE) -> tuple[str, ...]:
    data = {"words": {"bottles": [{"code": code} for code in codes]}}
    return printed_folders(record(BORATE_PAGE, None, number=number, data=data))


def test_a_batch_is_at_its_number() -> None:
    # shared reckoning, Batch numbers and codes: B/NUMBER, dashes included
    assert with_codes(f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{BORATE}") == (f"B/{BORATE}",)


def test_and_at_each_longer_address_that_was_printed() -> None:
    host = "HTTPS://BOTTLES.EXAMPLE.ORG"
    codes = [f"{host}/B/{BORATE}/{TAIL}", f"https://h/dark/B/{BORATE}/STOCK-12.5ML-1G"]
    assert with_codes(*codes, *codes) == (
        f"B/{BORATE}",
        f"B/{BORATE}/{TAIL}",
        f"B/{BORATE}/STOCK-12.5ML-1G",
    )


@given(
    st.text(max_size=30),
    st.sampled_from(["20 mL = 1 g", "12.5 mL = 1 g", ""]),
    st.sampled_from(["https://t.example", "https://t.example/dark", "HTTPS://T.X/D/"]),
)
def test_whatever_was_printed_has_a_page(title: str, ratio: str, base: str) -> None:
    code = batch_payload(
        BORATE,
        base_url=base,
        title=title,
        equivalence=ratio,
        mixed="2031-03-14",
        discard="",
        signal="",
    )
    _, _, printed = code.partition("/B/")
    assert f"B/{printed}" in with_codes(code)


@pytest.mark.parametrize(
    "tail",
    [
        "..",
        "../../X",
        ".",
        "...",
        "A/../../../X",
        "A/B",
        "A\\B",
        "A\0B",
        "A B",
        "X" * 300,
    ],
)
def test_a_code_from_elsewhere_leads_nowhere_else(tail: str) -> None:
    assert with_codes(f"HTTPS://H/B/{BORATE}/{tail}") == (f"B/{BORATE}",)


def test_a_code_of_another_batch_is_not_followed() -> None:
    assert with_codes("HTTPS://H/B/C4RT-90NB-B/X") == (f"B/{BORATE}",)


@pytest.mark.parametrize("number", ["../../etc", "", "7M3K-2QWX-X", "7m3k-2qwx-y"])
def test_what_is_no_number_has_no_page(number: str) -> None:
    assert with_codes("HTTPS://H/B/X", number=number) == ()


@pytest.mark.parametrize("data", [{}, {"words": None}, {"words": {"bottles": [1]}}])
def test_a_record_without_words_has_its_short_address(data: dict[str, object]) -> None:
    assert printed_folders(record(BORATE_PAGE, None, data=data)) == (f"B/{BORATE}",)


def test_a_card_leads_to_its_recipe() -> None:
    code = recipe_payload("pyro-a", base_url="https://h.example", title="", revision="")
    assert code.endswith(recipe_folder("pyro-a"))


@pytest.mark.parametrize(
    "name", ["", ".", "..", "a/b", "a\\b", "c:", "a\nb", " a", "x" * 201]
)
def test_a_name_that_is_no_folder_is_refused(name: str) -> None:
    assert not is_one_folder(name)


@pytest.mark.parametrize("name", ["pyro-a", "Blueprint A", "Eisenblau-ü", "x" * 200])
def test_a_name_that_is_a_folder_is_taken(name: str) -> None:
    assert is_one_folder(name)


def test_the_way_back_has_a_step_for_each_folder() -> None:
    assert [up(""), up("B/X"), up("B/X/TAIL")] == ["", "../../", "../../../"]
