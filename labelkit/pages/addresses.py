"""Where each page is: folders in upper case, as the printed codes write them.

Links between pages are relative, so that they hold on any host, below any path, and in
a plain folder that is opened from a disk or a memory stick.
"""

import re
from collections.abc import Mapping
from typing import Any

from labelkit.errors import BadInput
from labelkit.mixing.numbers import read_number
from labelkit.mixing.ports import Record

__all__ = [
    "DISCARDED",
    "FRONT",
    "RECIPES",
    "UNKNOWN",
    "batch_folder",
    "is_one_folder",
    "printed_folders",
    "recipe_folder",
    "up",
]

FRONT = "index.html"
UNKNOWN = "404.html"
RECIPES = "R/index.html"
DISCARDED = "discarded/index.html"

# What may follow the number in a printed address (mixing.payload.address_path).
_TAIL = re.compile(r"[A-Z0-9.-]*[A-Z0-9]")
_LONGEST_FOLDER = 200  # bytes; file systems allow 255


def batch_folder(number: str) -> str:
    """``B/ABCD-EFGH-K``."""
    return f"B/{number}"


def recipe_folder(name: str) -> str:
    """``R/BORATE-ALKALI``."""
    return f"R/{name.upper()}"


def is_one_folder(name: str) -> bool:
    """Whether ``name`` is fit to be one folder of the site, and no way out of it."""
    apart = set(name) & set('/\\:*?"<>|') or name.startswith(".")
    short = 0 < len(name.encode("utf-8", "replace")) <= _LONGEST_FOLDER
    return short and name.isprintable() and name == name.strip() and not apart


def printed_folders(record: Record) -> tuple[str, ...]:
    """Every folder at which a code of the batch may look for its page.

    The short address comes first, then each longer one that was printed. A record may
    have come from another bench, so nothing in it is trusted to stay in the folder.
    """
    short = batch_folder(record.number)
    if not _is_a_number(record.number):
        return ()
    tails = (_tail(record.number, bottle) for bottle in _bottles(record.data))
    longer = (f"{short}/{tail}" for tail in tails if tail)
    return tuple(dict.fromkeys((short, *longer)))


def up(folder: str) -> str:
    """The way from a page in ``folder`` back to the front: ``../`` for each step."""
    return "../" * len([part for part in folder.split("/") if part])


def _is_a_number(number: str) -> bool:
    try:
        return read_number(number) == number
    except BadInput:
        return False


def _bottles(data: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    words = data.get("words")
    bottles = words.get("bottles") if isinstance(words, Mapping) else None
    return [b for b in bottles or () if isinstance(b, Mapping)]


def _tail(number: str, bottle: Mapping[str, Any]) -> str:
    """What the bottle's code says after the number; "" where that is nothing."""
    code = str(bottle.get("code", ""))
    _, found, tail = code.upper().partition(f"/B/{number}/")
    fits = found and _TAIL.fullmatch(tail) and is_one_folder(tail)
    return tail if fits else ""
