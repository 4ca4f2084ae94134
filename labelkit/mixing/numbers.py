"""Batch numbers: eight random characters and one that tells when they were misread.

The check character is the one of ISO/IEC 7812-1, annex B (Luhn), carried from base 10
to base 32 (known as the Luhn mod N algorithm). It catches every single wrong character
and every swap of two neighbours but one: ``0Z`` for ``Z0``, as base 10 misses ``09``
for ``90``.
"""

from collections.abc import Iterable

from labelkit.errors import BadInput

__all__ = [
    "ALPHABET",
    "check_character",
    "number_from",
    "read_bottle",
    "read_number",
]

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_BASE = len(ALPHABET)
_RANDOM = 8
_LENGTH = _RANDOM + 1
_BOTTLE_DIGITS = 4

_MISTAKEN = str.maketrans({"O": "0", "I": "1", "L": "1"})
_DASHES = "-\u2010\u2011\u2012\u2013\u2014\u2212"
_AS_PRINTED = "Write it as on the label, such as 7K3M-Q9TX-8."


def number_from(values: Iterable[int]) -> str:
    """The batch number made of eight random values, of which the low five bits count.

    Args:
        values: eight random bytes, or integers from 0.
    """
    drawn = "".join(ALPHABET[value % _BASE] for value in values)
    if len(drawn) != _RANDOM:
        raise ValueError(f"{_RANDOM} random values make a number, not {len(drawn)}")
    return _printed(drawn + check_character(drawn))


def check_character(characters: str, alphabet: str = ALPHABET) -> str:
    """The character that makes ``characters`` add up, by ISO/IEC 7812-1, annex B.

    From the right, every other value is doubled, beginning with the last; the two
    digits of a doubled value are added; the check character fills the sum up to a
    multiple of the base.
    """
    base = len(alphabet)
    values = [alphabet.index(character) for character in reversed(characters)]
    doubled = sum(sum(divmod(2 * value, base)) for value in values[::2])
    return alphabet[-(doubled + sum(values[1::2])) % base]


def read_number(text: str) -> str:
    """The batch number in ``text``, as printed: ``ABCD-EFGH-K``.

    Ignores case, dashes and spaces; takes O for 0, I and L for 1. A scanned address, a
    scanned line and ``NUMBER/2`` are understood.

    Raises:
        BadInput: there is no batch number in it, or its check character does not fit.
    """
    return read_bottle(text)[0]


def read_bottle(text: str) -> tuple[str, int | None]:
    """The batch number in ``text`` and the bottle named after it, if one is.

    Raises:
        BadInput: as `read_number`, or what follows the slash is no bottle.
    """
    written, bottle = _in_address(text) or _in_line(text)
    return _checked(written), _bottle(bottle, text) if bottle else None


def _in_address(text: str) -> tuple[str, str] | None:
    """Number and bottle of ``HTTPS://HOST/B/NUMBER/...``; None where it is none."""
    parts = text.split("?")[0].split("#")[0].split("/")
    here = [i for i, part in enumerate(parts[:-1]) if part.strip().upper() == "B"]
    if not here:
        return None
    at = next((i for i in here if len(_compact(parts[i + 1])) == _LENGTH), here[0])
    following = parts[at + 2].strip() if len(parts) > at + 2 else ""
    return parts[at + 1], following if _counts(following) else ""


def _in_line(text: str) -> tuple[str, str]:
    """Number and bottle of ``NUMBER/2``, or of a scanned line that begins with one."""
    head, _, tail = text.partition("/")
    words = head.split()
    if len(_compact(head)) > _LENGTH and len(words) > 1:
        return words[0], ""
    return head, tail.strip()


def _compact(written: str) -> str:
    kept = (c for c in written.upper() if not c.isspace() and c not in _DASHES)
    return "".join(kept).translate(_MISTAKEN)


def _checked(written: str) -> str:
    compact, quoted = _compact(written), repr(written.strip())
    foreign = sorted(set(compact) - set(ALPHABET))
    if foreign:
        raise BadInput(
            f"{quoted} holds {foreign[0]!r}, which is in no batch number",
            remedy=_AS_PRINTED,
        )
    if len(compact) != _LENGTH:
        raise BadInput(
            f"{quoted} has {len(compact)} characters, a batch number has {_LENGTH}",
            remedy=_AS_PRINTED,
        )
    if check_character(compact[:_RANDOM]) != compact[_RANDOM]:
        raise BadInput(
            f"{quoted} is no batch number: a character is wrong, or two are swapped",
            remedy="Read it again from the label.",
        )
    return _printed(compact)


def _printed(compact: str) -> str:
    return f"{compact[:4]}-{compact[4:8]}-{compact[8:]}"


def _counts(text: str) -> bool:
    short = len(text) <= _BOTTLE_DIGITS
    return short and text.isascii() and text.isdigit() and int(text) > 0


def _bottle(written: str, text: str) -> int:
    if not _counts(written):
        raise BadInput(
            f"{text.strip()!r}: {written!r} is no bottle",
            remedy="Write which bottle after the slash, such as 7K3M-Q9TX-8/2.",
        )
    return int(written)
