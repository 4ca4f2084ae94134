"""What a frozen record says of its bottles: how much, how long, and for how much film.

The recipe is kept word for word, so records of every age can be asked. Whatever cannot
be read is not known; a record page must never fail for it.
"""

import tomllib
from collections.abc import Callable, Mapping
from decimal import Decimal, InvalidOperation
from functools import lru_cache
from typing import Any, TypeVar

from msgspec import Struct

from labelkit.chemistry.amounts import Dimension, Duration, parse_amount, parse_duration
from labelkit.errors import BadInput
from labelkit.mixing.ports import Record
from labelkit.mixing.recipe import Capacity

__all__ = ["Frozen", "frozen"]

T = TypeVar("T")


class Frozen(Struct, frozen=True):
    """What is needed to say how a bottle stands.

    Attributes:
        filled: of each bottle [``unit``]; None where it is not known.
        unit: ``mL``, or ``g`` for a dry mixture.
        keeps: from mixing.
        keeps_opened: from opening.
        keeps_part_full: from the day some was taken out.
        capacity: what film a volume, or a mass, of it treats.
        use_mark: HOLD, ASK with a name, SHARED, or "".
    """

    filled: tuple[Decimal | None, ...]
    unit: str = "mL"
    keeps: Duration | None = None
    keeps_opened: Duration | None = None
    keeps_part_full: Duration | None = None
    capacity: Capacity | None = None
    use_mark: str = ""

    def holds(self, filled: Decimal | None) -> Decimal | None:
        """What film so much of it treats [units of the capacity]; None: not known."""
        if self.capacity is None or filled is None:
            return None
        per = self.capacity.per
        if (per.dimension is Dimension.MASS) != (self.unit == "g"):
            return None
        return self.capacity.amount * filled / per.number


def frozen(record: Record) -> Frozen:
    """What a record says of its bottles."""
    data = record.data
    recipe = _recipe_of(data)
    page = _mapping(_mapping(data, "words"), "page")
    by_mass = "g" in _mapping(_mapping(data, "answer"), "make")
    dry = by_mass and data.get("volume_mL") is None
    return Frozen(
        _filled(record),
        "g" if dry else "mL",
        keeps=_read(parse_duration, recipe.get("keeps", recipe.get("keeps_working"))),
        keeps_opened=_read(parse_duration, recipe.get("keeps_opened")),
        keeps_part_full=_read(parse_duration, recipe.get("keeps_part_full")),
        capacity=_read(_capacity, _mapping(recipe, "use").get("capacity")),
        use_mark=str(page.get("use_mark") or ""),
    )


def _recipe_of(data: Mapping[str, Any]) -> Mapping[str, Any]:
    return _parsed(str(_mapping(data, "recipe").get("document") or ""))


@lru_cache(maxsize=256)
def _parsed(document: str) -> Mapping[str, Any]:
    try:
        return tomllib.loads(document, parse_float=Decimal)
    except tomllib.TOMLDecodeError:
        return {}


def _filled(record: Record) -> tuple[Decimal | None, ...]:
    bottles = _mapping(record.data, "answer").get("bottles")
    told = bottles if isinstance(bottles, list) else []
    sizes = [_number(bottle.get("mL")) for bottle in told if isinstance(bottle, dict)]
    sizes += [None] * (record.bottles - len(sizes))
    return tuple(sizes[: record.bottles])


def _number(value: object) -> Decimal | None:
    if value is None:
        return None
    try:
        return Decimal(str(value))
    except InvalidOperation:
        return None


def _capacity(table: Mapping[str, Any]) -> Capacity:
    return Capacity(
        Decimal(table["amount"]), str(table["of"]), parse_amount(str(table["per"]))
    )


def _read(reader: Callable[[Any], T], value: object) -> T | None:
    """What the reader makes of it; None where nothing is there, or nothing readable."""
    if value is None:
        return None
    try:
        return reader(value)
    except (BadInput, KeyError, TypeError, ValueError, InvalidOperation):
        return None


def _mapping(value: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    inner = value.get(key)
    return inner if isinstance(inner, Mapping) else {}
