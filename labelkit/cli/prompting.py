"""What is typed at the sink: one line at a time, asked again until it can be read."""

from collections.abc import Callable
from decimal import Decimal
from typing import TypeVar

import click

from labelkit.chemistry.amounts import Amount, parse_amount, parse_density
from labelkit.cli.params import parse_ph
from labelkit.errors import BadInput
from labelkit.mixing.doses import Dose
from labelkit.mixing.overshoot import FAR_OFF, off_by
from labelkit.mixing.readings import how_far_off, read_amount

__all__ = [
    "BACK",
    "ask_amount",
    "ask_density",
    "ask_ph",
    "ask_reading",
    "typed",
]

BACK = "b"

T = TypeVar("T")


def typed(question: str, expected: str = "") -> str:
    """What a person types; "" where only Enter was pressed."""
    shown = f" [{expected}]" if expected else ""
    answer: str = click.prompt(
        f"{question}{shown}", default="", show_default=False, prompt_suffix=": "
    )
    return answer.strip()


def ask_reading(dose: Dose, shown: str, question: str = "read") -> Amount | str:
    """The reading of a dose; "" for Enter, or `BACK`.

    A reading more than 10 % off is taken when it is typed a second time.

    Args:
        dose: as planned.
        shown: what the instrument should read.
        question: what is asked for.
    """
    doubted = ""
    while True:
        word = typed(f"     {question}", shown)
        if word in ("", BACK, BACK.upper()):
            return word.lower()
        amount = _amount(word, shown)
        if amount is None:
            continue
        off = off_by(amount, dose)
        if off is None or abs(off) <= FAR_OFF or word == doubted:
            return amount
        doubted = word
        click.echo(f"     {how_far_off(word, off)} Type it once more to keep it.")


def ask_amount(question: str, expected: str) -> Amount | None:
    """An amount; None where only Enter was pressed."""
    return _asked(question, expected, parse_amount)


def ask_ph() -> Decimal | None:
    """A measured pH; None where none was measured."""
    return _asked("pH measured (Enter: not measured)", "", parse_ph)


def ask_density() -> Decimal | None:
    """A measured density [g/mL]; None where none was measured."""
    question = "Density measured, such as 0.98 g/mL (Enter: not measured)"
    return _asked(question, "", parse_density)


def _asked(question: str, expected: str, read: Callable[[str], T]) -> T | None:
    while True:
        word = typed(question, expected)
        if not word:
            return None
        try:
            return read(word)
        except BadInput as error:
            click.echo(str(error))


def _amount(word: str, shown: str) -> Amount | None:
    try:
        return read_amount(word, shown)
    except BadInput as error:
        click.echo(f"     {error}")
        return None
