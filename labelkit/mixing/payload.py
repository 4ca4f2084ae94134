"""What the code on a label or card carries: an address, or the essentials as text."""

import unicodedata
from collections.abc import Sequence

__all__ = ["QR_ALPHANUMERIC", "address_path", "batch_payload", "recipe_payload"]

# ISO/IEC 18004, alphanumeric mode: the 45 characters that keep a code small.
QR_ALPHANUMERIC = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
# Characters that fit version 3 at level M (ISO/IEC 18004, table of capacities): the
# largest code that leaves a small label room for its words.
LABEL_BUDGET = 61
CARD_BUDGET = 154
# Alphanumeric capacity at level M of versions 1 to 6 (ISO/IEC 18004).
CAPACITIES = (20, 38, 61, 90, 122, 154)


def batch_payload(
    number: str,
    *,
    base_url: str,
    title: str,
    equivalence: str,
    mixed: str,
    discard: str,
    signal: str,
    budget: int = LABEL_BUDGET,
) -> str:
    """What the code on a bottle carries.

    With ``base_url`` the page's address, followed by title, equivalence and mix date
    where the code does not grow by them. Without one the essentials, of which signal
    word, discard date, mix date and equivalence go in turn when there is no room, and
    then the title is cut at a word; the number always stays.

    Args:
        number: ``ABCD-EFGH-K``.
        base_url: such as ``https://bottles.example.org``; "" for none.
        title: of the solution.
        equivalence: ``20 mL = 1 g``, or "".
        mixed: ``2031-03-14``.
        discard: ``2032-03-14``, or "".
        signal: ``Danger``, ``Warning`` or "".
        budget: characters the code may hold.
    """
    ratio = equivalence.replace(" = ", ":").replace(" ", "")
    if base_url:
        address = _address(base_url, f"B/{number}")
        tail = address_path(title, ratio.replace(":", "-"), mixed)
        return _if_it_costs_nothing(address, f"{address}/{tail}")
    parts = [
        ratio,
        f"MIXED {mixed}",
        f"DISCARD {discard}" if discard else "",
        signal,
    ]
    name = _plain(title.replace("/", "-"))  # a slash would name a bottle
    return _essentials(number, name, parts, budget)


def recipe_payload(name: str, *, base_url: str, title: str, revision: str) -> str:
    """What the code on a card carries: the recipe's page, or title and revision."""
    if base_url:
        return _address(base_url, f"R/{name.upper()}")
    text = _plain(f"{title} REVISION {revision}" if revision else title)
    return _cut(text, CARD_BUDGET)


def address_path(*words: str) -> str:
    """``NAME-20ML-1G-2031-03-14``: words as part of an address, in upper case."""
    kept = "-".join(_plain(word) for word in words if word)
    joined = "".join(c if c.isalnum() or c in ".-" else "-" for c in kept)
    return "-".join(part for part in joined.split("-") if part)


def _address(base_url: str, path: str) -> str:
    base = base_url.rstrip("/")
    scheme, _, rest = base.partition("://")
    if "/" in rest and rest != rest.upper():
        return f"{base}/{path}"  # a host may tell upper from lower case in its paths
    return f"{scheme}://{rest}/{path}".upper()


def _if_it_costs_nothing(short: str, long: str) -> str:
    fits = set(long) <= QR_ALPHANUMERIC and _version(long) == _version(short)
    return long if fits else short


def _version(text: str) -> int:
    return sum(len(text) > capacity for capacity in CAPACITIES)


def _essentials(number: str, title: str, parts: Sequence[str], budget: int) -> str:
    kept = [_plain(part) for part in parts]
    # the signal word goes first, then the dates, last the equivalence
    while kept and len(_joined(number, title, kept)) > budget:
        kept.pop()
    text = _joined(number, title, kept)
    if len(text) <= budget:
        return text
    return f"{number} {_cut(title, max(budget - len(number) - 1, 0))}".strip()


def _joined(number: str, title: str, parts: Sequence[str]) -> str:
    return " ".join(part for part in (number, title, *parts) if part)


def _cut(text: str, length: int) -> str:
    if len(text) <= length:
        return text
    return text[: length + 1].rpartition(" ")[0] or text[:length]


def _plain(text: str) -> str:
    """Upper case, accents stripped, anything a small code cannot hold left out."""
    stripped = unicodedata.normalize("NFKD", text.upper())
    kept = "".join(c if c in QR_ALPHANUMERIC else " " for c in stripped if c.isascii())
    return " ".join(kept.split())
