"""Codewords beside the standard's worked example and the library's own."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from qrcode import constants, util
from qrcode.base import rs_blocks

from labelkit.printing.codewords import ALPHANUMERIC, codewords, data_bits, mode_of

LEVELS = {
    "L": constants.ERROR_CORRECT_L,
    "M": constants.ERROR_CORRECT_M,
    "Q": constants.ERROR_CORRECT_Q,
    "H": constants.ERROR_CORRECT_H,
}


def blocks_of(version: int, level: str) -> list[tuple[int, int]]:
    blocks = rs_blocks(version, LEVELS[level])
    return [(block.total_count, block.data_count) for block in blocks]


def test_the_worked_example_of_the_standard() -> None:
    # ISO/IEC 18004:2015, annex I: 01234567 in a symbol 1-M; from memory
    words = bytes.fromhex("10200c566180ec11ec11ec11ec11ec11" + "a524d4c1ed36c7872c55")
    assert codewords("01234567", 1, [(26, 16)]) == words


PAYLOADS = st.one_of(
    st.text("0123456789", min_size=1, max_size=200),
    st.text(ALPHANUMERIC, min_size=1, max_size=160),
    st.text(max_size=60),
)


@settings(max_examples=200)
@given(PAYLOADS, st.integers(1, 30), st.sampled_from(sorted(LEVELS)))
def test_words_are_those_of_the_library(payload: str, version: int, level: str) -> None:
    blocks = blocks_of(version, level)
    assume(data_bits(payload, version) <= 8 * sum(words for _, words in blocks))
    mode = {
        "numeric": util.MODE_NUMBER,
        "alphanumeric": util.MODE_ALPHA_NUM,
        "byte": util.MODE_8BIT_BYTE,
    }[mode_of(payload)]
    data = util.QRData(payload.encode(), mode=mode, check_data=False)
    expected = util.create_data(version, LEVELS[level], [data])
    assert list(codewords(payload, version, blocks)) == expected


@pytest.mark.parametrize(
    ("payload", "bits"),
    [
        # 4 + count + data, ISO/IEC 18004:2015, 7.4.3 to 7.4.5
        ("01234567", 4 + 10 + 27),
        ("AC-42", 4 + 9 + 28),
        ("abc", 4 + 8 + 24),
        ("µ", 4 + 8 + 16),
    ],
)
def test_the_length_of_the_data(payload: str, bits: int) -> None:
    assert data_bits(payload, 1) == bits


@pytest.mark.parametrize("size", [0, 1, 2, 3])
def test_words_fill_a_symbol_to_its_last_bit(size: int) -> None:
    # 1-M holds 34 digits: 16 words less than one pad; table 7
    words = codewords("1" * (34 - size), 1, [(26, 16)])
    assert len(words) == 26
