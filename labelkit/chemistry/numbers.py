"""Numbers as people write them: one number, and the words that follow it."""

import re
from decimal import Decimal

from labelkit.errors import BadInput

__all__ = ["positive_number", "quoted", "split_number"]

# The one place where what a person wrote is split into number and unit.
_SPLIT = re.compile(
    r"(?P<minus>[-−–])?\s*"
    r"(?P<digits>[0-9]+(?:[.,][0-9]+)*|[.,][0-9]+)"
    r"(?P<exponent>[eE][+-]?[0-9]{1,3}(?![0-9]))?"
    r"\s*(?P<rest>.*)",
    re.DOTALL,
)
_THOUSANDS_OR_DECIMALS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_FRACTION = re.compile(r"[0-9]\s*/\s*[0-9]|[¼-¾⅐-⅞⁄]")
_LONGEST_SHOWN = 40


def split_number(text: str) -> tuple[Decimal, str]:
    """The number that ``text`` starts with, and the words after it.

    A decimal comma is understood; a number that can be read in two ways is refused.

    Raises:
        BadInput: there is no number, or not one that means one thing only.
    """
    found = _SPLIT.fullmatch(text.strip())
    if _FRACTION.search(text):
        raise BadInput(
            f"{quoted(text)} has a fraction",
            remedy="Write it as a decimal number, such as 0.5.",
        )
    if found is None:
        raise BadInput(
            f"{quoted(text)} does not start with a number",
            remedy="Write a number and its unit.",
        )
    rest = " ".join(found["rest"].split())
    if rest[:1].isdigit():
        raise BadInput(
            f"{quoted(text)} has more than one number",
            remedy="Write one number without spaces in it, and one unit.",
        )
    digits = _plain_digits(found["digits"], rest, text)
    number = Decimal(digits + (found["exponent"] or ""))
    return (-number if found["minus"] else number), rest


def positive_number(text: str) -> tuple[Decimal, str]:
    """As `split_number`, for what must be more than nothing.

    Raises:
        BadInput: as `split_number`, or the number is 0 or below.
    """
    number, rest = split_number(text)
    if number <= 0:
        raise BadInput(
            f"{quoted(text)} is not more than 0",
            remedy="Write a number above 0.",
        )
    return number, rest


def quoted(text: object) -> str:
    """A value as it is shown in a fault: in quotes, on one line, cut when long."""
    line = " ".join(str(text).split())
    visible = "".join(c if c.isprintable() else "�" for c in line)
    if len(visible) > _LONGEST_SHOWN:
        visible = f"{visible[: _LONGEST_SHOWN - 1]}…"
    return f"'{visible}'"


def _plain_digits(digits: str, rest: str, text: str) -> str:
    """The digits with a decimal point; refused where they could mean two things."""
    if digits.count(",") + digits.count(".") > 1:
        raise BadInput(
            f"{quoted(text)} has more than one point or comma in its number",
            remedy="Write one decimal point and no thousands sign, such as 1000.5.",
        )
    if _THOUSANDS_OR_DECIMALS.fullmatch(digits):
        readings = " or ".join(
            f"{digits.replace(',', sign)} {rest}".strip() for sign in ("", ".")
        )
        raise BadInput(
            f"{quoted(text)} can be read in two ways", remedy=f"Write {readings}."
        )
    return digits.replace(",", ".")
