"""The settings of a bench: ``labelkit.toml``."""

import re
from decimal import Decimal
from functools import partial
from pathlib import Path
from urllib.parse import urlsplit

from labelkit.chemistry.amounts import Dimension, parse_amount
from labelkit.chemistry.numbers import quoted, split_number
from labelkit.errors import BadInput
from labelkit.files.tables import Faults, Table
from labelkit.files.toml import parse_toml, read_text
from labelkit.mixing.bench import PROFILES, REGIMES, Settings

__all__ = ["read_settings", "settings_from_text"]

_PAPERS = ("A4", "Letter")
_LANGUAGES = ("en",)
_LARGEST_NUDGE_mm = Decimal(20)
_LEAST_SCALE, _MOST_SCALE = Decimal("0.9"), Decimal("1.1")
_HOST = re.compile(r"[A-Za-z0-9.-]+(:[0-9]{1,5})?|\[[0-9A-Fa-f:]+\](:[0-9]{1,5})?")
_DEFAULT = Settings()


def read_settings(path: Path) -> Settings:
    """The settings in a file; what it leaves out keeps its default.

    Raises:
        Unknown: there is no such file.
        BadInput: the file has faults; all of them are told.
        ShelfError: it cannot be opened.
    """
    return settings_from_text(read_text(path), place=path.name)


def settings_from_text(text: str, *, place: str = "") -> Settings:
    """The settings in a text.

    Raises:
        BadInput: the text has faults; all of them are told.
    """
    faults = Faults()
    table = Table(parse_toml(text, place), place, faults)
    settings = _settings(table)
    table.close()
    faults.raise_any()
    return settings


def _settings(table: Table) -> Settings:
    balance = partial(_division, dimension=Dimension.MASS, example="0.1 g")
    cylinder = partial(_division, dimension=Dimension.VOLUME, example="5 mL")
    return Settings(
        room=table.text("room"),
        address=table.text("address"),
        phone=table.text("phone"),
        profile=table.choice("profile", PROFILES, _DEFAULT.profile),
        regime=table.choice("regime", REGIMES, _DEFAULT.regime),
        country=table.text("country"),
        emergency=table.text("emergency"),
        disposal=table.text("disposal"),
        base_url=table.parsed("base_url", _base_url, "https://bottles.example.org", "")
        or "",
        balance_g=table.parsed("balance", balance, "0.1 g") or _DEFAULT.balance_g,
        cylinder_mL=table.parsed("cylinder", cylinder, "5 mL") or _DEFAULT.cylinder_mL,
        label=table.text("label"),
        sheet=table.text("sheet"),
        paper=table.choice("paper", _PAPERS, _DEFAULT.paper),
        mono=table.flag("mono") or False,
        keyline=table.flag("keyline"),
        nudge_mm=_nudge(table, "nudge"),
        nudge_back_mm=_nudge(table, "nudge_back"),
        scale=_scale(table),
        language=table.choice("language", _LANGUAGES, _DEFAULT.language),
    )


def _division(text: str, *, dimension: Dimension, example: str) -> Decimal:
    amount = parse_amount(text)
    if amount.dimension is not dimension:
        raise BadInput(
            f"{quoted(text)} is a {amount.dimension}", remedy=f"Write it as {example}."
        )
    return amount.number


def _base_url(text: str) -> str:
    """An address that batch numbers can be put after; "" for none."""
    written = text.strip().rstrip("/")
    if not written:
        return ""
    try:
        parts = urlsplit(written)
    except ValueError:
        parts = urlsplit("")
    fits = (
        parts.scheme.lower() in {"http", "https"}
        and _HOST.fullmatch(parts.netloc)
        and not (parts.query or parts.fragment)
        and written.isascii()
        and written.isprintable()
        and " " not in written
    )
    if not fits:
        raise BadInput(
            f"{quoted(text)} is no address that a label can point to",
            remedy="Write it like https://bottles.example.org, without ? or #.",
        )
    return written


def _nudge(table: Table, key: str) -> tuple[Decimal, Decimal]:
    example = '["0.5 mm", "-1 mm"]'
    items = table.items(key, example)
    read = table.words(key, _millimetres, example)
    if len(items) == len(read) == 2:
        return read[0], read[1]
    if key in table and len(items) != 2:
        table.fault(key, "is not two lengths: right, down", f"Write {key} = {example}.")
    return Decimal(0), Decimal(0)


def _millimetres(text: str) -> Decimal:
    number, unit = split_number(text)
    if unit != "mm":
        what = "has an unknown unit" if unit else "has no unit"
        raise BadInput(f"{quoted(text)} {what}", remedy="Write mm.")
    if abs(number) > _LARGEST_NUDGE_mm:
        raise BadInput(
            f"{quoted(text)} is more than a printer is ever off",
            remedy=f"Write at most {_LARGEST_NUDGE_mm} mm.",
        )
    return number


def _scale(table: Table) -> tuple[Decimal, Decimal]:
    example = "[1, 1]"
    items = table.items("scale", example)
    if "scale" not in table or not isinstance(table.data["scale"], list):
        return _DEFAULT.scale
    numbers = [
        Decimal(item)
        for item in items
        if isinstance(item, int | Decimal) and not isinstance(item, bool)
    ]
    factors = [
        number
        for number in numbers
        if number.is_finite() and _LEAST_SCALE <= number <= _MOST_SCALE
    ]
    if len(factors) == len(items) == 2:
        return factors[0], factors[1]
    table.fault(
        "scale",
        f"is not two numbers from {_LEAST_SCALE} to {_MOST_SCALE}",
        "Write 100 ÷ measured across, 200 ÷ measured down, such as [1.002, 0.998].",
    )
    return _DEFAULT.scale
