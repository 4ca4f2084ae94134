"""QR symbols against ISO/IEC 18004, two decoders, and the library's slower scoring."""

from itertools import pairwise
from typing import Any

import cv2
import numpy as np
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from qrcode import constants, util
from qrcode.main import QRCode

from labelkit.errors import BadInput
from labelkit.printing import codes

ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"  # table 5
BATCH = "HTTPS://BOTTLES.EXAMPLE.ORG/B/7M3K-2QWX-Y"

Rows = list[list[bool]]


def rows_of(matrix: codes.CodeMatrix) -> Rows:
    rows = [[False] * matrix.side for _ in range(matrix.side)]
    for x, y, width, height in matrix.runs:
        for row in rows[y : y + height]:
            assert not any(row[x : x + width]), "two runs overlap"
            row[x : x + width] = [True] * width
    return rows


def picture_of(
    matrix: codes.CodeMatrix,
) -> np.ndarray[Any, np.dtype[np.uint8]]:
    dark = np.pad(np.array(rows_of(matrix)), codes.QUIET_ZONE)
    return np.kron(np.where(dark, 0, 255), np.ones((6, 6))).astype(np.uint8)


def drawn_by_qrcode(payload: str, matrix: codes.CodeMatrix, mask: int) -> Rows:
    level = getattr(constants, f"ERROR_CORRECT_{matrix.level}")
    symbol = QRCode(matrix.version, level, border=0, mask_pattern=mask)
    symbol.add_data(payload, optimize=0)
    symbol.make(fit=False)
    return [[bool(dark) for dark in row] for row in symbol.modules]


@pytest.mark.parametrize(
    "payload",
    [
        "7",
        "20310314",
        BATCH,
        BATCH + "/" + "X" * 19,  # 61 characters, the most on a label
        BATCH + "/" + "X" * 48,  # 90
        BATCH + "/" + "X" * 112,  # 154, the most on a card
        "https://bottles.example.org/b/7m3k",
        "borax décahydraté; 50 g/L → ½",
        "A" * 400,
    ],
)
def test_two_decoders_read_back_what_was_encoded(payload: str) -> None:
    picture = picture_of(codes.encode(payload))
    assert [found.text for found in zxingcpp.read_barcodes(picture)] == [payload]
    text, _, _ = cv2.QRCodeDetectorAruco().detectAndDecode(picture)
    assert text == payload


# Characters a symbol holds: ISO/IEC 18004:2015, table 7. Versions 8 and 10 from memory.
BYTES = {
    2: {"L": 32, "M": 26, "Q": 20, "H": 14},
    4: {"L": 78, "M": 62, "Q": 46, "H": 34},
    6: {"L": 134, "M": 106, "Q": 74, "H": 58},
    8: {"L": 192, "M": 152, "Q": 108, "H": 84},
    10: {"L": 271, "M": 213, "Q": 151, "H": 119},
}
ALPHANUMERICS = {1: 20, 2: 38, 3: 61, 4: 90, 5: 122, 6: 154}  # at level M


@pytest.mark.parametrize("version", BYTES)
def test_capacities_are_those_of_the_standard(version: int) -> None:
    for level, capacity in BYTES[version].items():
        room = codes._room(version, level, util.MODE_8BIT_BYTE)
        assert 8 * capacity <= room < 8 * (capacity + 1)


@pytest.mark.parametrize(("version", "capacity"), ALPHANUMERICS.items())
def test_the_smallest_version_at_level_m_is_chosen(version: int, capacity: int) -> None:
    assert codes.smallest_version("A" * capacity) == version
    assert codes.smallest_version("A" * (capacity + 1)) == version + 1


@pytest.mark.parametrize(
    ("length", "version", "level"),
    [
        # ISO/IEC 18004:2015, table 7, alphanumeric: 1-H 10, 1-Q 16, 1-M 20; 2-Q 29;
        # 3-Q 47, 3-M 61
        (10, 1, "H"),
        (11, 1, "Q"),
        (16, 1, "Q"),
        (17, 1, "M"),
        (20, 1, "M"),
        (21, 2, "Q"),
        (29, 2, "Q"),
        (30, 2, "M"),
        (47, 3, "Q"),
        (48, 3, "M"),
    ],
)
def test_room_to_spare_goes_into_a_higher_level(
    length: int, version: int, level: str
) -> None:
    matrix = codes.encode("A" * length)
    assert (matrix.version, matrix.level) == (version, level)
    assert matrix.side == 17 + 4 * version  # 6.3.2 of the standard


@pytest.mark.parametrize(
    ("payload", "bits"),
    [
        # ISO/IEC 18004:2015, 7.4.3 to 7.4.5
        ("01234567", 10 + 10 + 7),
        ("AC-42", 11 + 11 + 6),
        ("abc", 24),
        ("µ", 16),
    ],
)
def test_the_length_of_the_data(payload: str, bits: int) -> None:
    _, length = codes._written(payload)
    assert length == bits


def test_too_many_characters_are_refused_at_the_limit_of_the_largest_symbol() -> None:
    # ISO/IEC 18004:2015, table 7: 40-M holds 3391 alphanumeric characters; from memory
    assert codes.smallest_version("A" * 3391) == 40
    with pytest.raises(BadInput, match="3392 characters are more than"):
        codes.smallest_version("A" * 3392)


PAYLOADS = st.one_of(
    st.text("0123456789", min_size=1, max_size=200),
    st.text(ALPHANUMERIC, min_size=1, max_size=154),
    st.text(st.characters(codec="utf-8"), min_size=1, max_size=60),
)


@settings(max_examples=40)
@given(PAYLOADS, st.integers(0, 7))
def test_a_forced_mask_gives_the_librarys_own_symbol(payload: str, mask: int) -> None:
    matrix = codes.encode(payload, mask=mask)
    assert matrix.mask == mask
    assert rows_of(matrix) == drawn_by_qrcode(payload, matrix, mask)


@settings(max_examples=15)
@given(st.text(ALPHANUMERIC + "abc", min_size=1, max_size=100))
def test_the_mask_chosen_has_the_lowest_penalty_as_the_library_counts_it(
    payload: str,
) -> None:
    matrix = codes.encode(payload)
    points = [
        util.lost_point(drawn_by_qrcode(payload, matrix, mask)) for mask in range(8)
    ]
    assert points[matrix.mask] == min(points)


@pytest.mark.parametrize("length", [5, 30, 60, 150, 170, 300])
def test_penalties_are_those_the_library_counts(length: int) -> None:
    payload = "A1B" * (length // 3)
    matrix = codes.encode(payload)
    for mask in range(8):
        rows = drawn_by_qrcode(payload, matrix, mask)
        bits = "".join("1" if dark else "0" for row in rows for dark in row)
        assert codes._penalty(int(bits[::-1], 2), matrix.side) == util.lost_point(rows)


def test_the_same_payload_gives_the_same_symbol() -> None:
    assert codes.encode(BATCH) == codes.encode(BATCH)


def test_runs_stand_in_order_and_join_downwards() -> None:
    matrix = codes.encode(BATCH)
    assert (0, 0, 7, 1) in matrix.runs  # top of a finder pattern
    assert (0, 1, 1, 5) in matrix.runs  # its left side, five modules as one
    tops = [(y, x) for x, y, _, _ in matrix.runs]
    assert all(before < after for before, after in pairwise(tops))
