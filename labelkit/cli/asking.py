"""Asking which form is meant, where a word fits several and a person is there."""

import sys
from collections.abc import Callable
from typing import TypeVar

import click

from labelkit.errors import Ambiguous

__all__ = ["asked_until_clear", "at_a_terminal"]

T = TypeVar("T")


def at_a_terminal() -> bool:
    """Whether a person sits in front of it."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def asked_until_clear(read: Callable[[], T], choices: dict[str, str]) -> T:
    """What ``read`` returns, once every word that fits several forms is settled.

    Args:
        read: reads something; it must heed ``choices``.
        choices: word to id; answers are added to it.

    Raises:
        Ambiguous: nobody is there to ask.
    """
    while True:
        try:
            return read()
        except Ambiguous as unclear:
            if not at_a_terminal():
                raise
            choices[unclear.word] = _choose(unclear)


def _choose(unclear: Ambiguous) -> str:
    click.echo(str(unclear), err=True)
    for n, form in enumerate(unclear.forms, start=1):
        click.echo(f"  {n}  {form}", err=True)
    number: int = click.prompt(
        "Which", type=click.IntRange(1, len(unclear.forms)), err=True
    )
    return unclear.forms[number - 1]
