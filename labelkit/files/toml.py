"""Files that people write: their text, and the TOML in it."""

import re
import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput, ShelfError, Unknown

__all__ = ["parse_toml", "read_text"]

_LARGEST_FILE = 2_000_000  # [bytes] a file written by hand has a few thousand
_LINE = re.compile(r"\s*\(at line (\d+), column \d+\)")
_END = re.compile(r"\s*\(at end of document\)")


def read_text(path: Path) -> str:
    """What a file holds, as it is, without a byte order mark.

    Raises:
        Unknown: there is no such file.
        BadInput: it is a folder, too large, or not UTF-8.
        ShelfError: it cannot be opened.
    """
    try:
        raw = _read_bytes(path)
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise ShelfError(
            f"cannot be read ({reason})",
            place=path.name,
            remedy="Check who may read the file.",
        ) from None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise BadInput(
            f"is not UTF-8 (byte {raw[error.start]:#04x})",
            place=f"{path.name}, line {line}",
            remedy="Save it as UTF-8 in the editor.",
        ) from None


def _read_bytes(path: Path) -> bytes:
    if path.is_dir():
        raise BadInput(
            f"{quoted(path)} is a folder", remedy="Write the path of a .toml file."
        )
    if not path.is_file():
        raise Unknown(f"there is no file {quoted(path)}", remedy="Check its name.")
    if path.stat().st_size > _LARGEST_FILE:
        raise BadInput(
            "is too large for a file written by hand",
            place=path.name,
            remedy=f"Keep it under {_LARGEST_FILE // 1_000_000} MB.",
        )
    return path.read_bytes()


def parse_toml(text: str, place: str) -> dict[str, Any]:
    """The tables of a TOML text, with every fraction as a Decimal.

    Raises:
        BadInput: it is not TOML; the line is named.
    """
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise _not_toml(str(error), text, place) from None
    except (ValueError, ArithmeticError, RecursionError):
        raise BadInput(
            "holds a number or a list without end",
            place=place,
            remedy="Write amounts as texts, such as '8.7 g'.",
        ) from None


def _not_toml(message: str, text: str, place: str) -> BadInput:
    lines = text.splitlines() or [""]
    found = _LINE.search(message)
    number = int(found[1]) if found else len(lines)
    why = _END.sub("", _LINE.sub("", message))
    line = lines[number - 1].strip() if number <= len(lines) else ""
    return BadInput(
        f"{quoted(line)} is not TOML ({why[:1].lower()}{why[1:]})",
        place=f"{place}, line {number}",
        remedy='Write key = "text in quotes" or key = number, one a line.',
    )
