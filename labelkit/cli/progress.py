"""How far a long job has come, where somebody watches it at a terminal."""

import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, TypeVar

import click

__all__ = ["LONG", "moving_bar", "watched"]

T = TypeVar("T")
Passing = Callable[[Iterable[Any]], Iterator[Any]]

LONG = 200  # labels; fewer are placed before anybody wonders


def watched(
    items: Sequence[T], *, label: str = "Placing", least: int = 1
) -> Iterator[T]:
    """The items one after another, under a bar as `moving_bar` shows it."""
    with moving_bar(len(items), label=label, least=least) as passing:
        yield from passing(items)


@contextmanager
def moving_bar(
    total: int, *, label: str = "Placing", least: int = 1
) -> Iterator[Passing]:
    """A bar on stderr where it is a terminal, moved by all that is passed through.

    Args:
        total: how many items will be passed, in one go or in several.
        label: stands before the bar.
        least: with fewer items there is no bar.
    """
    if total < least or not sys.stderr.isatty():
        yield iter
        return
    with click.progressbar(length=total, label=label, file=sys.stderr) as bar:

        def passing(items: Iterable[Any]) -> Iterator[Any]:
            for item in items:
                yield item
                bar.update(1)

        yield passing
