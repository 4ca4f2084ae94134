"""``--stock NAME=BATCH``: which bottle a solution is poured from."""

from collections.abc import Sequence

import click

from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.doses import Stock
from labelkit.mixing.record import stock_from

__all__ = ["stock_option", "stocks_from"]

stock_option = click.option(
    "--stock",
    multiple=True,
    metavar="RECIPE=BATCH",
    help="The bottle a solution is poured from.",
)


def stocks_from(words: Sequence[str], place: Workplace) -> dict[str, Stock]:
    """The bottles named with ``--stock``, by the recipe whose solution they hold.

    Raises:
        BadInput: no '=', an unknown batch, or a batch of another recipe.
    """
    return dict(_stock(word, place) for word in words)


def _stock(word: str, place: Workplace) -> tuple[str, Stock]:
    name, equals, batch = word.partition("=")
    if not equals:
        raise BadInput(
            f"'{word}' has no '='",
            place="--stock",
            remedy="Write RECIPE=BATCH, such as pyro-a=ABCD-EFGH-K.",
        )
    try:
        record = place.record(batch)
    except BadInput as error:
        raise error.at("--stock") from None
    if record.recipe != name:
        raise BadInput(
            f"batch {record.number} is {record.recipe}, not {name}",
            place="--stock",
            remedy=f"Write {record.recipe}={record.number}, or name another batch.",
        )
    return name, stock_from(record)
