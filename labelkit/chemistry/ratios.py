"""Ratios as people write them: parts joined by plus signs."""

import re
from decimal import Decimal

from labelkit.chemistry.numbers import positive_number, quoted
from labelkit.errors import BadInput

__all__ = ["parse_ratio"]

_LARGEST_PART = Decimal(100_000)
_MOST_PARTS = 10
_AS_SHARE = re.compile(r"\s*[:/]\s*")


def parse_ratio(text: str) -> tuple[Decimal, ...]:
    """The parts of a ratio such as ``1+9`` or ``1 + 1 + 100``.

    Raises:
        BadInput: it is written with a colon, and can be read in two ways; or a part
            cannot be read, or there is only one.
    """
    if _AS_SHARE.search(text):
        raise _in_two_ways(text)
    pieces = text.split("+")
    if len(pieces) < 2:
        raise BadInput(
            f"{quoted(text)} is a ratio of one part",
            remedy="Write the parts joined by +, such as 1+9.",
        )
    if len(pieces) > _MOST_PARTS:
        raise BadInput(
            f"{quoted(text)} has more than {_MOST_PARTS} parts",
            remedy="Write the parts joined by +, such as 1+9.",
        )
    return tuple(_part(piece, text) for piece in pieces)


def _part(piece: str, text: str) -> Decimal:
    try:
        number, rest = positive_number(piece)
    except BadInput:
        number, rest = Decimal(0), ""
    if number == 0 or rest:
        raise BadInput(
            f"{quoted(text)} is no ratio: {quoted(piece)} is no number of parts",
            remedy="Write the parts joined by +, such as 1+9.",
        )
    if number > _LARGEST_PART:
        raise BadInput(
            f"{quoted(text)} is thinner than is ever mixed",
            remedy="Dilute in two steps.",
        )
    return number


def _in_two_ways(text: str) -> BadInput:
    """The refusal of ``1:10``, which is 1+9 to some people and 1+10 to others."""
    parts = [_part(piece, text) for piece in _AS_SHARE.split(text.strip())]
    and_more = _joined(parts)
    *first, last = parts
    rest = last - sum(first, Decimal(0))
    if rest <= 0:
        return BadInput(
            f"{quoted(text)} is not written with plus signs",
            remedy=f"Write {and_more}.",
        )
    in_all = _joined([*first, rest])
    return BadInput(
        f"{quoted(text)} can be read as {in_all} (the last number is the whole) "
        f"or as {and_more} (the last number is a part)",
        remedy=f"Write {in_all} or {and_more}.",
    )


def _joined(parts: list[Decimal]) -> str:
    return "+".join(f"{part.normalize():f}" for part in parts)
