"""What can be typed after an option, read and refused with a clear line."""

import json
from collections.abc import Callable
from datetime import datetime
from decimal import Decimal
from functools import wraps
from pathlib import Path
from typing import Any

import click

from labelkit.chemistry.amounts import Amount, parse_amount, parse_density
from labelkit.chemistry.numbers import split_number
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput

__all__ = ["AMOUNT", "DENSITY", "PH", "WHEN", "answer", "in_a_workplace", "json_option"]


PH_LOWEST, PH_HIGHEST = Decimal(-1), Decimal(15)


class AmountType(click.ParamType):
    """A mass or volume such as ``500mL``."""

    name = "amount"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> Amount:
        """Read the amount."""
        if isinstance(value, Amount):
            return value
        try:
            return parse_amount(value)
        except BadInput as error:
            raise error.at(_name(param)) from None


class PhType(click.ParamType):
    """A measured pH such as ``11.2``."""

    name = "pH"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> Decimal:
        """Read the pH."""
        if isinstance(value, Decimal):
            return value
        try:
            return parse_ph(value)
        except BadInput as error:
            raise error.at(_name(param)) from None


class DensityType(click.ParamType):
    """A density such as ``1.07g/mL``."""

    name = "density"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> Decimal:
        """Read the density [g/mL]."""
        if isinstance(value, Decimal):
            return value
        try:
            return parse_density(value)
        except BadInput as error:
            raise error.at(_name(param)) from None


class WhenType(click.ParamType):
    """A day or a moment: ``2031-03-14`` or ``2031-03-14T15:40``."""

    name = "date"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> datetime:
        """Read the moment (ISO 8601)."""
        if isinstance(value, datetime):
            return value
        try:
            return datetime.fromisoformat(value).replace(tzinfo=None)
        except ValueError:
            raise BadInput(
                f"'{value}' is not a date",
                place=_name(param),
                remedy="Write it like 2031-03-14 or 2031-03-14T15:40.",
            ) from None


AMOUNT = AmountType()
PH = PhType()
DENSITY = DensityType()
WHEN = WhenType()

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
    click.echo(json.dumps(data, ensure_ascii=False, indent=2))


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


def _name(param: click.Parameter | None) -> str:
    return param.opts[0] if param else ""
