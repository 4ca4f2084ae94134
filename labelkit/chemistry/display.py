"""Figures as they are told: rounded to the instrument, in units a person reads.

Only what is shown is rounded, half up; nothing shown is used in a calculation.
"""

from decimal import ROUND_HALF_UP, Decimal

from labelkit.chemistry.amounts import Amount, Dimension, Duration

__all__ = [
    "figures",
    "plain",
    "rounded",
    "show_amount",
    "show_duration",
    "show_mass_g",
    "show_temperature_C",
    "show_volume_mL",
]

# A figure that needs more digits than this is told with four: 0.0333…, 3785.411784.
_MOST_DIGITS = 6
_DIGITS_TOLD = 4
_KILO = 1000


def plain(value: Decimal) -> str:
    """A number without an exponent and without zeros that say nothing."""
    return f"{value.normalize() + 0:f}" if value else "0"


def figures(value: Decimal, count: int) -> str:
    """A number to ``count`` significant figures, half up, without an exponent."""
    return plain(_to_figures(value, count))


def rounded(value: Decimal, step: Decimal) -> Decimal:
    """A reading to the instrument's division ``step``, half up and never 0.

    Below one division the instrument says nothing, so the figure stays as it is.

    Args:
        value: the exact figure [any one unit].
        step: one division [the same unit].
    """
    if value < step:
        return value
    return _quantized(value / step, Decimal(1)) * step


def show_mass_g(mass_g: Decimal, readability_g: Decimal) -> str:
    """What the balance should read, such as ``8.7 g``.

    Args:
        mass_g: the exact figure [g].
        readability_g: one division of the balance [g].
    """
    return f"{_read_off(mass_g, readability_g)} g"


def show_volume_mL(volume_mL: Decimal, graduation_mL: Decimal) -> str:
    """What the cylinder should read, such as ``300 mL`` or ``1.5 L``.

    Args:
        volume_mL: the exact figure [mL].
        graduation_mL: one graduation of the cylinder [mL].
    """
    read = _read_off(volume_mL, graduation_mL)
    in_litres = _whole_enough(Decimal(read))
    return f"{in_litres} L" if in_litres else f"{read} mL"


def show_amount(amount: Amount) -> str:
    """A quantity as people write it: ``500 mL``, ``1 L``, ``100 g``, ``1.5 kg``."""
    small, large = ("g", "kg") if amount.dimension is Dimension.MASS else ("mL", "L")
    told = _neat(amount.number)
    in_large = _whole_enough(Decimal(told))
    return f"{in_large} {large}" if in_large else f"{told} {small}"


def show_temperature_C(temperature_C: Decimal) -> str:
    """A temperature such as ``40 °C``, to a tenth where it is not whole [degC]."""
    return f"{plain(_quantized(temperature_C, Decimal('0.1')))} °C"


def show_duration(duration: Duration) -> str:
    """A time such as ``12 months`` or ``1 year``."""
    unit = duration.unit
    return f"{duration.count} {unit.removesuffix('s') if duration.count == 1 else unit}"


def _read_off(value: Decimal, step: Decimal) -> str:
    """The reading with as many decimals as the instrument shows."""
    if value < step:
        return _neat(value)
    decimals = max(0, -_exponent(step.normalize()))
    return f"{rounded(value, step):.{decimals}f}"


def _neat(value: Decimal) -> str:
    """The exact figure, or four significant figures where it does not end soon."""
    if len(value.normalize().as_tuple().digits) <= _MOST_DIGITS:
        return plain(value)
    return figures(value, _DIGITS_TOLD)


def _whole_enough(number: Decimal) -> str:
    """The number in thousands, where that takes at most two decimals; else ""."""
    if number < _KILO:
        return ""
    thousands = (number / _KILO).normalize()
    return plain(thousands) if _exponent(thousands) >= -2 else ""


def _to_figures(value: Decimal, count: int) -> Decimal:
    return _quantized(value, Decimal(1).scaleb(value.adjusted() - count + 1))


def _quantized(value: Decimal, step: Decimal) -> Decimal:
    """``value`` to a multiple of ``step``, a power of ten, half up."""
    return value.quantize(step, rounding=ROUND_HALF_UP)


def _exponent(value: Decimal) -> int:
    """The power of ten of the last digit."""
    return value.adjusted() - len(value.as_tuple().digits) + 1
