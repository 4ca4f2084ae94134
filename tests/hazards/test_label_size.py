"""Annex I, Table 1.3, as in force and as in Regulation (EU) 2024/2865."""

from decimal import Decimal
from math import sqrt

import pytest

from labelkit.errors import BadInput
from labelkit.hazards.label_size import label_size, points_for


@pytest.mark.parametrize(
    ("volume_L", "label_mm", "least", "preferred"),
    [
        ("0.01", (52, 74), 10, 16),
        ("3", (52, 74), 10, 16),
        ("3.01", (74, 105), 23, 23),
        ("50", (74, 105), 23, 23),
        ("50.01", (105, 148), 32, 32),
        ("500", (105, 148), 32, 32),
        ("500.01", (148, 210), 46, 46),
    ],
)
def test_table_1_3(
    volume_L: str, label_mm: tuple[int, int], least: int, preferred: int
) -> None:
    for edition in ("eu-current", "eu-2024-2865", "eu-omnibus6"):
        found = label_size(Decimal(volume_L), edition)
        assert found.label_mm == label_mm
        assert found.pictogram_min_mm == least
        assert found.pictogram_preferred_mm == preferred


def test_each_preferred_pictogram_covers_a_fifteenth_of_the_least_label() -> None:
    # 1.2.1.4, to the whole millimetre: side = root of (area / 15); 1 cm2 at least
    for volume in ("1", "10", "100", "1000"):
        found = label_size(Decimal(volume))
        width, height = found.label_mm
        assert found.pictogram_preferred_mm >= round(sqrt(width * height / 15))
        assert found.pictogram_min_mm**2 >= 100


@pytest.mark.parametrize(
    ("edition", "volume_L", "x_height"),
    [
        ("eu-current", "0.1", "0"),
        ("eu-2024-2865", "0.5", "1.2"),
        ("eu-2024-2865", "0.51", "1.4"),
        ("eu-2024-2865", "3", "1.4"),
        ("eu-2024-2865", "3.01", "1.8"),
        ("eu-2024-2865", "50", "1.8"),
        ("eu-2024-2865", "50.1", "2.0"),
        ("eu-omnibus6", "0.125", "0.9"),
        ("eu-omnibus6", "0.126", "1.2"),
        ("eu-omnibus6", "60", "1.2"),
    ],
)
def test_letters_grow_with_the_bottle(
    edition: str, volume_L: str, x_height: str
) -> None:
    assert label_size(Decimal(volume_L), edition).x_height_mm == Decimal(x_height)


@pytest.mark.parametrize(
    ("x_height", "points"),
    # x-height / 0.519 / 25.4 x 72, rounded up: 6.554, 7.646, 9.831, 10.923, 4.916
    [("1.2", "6.6"), ("1.4", "7.7"), ("1.8", "9.9"), ("2.0", "11.0"), ("0.9", "5.0")],
)
def test_type_sizes_are_rounded_up(x_height: str, points: str) -> None:
    assert points_for(Decimal(x_height), Decimal("0.519")) == Decimal(points)


def test_an_unknown_edition_and_no_volume_are_refused() -> None:
    with pytest.raises(BadInput, match="'eu-1999' is no edition of the format rules"):
        label_size(Decimal(1), "eu-1999")
    with pytest.raises(BadInput, match="a bottle of 0 L"):
        label_size(Decimal(0))
