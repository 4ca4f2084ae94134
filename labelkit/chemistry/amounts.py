"""Amounts, temperatures, times and densities as people write them."""

from calendar import monthrange
from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from enum import StrEnum
from functools import cache
from typing import Any, overload

from msgspec import Struct

from labelkit.chemistry import units
from labelkit.chemistry.numbers import positive_number, quoted, split_number
from labelkit.errors import BadInput

__all__ = [
    "Amount",
    "DROP_mL",
    "Dimension",
    "Duration",
    "parse_amount",
    "parse_density",
    "parse_duration",
    "parse_temperature",
]

DROP_mL = Decimal("0.05")  # [mL] common practice, no source

# Nothing a room mixes is larger or smaller [g, mL]; our own bounds.
_LARGEST_g, _LARGEST_mL = Decimal(1_000_000), Decimal(10_000_000)
_SMALLEST = Decimal("0.000001")
_COLDEST_C, _HOTTEST_C = Decimal("-273.15"), Decimal(1000)
_LIGHTEST, _HEAVIEST = Decimal("0.5"), Decimal(4)  # [g/mL]
_LONGEST = timedelta(days=36_525)

_AMOUNT_UNITS = (
    "Write one of: g, kg, mg, mL, L, lb, oz, ozt, grain, drachm, drop, "
    "US fl oz, imp fl oz (and so on from minim to gallon)."
)
_CELSIUS = frozenset({"degc", "deg c", "°c", "° c", "℃", "c", "celsius"})
_FAHRENHEIT = frozenset({"degf", "deg f", "°f", "° f", "℉", "f", "fahrenheit"})
_DENSITY_UNITS = {"g/ml": 1, "g/cm3": 1, "g/cm³": 1, "g/cc": 1, "kg/l": 1, "g/l": 1000}


class Dimension(StrEnum):
    """What an amount measures."""

    MASS = "mass"
    VOLUME = "volume"


class Amount(Struct, frozen=True):
    """A mass or a volume, kept in g or in mL, with the words it was written in.

    The same amount in other words is the same amount.

    Attributes:
        number: in g for a mass, in mL for a volume; finite and positive.
    """

    number: Decimal
    dimension: Dimension
    written: str = ""

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Amount):
            return NotImplemented
        return (self.number, self.dimension) == (other.number, other.dimension)

    def __hash__(self) -> int:
        return hash((self.number, self.dimension))


class Duration(Struct, frozen=True):
    """How long something keeps: ``count`` of hours, days, weeks, months or years.

    Attributes:
        unit: in the plural: ``minutes``, ``hours``, ``days``, ``weeks``, ``months`` or
            ``years``.
    """

    count: int
    unit: str

    @property
    def by_the_clock(self) -> bool:
        """Whether it is so short that a clock time must be told with the date."""
        return self.unit in _BY_THE_CLOCK

    @overload
    def after(self, start: datetime) -> datetime: ...
    @overload
    def after(self, start: date) -> date: ...
    def after(self, start: date) -> date:
        """The moment, or the day, this long after ``start``.

        Months and years are those of the calendar, clamped to the month's end; minutes
        and hours are counted through a change of the clocks where ``start`` knows its
        time zone.

        Raises:
            BadInput: minutes or hours are counted from a day without a time.
        """
        if self.unit in _MONTHS_IN:
            return _months_later(start, self.count * _MONTHS_IN[self.unit])
        span = self.count * _SPANS[self.unit]
        if not self.by_the_clock:
            return start + span
        if not isinstance(start, datetime):
            raise BadInput(
                f"{self.count} {self.unit} cannot be counted from a day alone",
                remedy="Give the time too, such as 2031-03-14 15:30.",
            )
        if start.tzinfo is None:
            return start + span
        return (start.astimezone(UTC) + span).astimezone(start.tzinfo)


_SPANS: Mapping[str, timedelta] = {
    "minutes": timedelta(minutes=1),
    "hours": timedelta(hours=1),
    "days": timedelta(days=1),
    "weeks": timedelta(weeks=1),
}
_MONTHS_IN: Mapping[str, int] = {"months": 1, "years": 12}
_BY_THE_CLOCK = frozenset({"minutes", "hours"})
_TIME_WORDS: Mapping[str, str] = {
    **{unit: unit for unit in (*_SPANS, *_MONTHS_IN)},
    **{unit.removesuffix("s"): unit for unit in (*_SPANS, *_MONTHS_IN)},
    "min": "minutes",
    "h": "hours",
}


def parse_amount(text: str, *, drop_mL: Decimal = DROP_mL) -> Amount:
    """The mass or volume that ``text`` means, where it means one thing only.

    Args:
        text: such as ``8.7 g``, ``1,5 L`` or ``8 US fl oz``.
        drop_mL: what a drop is taken for [mL].

    Raises:
        BadInput: the number or the unit cannot be read, or could mean two things.
    """
    number, unit = positive_number(text)
    dimension, factor = _unit_of(unit, number, text, drop_mL)
    amount = Amount(number * factor, dimension, " ".join(text.split()))
    _refuse_the_absurd(amount)
    return amount


def parse_temperature(text: str) -> Decimal:
    """The temperature that ``text`` means [degC]; it may be in degF.

    Raises:
        BadInput: the number or the unit cannot be read.
    """
    number, unit = split_number(text)
    word = units.as_word(unit)
    if word in _FAHRENHEIT:
        number = (number - 32) * 5 / 9
    elif word not in _CELSIUS:
        what = "has an unknown unit" if unit else "does not say of which scale"
        raise BadInput(f"{quoted(text)} {what}", remedy="Write degC or degF.")
    if not _COLDEST_C <= number <= _HOTTEST_C:
        raise BadInput(
            f"{quoted(text)} is no temperature that is met here",
            remedy=f"Write one between {_COLDEST_C} and {_HOTTEST_C} degC.",
        )
    return number


def parse_duration(text: str) -> Duration:
    """The time that ``text`` means, in whole minutes, hours, days and so on to years.

    Raises:
        BadInput: the number is not whole, or the unit cannot be read.
    """
    number, unit = positive_number(text)
    word = _TIME_WORDS.get(units.as_word(unit))
    if word is None:
        raise BadInput(
            f"{quoted(text)} has {'an unknown' if unit else 'no'} unit",
            remedy="Write minutes, hours, days, weeks, months or years.",
        )
    if number != number.to_integral_value():
        raise BadInput(
            f"{quoted(text)} is not a whole number of {word}",
            remedy="Write a whole number of a smaller unit, such as 18 months.",
        )
    span = _SPANS.get(word) or timedelta(days=365) / 12 * _MONTHS_IN[word]
    if number > _LONGEST // span:
        raise BadInput(
            f"{quoted(text)} is longer than 100 years",
            remedy="Leave it out where nothing is known.",
        )
    return Duration(int(number), word)


def parse_density(text: str) -> Decimal:
    """The density that ``text`` means [g/mL].

    Raises:
        BadInput: the number or the unit cannot be read, or no liquid is like that.
    """
    number, unit = positive_number(text)
    divisor = _DENSITY_UNITS.get(units.as_word(unit))
    if divisor is None:
        what = "has an unknown unit" if unit else "has no unit"
        raise BadInput(f"{quoted(text)} {what}", remedy="Write it as 1.02 g/mL.")
    density = number / divisor
    if not _LIGHTEST <= density <= _HEAVIEST:
        raise BadInput(
            f"{quoted(text)} is the density of no liquid that is mixed here",
            remedy=f"Write one between {_LIGHTEST} and {_HEAVIEST} g/mL.",
        )
    return density


def _unit_of(
    unit: str, number: Decimal, text: str, drop_mL: Decimal
) -> tuple[Dimension, Decimal]:
    """What ``unit`` measures, and its size [g or mL]."""
    word = units.as_word(unit)
    mass_g = _metric(units.METRIC_MASSES_g, unit, word)
    if mass_g is None and word in units.MASSES:
        mass_g = _factors()[units.MASSES[word]]
    if mass_g is not None:
        return Dimension.MASS, mass_g
    volume_mL = _metric(units.METRIC_VOLUMES_mL, unit, word)
    if volume_mL is None and word in units.VOLUMES:
        volume_mL = _factors()[units.VOLUMES[word]]
    if word in units.DROPS:
        volume_mL = drop_mL
    if volume_mL is not None:
        return Dimension.VOLUME, volume_mL
    raise _refusal(unit, word, number, text)


def _metric(known: Mapping[str, Decimal], unit: str, word: str) -> Decimal | None:
    """By its symbol as written, for mg is not Mg; a whole word in either case."""
    written = unit.removesuffix(".")
    return known.get(written) or (known.get(word) if len(word) > 3 else None)


def _refusal(unit: str, word: str, number: Decimal, text: str) -> BadInput:
    if not unit:
        return BadInput(f"{quoted(text)} has no unit", remedy=_AMOUNT_UNITS)
    if word in units.REFUSED:
        problem, remedy = units.REFUSED[word]
        return BadInput(f"{quoted(text)} {problem}", remedy=remedy)
    if word in units.UNNAMED_VOLUMES:
        name = units.UNNAMED_VOLUMES[word]
        us, imp = (number * _factors()[f"{system}_{name}"] for system in ("US", "imp"))
        return BadInput(
            f"{quoted(text)} does not say which: US ({us:.4g} mL) or imperial "
            f"({imp:.4g} mL)?",
            remedy=f"Write US {word} or imp {word}.",
        )
    return BadInput(f"{quoted(text)} has an unknown unit", remedy=_AMOUNT_UNITS)


def _refuse_the_absurd(amount: Amount) -> None:
    mass = amount.dimension is Dimension.MASS
    if amount.number > (_LARGEST_g if mass else _LARGEST_mL):
        raise BadInput(
            f"{quoted(amount.written)} is more than is ever mixed",
            remedy=f"Write at most {'1000 kg' if mass else '10 000 L'}.",
        )
    if amount.number < _SMALLEST:
        raise BadInput(
            f"{quoted(amount.written)} is less than can be measured",
            remedy=f"Write at least 0.000001 {'g' if mass else 'mL'}.",
        )


@cache
def _factors() -> Mapping[str, Decimal]:
    """The size of every unit of ``data/units.txt`` [g or mL], as pint works it out."""
    # Slow to load, and g and mL need neither.
    from importlib.resources import files

    import pint

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(None, non_int_type=Decimal)
    lines = files("labelkit").joinpath("data", "units.txt").read_text("utf-8")
    registry.load_definitions(lines.splitlines())
    names = {*units.MASSES.values(), *units.VOLUMES.values()}
    return {name: Decimal(str(registry.get_root_units(name)[0])) for name in names}


def _months_later(start: date, months: int) -> date:
    years, month = divmod(start.month - 1 + months, 12)
    year, month = start.year + years, month + 1
    day = min(start.day, monthrange(year, month)[1])
    return start.replace(year=year, month=month, day=day)
