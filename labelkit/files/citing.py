"""Figures in a chemical's table, each with the source that stands beside it."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from labelkit.chemistry.numbers import quoted, split_number
from labelkit.chemistry.substances import Confidence, Figure
from labelkit.errors import BadInput
from labelkit.files.data import Citation, cite
from labelkit.files.tables import Table

__all__ = ["citation", "figure", "in_unit", "numbers", "revived"]

_CONFIDENCES = tuple(str(word) for word in Confidence)


def citation(table: Table, key: str = "") -> Citation:
    """The source of ``key``: its own, ``KEY_source``, else that of the whole entry."""
    whole = table.text("source")
    whole_confidence = table.choice("confidence", _CONFIDENCES)
    if not key:
        return cite(whole, whole_confidence)
    own = table.text(f"{key}_source")
    confidence = table.choice(f"{key}_confidence", _CONFIDENCES)
    return cite(own or whole, confidence or ("" if own else whole_confidence))


def figure(table: Table, key: str, unit: str, example: str) -> Figure | None:
    """A figure written with its unit, ``1.33 g/mL``; None where it is left out."""
    value = table.parsed(key, in_unit(unit, example), example)
    if key not in table:
        return None
    source = citation(table, key)
    note = table.text(f"{key}_note")
    if value is None:
        return None
    return Figure(value, source.text, source.confidence, note)


def in_unit(unit: str, example: str) -> Callable[[str], Decimal]:
    """A reader of numbers that must be given in ``unit``."""

    def read(text: str) -> Decimal:
        number, written = split_number(text)
        if written != unit:
            raise BadInput(
                f"{quoted(text)} is not in {unit}", remedy=f"Write it as {example}."
            )
        return number

    return read


def numbers(table: Table, key: str, example: str) -> tuple[Decimal, ...]:
    """A list of numbers; () where it is left out or one of them is none."""
    items = table.items(key, example)
    for item in items:
        if isinstance(item, bool) or not isinstance(item, int | Decimal):
            table.fault(
                key, f"{quoted(item)} is no number", f"Write {key} = {example}."
            )
            return ()
    return tuple(Decimal(item) for item in items)


def revived(data: Mapping[str, Any], keys: frozenset[str]) -> dict[str, Any]:
    """The table with the numbers under ``keys`` as Decimals.

    A stored batch keeps them as texts, so that none loses a digit.
    """
    return {k: _number(v, keys) if k in keys else v for k, v in data.items()}


def _number(value: Any, keys: frozenset[str]) -> Any:
    if isinstance(value, dict):
        return {k: _number(v, keys) for k, v in value.items()}
    if isinstance(value, list):
        return [_number(v, keys) for v in value]
    if isinstance(value, float):
        return Decimal(str(value))
    if isinstance(value, str):
        return _as_decimal(value)
    return value


def _as_decimal(text: str) -> Decimal | str:
    try:
        number = Decimal(text)
    except ArithmeticError:
        return text
    return number if number.is_finite() else text
