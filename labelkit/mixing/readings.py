"""What is read off at the sink: typed with wet gloves, a bare number understood."""

from decimal import Decimal

from labelkit.chemistry.amounts import Amount, Dimension, parse_amount
from labelkit.chemistry.display import plain
from labelkit.mixing.plan import Plan

__all__ = [
    "added_up",
    "how_far_off",
    "needs_density",
    "needs_ph",
    "read_amount",
    "with_unit",
]


def read_amount(word: str, shown: str) -> Amount:
    """What was typed; a bare number is in the unit of the figure that was asked for.

    Args:
        word: as typed: ``8.7``, ``8,7`` or ``8.7 g``.
        shown: what was asked for: ``8.7 g`` or ``1.5 L``.

    Raises:
        BadInput: the number or the unit cannot be read, or could mean two things.
    """
    return parse_amount(with_unit(word, shown.split()[-1]))


def with_unit(word: str, unit: str) -> str:
    """The word with ``unit`` after it where it is a number and nothing else."""
    digits = word.strip().replace(",", ".").replace(".", "", 1)
    bare = digits.isascii() and digits.isdecimal()
    return f"{word.strip()} {unit}" if bare else word


def how_far_off(word: str, off: Decimal) -> str:
    """How far a reading is off: ``21 is 20 % more than planned.``.

    Args:
        word: as typed.
        off: from `overshoot.off_by`, as a share.
    """
    way = "more" if off > 0 else "less"
    return f"{word} is {round(abs(off) * 100)} % {way} than planned."


def added_up(one: Amount, other: Amount) -> Amount:
    """Both together, where both are masses or both volumes."""
    number = one.number + other.number
    unit = "g" if one.dimension is Dimension.MASS else "mL"
    return Amount(number, one.dimension, f"{plain(number)} {unit}")


def needs_ph(plan: Plan) -> bool:
    """Whether a pH is asked for at the end: nobody has measured one yet."""
    return plan.job.measured.ph is None and not plan.solution.dry


def needs_density(plan: Plan) -> bool:
    """Whether a density is asked for: its estimate would leave the hazards open."""
    density = plan.solution.density
    return density is not None and density.source == "estimate" and density.g_per_mL < 1
