"""How large a label, its pictograms and its letters must be: Annex I, 1.2.1."""

from decimal import ROUND_CEILING, Decimal

from msgspec import Struct

from labelkit.errors import BadInput

__all__ = ["EDITIONS", "LabelSize", "label_size", "points_for"]

# Editions of the format rules: today's Table 1.3; Regulation (EU) 2024/2865; the
# "Omnibus VI" agreement of June 2026, not yet in the Official Journal
EDITIONS = ("eu-current", "eu-2024-2865", "eu-omnibus6")
STRICTEST = "eu-2024-2865"  # its values meet every edition

_MM_PER_INCH, _POINTS_PER_INCH = Decimal("25.4"), Decimal(72)
_TENTH = Decimal("0.1")


class LabelSize(Struct, frozen=True):
    """The sizes for one capacity.

    Attributes:
        label_mm: width and height, "if possible" up to 3 L.
        pictogram_min_mm: side of the red frame, not to go below.
        pictogram_preferred_mm: the same, if possible.
        x_height_mm: of the type; 0 where no minimum is law.
    """

    label_mm: tuple[int, int]
    pictogram_min_mm: int
    pictogram_preferred_mm: int
    x_height_mm: Decimal


# Table 1.3: up to this capacity [L], label, pictogram at least, preferred [mm]
_TABLE_1_3: tuple[tuple[Decimal, tuple[int, int], int, int], ...] = (
    (Decimal(3), (52, 74), 10, 16),
    (Decimal(50), (74, 105), 23, 23),
    (Decimal(500), (105, 148), 32, 32),
    (Decimal("Infinity"), (148, 210), 46, 46),
)
# New Table 1.3 of Regulation (EU) 2024/2865: x-height [mm] up to this capacity [L]
_X_HEIGHT_2024 = (
    (Decimal("0.5"), Decimal("1.2")),
    (Decimal(3), Decimal("1.4")),
    (Decimal(50), Decimal("1.8")),
    (Decimal("Infinity"), Decimal("2.0")),
)
# "Omnibus VI", for the public: x-height [mm] up to this capacity [L]
_X_HEIGHT_OMNIBUS = (
    (Decimal("0.125"), Decimal("0.9")),
    (Decimal("Infinity"), Decimal("1.2")),
)


def label_size(volume_L: Decimal, edition: str = STRICTEST) -> LabelSize:
    """The sizes for a bottle of ``volume_L`` [L].

    Raises:
        BadInput: an unknown edition, or no volume.
    """
    if edition not in EDITIONS:
        raise BadInput(
            f"'{edition}' is no edition of the format rules",
            remedy=f"Write one of: {', '.join(EDITIONS)}.",
        )
    if not volume_L > 0:
        raise BadInput(f"a bottle of {volume_L} L", remedy="Give a volume above 0.")
    label, least, preferred = next(row[1:] for row in _TABLE_1_3 if volume_L <= row[0])
    return LabelSize(label, least, preferred, _x_height(volume_L, edition))


def _x_height(volume_L: Decimal, edition: str) -> Decimal:
    if edition == "eu-current":
        return Decimal(0)
    steps = _X_HEIGHT_2024 if edition == "eu-2024-2865" else _X_HEIGHT_OMNIBUS
    return next(height for capacity, height in steps if volume_L <= capacity)


def points_for(x_height_mm: Decimal, x_height_of_em: Decimal) -> Decimal:
    """The type size [pt], rounded up to 0.1, that has an x-height of ``x_height_mm``.

    Args:
        x_height_mm: wanted [mm].
        x_height_of_em: the font's sxHeight over its unitsPerEm.
    """
    exact = x_height_mm / x_height_of_em * _POINTS_PER_INCH / _MM_PER_INCH
    return exact.quantize(_TENTH, rounding=ROUND_CEILING)
