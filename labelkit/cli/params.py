"""What can be typed after an option, read and refused with a clear line."""

from collections.abc import Callable
from datetime import datetime
from decimal import Decimal
from functools import wraps
from pathlib import Path
from typing import Any

import click

from labelkit.chemistry.numbers import quoted, split_number
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput

__all__ = [
    "AMOUNT",
    "DENSITY",
    "GRAMS",
    "PH",
    "STRENGTH",
    "WHEN",
    "answer",
    "in_a_workplace",
    "json_option",
    "parse_moment",
]


PH_LOWEST, PH_HIGHEST = Decimal(-1), Decimal(15)


class Typed(click.ParamType[Any]):
    """Something that one of our own readers reads, or refuses with a clear line."""

    def __init__(self, name: str, read: Callable[[str], Any]) -> None:
        self.name = name
        self._read = read

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> Any:
        """Read what was typed; a default that is no text is taken as it is."""
        if not isinstance(value, str):
            return value
        try:
            return self._read(value)
        except BadInput as error:
            raise error.at(param.opts[0] if param else "") from None


def parse_ph(text: str) -> Decimal:
    """The pH that ``text`` means.

    Raises:
        BadInput: no number, or none that a meter shows.
    """
    number, unit = split_number(text)
    if unit or not PH_LOWEST <= number <= PH_HIGHEST:
        raise BadInput(
            f"'{text}' is no pH", remedy="Write a number from -1 to 15, such as 10.6."
        )
    return number


def parse_moment(text: str) -> datetime:
    """The day or moment that ``text`` means, in ISO 8601.

    Raises:
        BadInput: it is neither.
    """
    try:
        return datetime.fromisoformat(text).replace(tzinfo=None)
    except ValueError:
        raise BadInput(
            f"{quoted(text)} is not a date",
            remedy="Write it like 2031-03-14 or 2031-03-14T15:40.",
        ) from None


def _amount(text: str) -> Any:
    from labelkit.chemistry.amounts import parse_amount

    return parse_amount(text)


def _density(text: str) -> Any:
    from labelkit.chemistry.amounts import parse_density

    return parse_density(text)


def _grams(text: str) -> Decimal:
    from labelkit.mixing.sizing import parse_grams

    return parse_grams(text)


def _concentration(text: str) -> Any:
    from labelkit.mixing.dilution import parse_concentration

    return parse_concentration(text)


AMOUNT = Typed("amount", _amount)
GRAMS = Typed("grams", _grams)
STRENGTH = Typed("strength", _concentration)
PH = Typed("pH", parse_ph)
DENSITY = Typed("density", _density)
WHEN = Typed("date", parse_moment)

json_option = click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")


def in_a_workplace(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command ``--bench`` and, as its first argument, the `Workplace`."""

    @click.option(
        "--bench",
        type=click.Path(file_okay=False, path_type=Path),
        help="The folder to work in; else LABELKIT_BENCH, else the nearest one above.",
    )
    @wraps(command)
    def with_place(*, bench: Path | None, **given: Any) -> None:
        command(Workplace(bench), **given)

    return with_place


def answer(data: object) -> None:
    """Write JSON, alone, to standard output."""
    import json

    click.echo(json.dumps(data, ensure_ascii=False, indent=2))
