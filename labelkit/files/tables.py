"""One table of a file: values by key, every fault with its place and its remedy."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any, TypeVar, cast

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Ambiguous, BadInput, Fault

__all__ = ["Faults", "Table", "nearest"]

T = TypeVar("T")


def nearest(word: str, known: Iterable[str]) -> str:
    """A hint at the known word that is most like ``word``; "" where none is."""
    from difflib import get_close_matches

    near = get_close_matches(word.lower(), list(known), n=1)
    return f"Did you mean {near[0]}?" if near else ""


class Faults:
    """Every fault of one file, collected until it has been read to its end."""

    def __init__(self) -> None:
        self._errors: list[BadInput] = []

    def __iter__(self) -> Iterator[Fault]:
        return iter([fault for error in self._errors for fault in error.faults])

    def add(self, place: str, problem: str, remedy: str) -> None:
        """Note one fault."""
        self._errors.append(BadInput(problem, place=place, remedy=remedy))

    def take(self, error: BadInput, place: str = "") -> None:
        """Note what was raised while a value was read."""
        self._errors.append(cast("BadInput", error.at(place)))

    def raise_any(self) -> None:
        """Raise all faults as one error.

        Raises:
            Ambiguous: nothing is wrong but words that fit several chemicals; it names
                the first, so that a terminal can ask.
            BadInput: anything else.
        """
        if not self._errors:
            return
        first = self._errors[0]
        if not all(isinstance(error, Ambiguous) for error in self._errors):
            first = BadInput()
        first.faults = tuple(self)
        raise first


class Table:
    """One table of a file: hands out values by key and notes whatever is wrong.

    Args:
        data: the table as parsed.
        place: where it stands, such as ``stock.toml, step 3``.
        faults: where faults are noted.
        elsewhere: keys that belong at the top of the file; named when one strays here.
    """

    def __init__(
        self,
        data: Mapping[str, Any],
        place: str,
        faults: Faults,
        elsewhere: Collection[str] = (),
    ) -> None:
        self.data = data
        self._known: list[str] = []
        self._elsewhere = elsewhere
        self.place = place
        self.faults = faults

    def __contains__(self, key: str) -> bool:
        return key in self.data

    def fault(self, key: str, problem: str, remedy: str) -> None:
        """Note a fault of the value under ``key``; "" for the table itself."""
        self.faults.add(self._at(key), problem, remedy)

    def text(self, key: str) -> str:
        """A text on one line; "" where it is left out."""
        value: str | None = self._value(key, (str,), f'Write {key} = "text in quotes".')
        if value is None:
            return ""
        line = " ".join(value.split())
        odd = next((c for c in line if not c.isprintable()), "")
        if odd:
            self.fault(
                key,
                f"holds a character that cannot be printed (U+{ord(odd):04X})",
                "Write it without.",
            )
        return line

    def required_text(self, key: str, example: str) -> str:
        """A text that must be there."""
        value = self.text(key)
        if not value and not isinstance(self.data.get(key, ""), str):
            return ""
        if not value:
            what = "is empty" if key in self.data else "is missing"
            self.fault(key, what, f'Write {key} = "{example}".')
        return value

    def parsed(
        self,
        key: str,
        parse: Callable[[str], T],
        example: str,
        default: T | None = None,
    ) -> T | None:
        """A text that ``parse`` makes a value of; ``default`` where it is left out."""
        value: str | None = self._value(key, (str,), f'Write {key} = "{example}".')
        if value is None:
            return default
        try:
            return parse(value)
        except BadInput as error:
            self.faults.take(error, self._at(key))
            return default

    def required(self, key: str, parse: Callable[[str], T], example: str) -> T | None:
        """As `parsed`, for what must be there; None where it cannot be read."""
        if key not in self.data:
            self._known.append(key)
            self.fault(key, "is missing", f'Write {key} = "{example}".')
            return None
        return self.parsed(key, parse, example)

    def choice(self, key: str, options: Sequence[str], default: str = "") -> str:
        """One of a few words; ``default`` where it is left out."""
        listed = ", ".join(option for option in options if option)
        value: str | None = self._value(key, (str,), f"Write one of: {listed}.")
        if value is None:
            return default
        if value not in options:
            self.fault(key, f"{quoted(value)} is not known", f"Write one of: {listed}.")
            return default
        return value

    def flag(self, key: str) -> bool | None:
        """True or false; None where it is left out."""
        remedy = f"Write {key} = true or {key} = false."
        value: bool | None = self._value(key, (bool,), remedy)
        return value

    def number(self, key: str, least: Decimal, most: Decimal) -> Decimal | None:
        """A number between two bounds; None where it is left out or cannot be read."""
        remedy = f"Write a number from {least} to {most}."
        value: int | Decimal | None = self._value(key, (int, Decimal), remedy)
        if value is None:
            return None
        number = Decimal(value)
        if not number.is_finite() or not least <= number <= most:
            self.fault(key, f"{quoted(value)} is out of reach", remedy)
            return None
        return number

    def day(self, key: str) -> date | None:
        """A date such as 2031-03-14, in quotes or not; None where it is left out."""
        remedy = "Write it like 2031-03-14."
        value: str | date | None = self._value(key, (str, date), remedy)
        if isinstance(value, datetime):
            return value.date()
        if not isinstance(value, str):
            return value
        try:
            return date.fromisoformat(value.strip())
        except ValueError:
            self.fault(key, f"{quoted(value)} is not a date", remedy)
            return None

    def items(self, key: str, example: str) -> tuple[Any, ...]:
        """A list of values as they are; () where it is left out."""
        value: list[Any] | None = self._value(key, (list,), f"Write {key} = {example}.")
        return tuple(value or ())

    def words(self, key: str, parse: Callable[[str], T], example: str) -> tuple[T, ...]:
        """A list of texts that ``parse`` makes values of; () where it is left out."""
        found = []
        for item in self.items(key, example):
            if not isinstance(item, str):
                self._wrong_type(key, item, f"Write {key} = {example}.")
                continue
            try:
                found.append(parse(item))
            except BadInput as error:
                self.faults.take(error, self._at(key))
        return tuple(found)

    def table(self, key: str) -> "Table | None":
        """The table under ``key``; None where it is left out."""
        value = self._value(key, (dict,), f"Write it as a table, [{key}].")
        if value is None:
            return None
        return Table(value, self._at(key), self.faults, self._elsewhere)

    def tables(self, key: str) -> "list[Table]":
        """The tables of a list ``[[key]]``, numbered from 1."""
        value = self._value(key, (list,), f"Write each as a table, [[{key}]].") or []
        found = []
        for number, item in enumerate(value, start=1):
            place = f"{self._at('')}, {key} {number}".removeprefix(", ")
            if isinstance(item, dict):
                found.append(Table(item, place, self.faults, self._elsewhere))
            else:
                self.faults.add(
                    place,
                    f"{quoted(item)} is not a table",
                    f"Write each as a table, [[{key}]].",
                )
        return found

    def close(self) -> None:
        """Note every key that nobody asked for, with the nearest one that is known."""
        for key in self.data:
            if key in self._known:
                continue
            if key in self._elsewhere:
                remedy = "Write it at the top of the file, above the first [table]."
            else:
                remedy = nearest(key, self._known) or (
                    f"Known here: {', '.join(self._known)}."
                )
            self.fault(key, "is not a known key", remedy)

    def _at(self, key: str) -> str:
        return ", ".join(part for part in (self.place, key) if part)

    def _value(self, key: str, kinds: tuple[type, ...], remedy: str) -> Any:
        """The value under ``key`` if it is one of ``kinds``; None where it is not."""
        self._known.append(key)
        value = self.data.get(key)
        if value is None:
            return None
        # to Python True is a number; to a person it is not
        fits = type(value) is bool if bool in kinds else type(value) is not bool
        if not fits or not isinstance(value, kinds):
            self._wrong_type(key, value, remedy)
            return None
        return value

    def _wrong_type(self, key: str, value: object, remedy: str) -> None:
        self.fault(key, f"{_shown(value)} is {_kind(value)}", remedy)


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return quoted(value) if isinstance(value, str) else quoted(value)[1:-1]


def _kind(value: object) -> str:
    kinds: Mapping[type, str] = {
        str: "a text",
        bool: "not what is asked for",
        int: "a bare number",
        Decimal: "a bare number",
        list: "a list",
        dict: "a table",
    }
    return kinds.get(type(value), "a date or time")
