"""Film and paper that went through a bath, counted so that sizes can be added up.

80 square inches are one roll (135-36 or 120), four sheets of 4x5 or one of 8x10: the
usual count of darkroom work. By size that is 4 × 5 = 20 and 8 × 10 = 80 square inches;
a roll of 135-36 holds about as much.
"""

import re
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation

from msgspec import Struct

from labelkit.chemistry.display import figures, plain
from labelkit.chemistry.numbers import positive_number, quoted
from labelkit.errors import BadInput

__all__ = [
    "IN2",
    "Treated",
    "counted",
    "positive",
    "read_treated",
    "told_treated",
    "told_units",
    "treated_unit",
]

# [square inches] that one of each is.
IN2: Mapping[str, Decimal] = {
    "roll": Decimal(80),
    "4x5 sheet": Decimal(20),
    "8x10 sheet": Decimal(80),
    "in2": Decimal(1),
}
MOST = Decimal(1_000_000)
_WORDS: Mapping[str, str] = {
    "roll": "roll",
    "roll-equivalent": "roll",
    "roll equivalent": "roll",
    "film": "roll",
    "sheet": "4x5 sheet",
    "4x5": "4x5 sheet",
    "4x5 sheet": "4x5 sheet",
    "sheet 4x5": "4x5 sheet",
    "8x10": "8x10 sheet",
    "8x10 sheet": "8x10 sheet",
    "sheet 8x10": "8x10 sheet",
    "in2": "in2",
    "in²": "in2",
    "sq in": "in2",
    "square inch": "in2",
}
_PLURALS = {"square inche": "square inch"}
# A size begins with a figure, which would be taken for a second number.
_SIZE = re.compile(r"(?<![0-9.,])(4|8)\s*[x×]\s*(5|10)(?![0-9.,])", re.IGNORECASE)
_HIDDEN = {"size-a": "4x5", "size-b": "8x10"}
_WRITE = "Write it as 2 rolls, 4 sheets (4x5), 1 sheet 8x10 or 80 in2"


class Treated(Struct, frozen=True):
    """Film or paper: ``count`` of ``unit``, kept as ``2 roll``."""

    count: Decimal
    unit: str

    def __str__(self) -> str:
        """As it is kept in the log."""
        return f"{plain(self.count)} {self.unit}"


def read_treated(text: str, own: str = "") -> Treated | None:
    """What ``text`` counts; None where it is an amount of something else.

    Args:
        text: such as ``2 rolls``, ``4 sheets``, ``3 8x10`` or ``160 in2``.
        own: the unit that the recipe's capacity is told in.

    Raises:
        BadInput: there is no number, it is absurd, or it does not say of what.
    """
    try:
        count, words = positive_number(_SIZE.sub(_hidden, text))
    except BadInput as error:
        if not any(character.isdigit() for character in text):
            raise BadInput(
                f"{quoted(text)} does not say how much", remedy=f"{_WRITE}, or 60 mL."
            ) from error
        raise
    if not words:
        also = f", or {plain(count)} {own}s" if own and own not in IN2 else ""
        raise BadInput(
            f"{quoted(text)} does not say of what", remedy=f"{_WRITE}, or 60 mL{also}."
        )
    unit = treated_unit(words)
    if unit not in IN2 and unit != treated_unit(own):
        return None
    if count > MOST:
        raise BadInput(
            f"{quoted(text)} is more than is ever put through a bath",
            remedy="Write how many it was.",
        )
    return Treated(count, unit)


def treated_unit(words: str) -> str:
    """The unit as it is kept: the trade's own words are known, others taken as said."""
    word = " ".join(words.casefold().split())
    for hidden, size in _HIDDEN.items():
        word = word.replace(hidden, size)
    one = word.replace("sheets", "sheet").removesuffix("s")
    one = _PLURALS.get(one, one)
    return _WORDS.get(word) or _WORDS.get(one) or one


def counted(kept: str, unit: str) -> Decimal | None:
    """What the log keeps, in ``unit``; None where one does not tell the other."""
    treated, unit = _kept(kept), treated_unit(unit)
    if treated is None or treated.unit == unit:
        return treated.count if treated else None
    if treated.unit not in IN2 or unit not in IN2:
        return None
    return treated.count * IN2[treated.unit] / IN2[unit]


def positive(kept: str) -> Decimal | None:
    """A number as the log keeps it; None where it is none, or not above 0."""
    try:
        number = Decimal(kept)
    except InvalidOperation:
        return None
    return number if number.is_finite() and number > 0 else None


def told_units(count: Decimal, unit: str) -> str:
    """``1 roll``, ``2 rolls``, ``4 sheets 4x5``: a count in words, in three figures."""
    told = figures(count, 3)
    size, _, one = unit.rpartition(" ") if unit in IN2 else ("", "", unit)
    many = "" if told == "1" or unit == "in2" else "s"
    return f"{told} {one}{many} {size}".rstrip()


def told_treated(kept: str) -> str:
    """What the log keeps, in words: ``2 rolls``; as it is where it cannot be read."""
    treated = _kept(kept)
    return told_units(treated.count, treated.unit) if treated else kept


def _kept(kept: str) -> Treated | None:
    """What the log keeps; None where it is nothing that was written here."""
    number, _, unit = kept.partition(" ")
    count = positive(number)
    return Treated(count, unit) if count is not None and unit else None


def _hidden(size: re.Match[str]) -> str:
    found = f"{size[1]}x{size[2]}"
    return next((h for h, real in _HIDDEN.items() if real == found), size[0])
