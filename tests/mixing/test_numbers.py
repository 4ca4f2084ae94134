"""Batch numbers: ISO/IEC 7812-1 (Luhn) in base 32, and what people make of them."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors import BadInput
from labelkit.mixing.numbers import (
    ALPHABET,
    check_character,
    number_from,
    read_bottle,
    read_number,
)

DIGITS = "0123456789"
GOOD = "7K3M-Q9TX-8"
eight = st.lists(st.integers(0, 255), min_size=8, max_size=8)


def fits(compact: str) -> bool:
    try:
        return read_number(compact).replace("-", "") == compact
    except BadInput:
        return False


def test_the_alphabet_leaves_out_what_is_misread() -> None:
    everything = set(DIGITS + "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    assert everything - set(ALPHABET) == set("ILOU")
    assert len(ALPHABET) == 32


@pytest.mark.parametrize(
    ("characters", "alphabet", "expected"),
    [
        # python-stdnum 2.2, documentation of stdnum.luhn
        pytest.param("7894", DIGITS, "9", id="base 10"),
        # the same library's luhn.calc_check_digit, run once with our alphabet
        pytest.param("00000000", ALPHABET, "0", id="nothing"),
        pytest.param("00000001", ALPHABET, "Y", id="last is doubled"),
        pytest.param("00000010", ALPHABET, "Z", id="last but one is not"),
        pytest.param("ZZZZZZZZ", ALPHABET, "8", id="highest"),
        pytest.param("0Z0Z0Z0Z", ALPHABET, "4", id="lowest and highest"),
        pytest.param("12345678", ALPHABET, "8", id="digits"),
        pytest.param("ABCDEFGH", ALPHABET, "V", id="letters"),
        pytest.param("HJKMNPQR", ALPHABET, "4", id="across the gaps"),
        pytest.param("T1NTY9E0", ALPHABET, "W", id="both"),
    ],
)
def test_the_check_character_is_that_of_the_standard(
    characters: str, alphabet: str, expected: str
) -> None:
    assert check_character(characters, alphabet) == expected


def test_every_single_wrong_character_is_caught() -> None:
    # The sum treats each place by itself, so every value at every place is every case.
    escaped = []
    for place, right in product(range(8), range(32)):
        values = [7] * 8
        values[place] = right
        number = number_from(values).replace("-", "")
        for at in (place, 8):
            escaped += [
                (number, wrong)
                for wrong in ALPHABET
                if wrong != number[at] and fits(number[:at] + wrong + number[at + 1 :])
            ]
    assert escaped == []


def test_of_all_swapped_neighbours_only_0_and_z_escape() -> None:
    # ISO/IEC 7812-1 in base 10 misses 09 for 90: the lowest and the highest value.
    escaped, seen = set(), set()
    for place, first, second, third in product(range(7), *[range(32)] * 2, (0, 11)):
        values = [third] * 8
        values[place : place + 2] = first, second
        number = number_from(values).replace("-", "")
        for at in (place, 7):
            swapped = number[:at] + number[at + 1] + number[at] + number[at + 2 :]
            seen.add((at, number[at : at + 2]))
            if swapped != number and fits(swapped):
                escaped.add(number[at : at + 2])
    assert escaped == {"0Z", "Z0"}
    assert len({pair for at, pair in seen if at == 3}) == 32 * 32


@given(eight)
def test_a_number_is_read_however_it_is_written(values: list[int]) -> None:
    number = number_from(values)
    mistaken = number.translate(str.maketrans("01", "oL"))
    for written in (
        number,
        number.lower(),
        number.replace("-", ""),
        number.replace("-", " "),
        number.replace("-", "\u2013"),
        f"  {number}\n",
        mistaken,
        number.replace("1", "i"),
    ):
        assert read_number(written) == number


def test_any_random_byte_makes_every_character_equally_likely() -> None:
    drawn = [number_from([byte, *[0] * 7])[0] for byte in range(256)]
    assert {drawn.count(character) for character in ALPHABET} == {8}
    assert number_from(bytes(range(8))) == number_from(range(8))


@pytest.mark.parametrize("count", [0, 7, 9])
def test_other_than_eight_values_make_no_number(count: int) -> None:
    with pytest.raises(ValueError, match="8 random values"):
        number_from(bytes(count))


@pytest.mark.parametrize(
    ("text", "bottle"),
    [
        (GOOD, None),
        (f"{GOOD}/2", 2),
        ("7k3m q9tx 8 / 12", 12),
        (f"{GOOD}/", None),
        (f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{GOOD}", None),
        (f"https://bottles.example.org/b/{GOOD.lower()}/", None),
        (f"HTTPS://HOST/B/{GOOD}/BORATE-ALKALI-20ML-1G-2031-03-14", None),
        (f"https://host/shelf/b/B/{GOOD}/index.html", None),
        (f"https://host/B/{GOOD}/3", 3),
        (f"https://host/B/{GOOD}?from=card#top", None),
        (f"/B/{GOOD}", None),
        (f"{GOOD} BORATE ALKALI 20ML:1G MIXED 2031-03-14 DANGER", None),
        (f"{GOOD} DEVELOPER A/B MIXED 2031-03-14", None),
    ],
)
def test_what_is_scanned_or_typed_names_batch_and_bottle(
    text: str, bottle: int | None
) -> None:
    assert read_bottle(text) == (GOOD, bottle)
    assert read_number(text) == GOOD


AS_PRINTED = "Write it as on the label, such as 7K3M-Q9TX-8."


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            "7K3M-Q9TX-9",
            "'7K3M-Q9TX-9' is no batch number: a character is wrong, or two are "
            "swapped. Read it again from the label.",
        ),
        (
            "https://host/B/7K3M-Q9TX-9/NAME",
            "'7K3M-Q9TX-9' is no batch number: a character is wrong, or two are "
            "swapped. Read it again from the label.",
        ),
        (
            "7K3M-Q9TX",
            f"'7K3M-Q9TX' has 8 characters, a batch number has 9. {AS_PRINTED}",
        ),
        ("", f"'' has 0 characters, a batch number has 9. {AS_PRINTED}"),
        (
            "https://host/B/",
            f"'' has 0 characters, a batch number has 9. {AS_PRINTED}",
        ),
        (
            "7K3U-Q9TX-8",
            f"'7K3U-Q9TX-8' holds 'U', which is in no batch number. {AS_PRINTED}",
        ),
        (
            f"{GOOD}/0",
            f"'{GOOD}/0': '0' is no bottle. "
            f"Write which bottle after the slash, such as {GOOD}/2.",
        ),
        (
            f"{GOOD}/-1",
            f"'{GOOD}/-1': '-1' is no bottle. "
            f"Write which bottle after the slash, such as {GOOD}/2.",
        ),
        (
            f"{GOOD}/10000",
            f"'{GOOD}/10000': '10000' is no bottle. "
            f"Write which bottle after the slash, such as {GOOD}/2.",
        ),
    ],
)
def test_what_is_no_number_is_refused_in_one_line(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_bottle(text)
    assert str(caught.value) == line


def answer(text: str) -> str:
    try:
        return read_number(text)
    except BadInput as error:
        return str(error)


@given(st.text(max_size=40))
def test_any_text_gets_one_line_in_answer(text: str) -> None:
    assert len(answer(text).splitlines()) == 1
