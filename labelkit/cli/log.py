"""``labelkit log``: what happened to a bottle."""

from datetime import datetime

import click

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.cli.params import AMOUNT, WHEN, in_a_workplace
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.dates import written
from labelkit.mixing.opened import brought_forward
from labelkit.mixing.ports import Event

__all__ = ["command"]

HAPPENINGS = ("opened", "used", "topped-up", "tested", "moved", "discarded")


@click.command("log")
@click.argument("bottle", metavar="BATCH[/N]")
@click.argument("what", type=click.Choice(HAPPENINGS))
@click.argument("amount", type=AMOUNT, required=False)
@click.option("--by", default="", help="Who did it.")
@click.option("--on", type=WHEN, help="When; now if left out.")
@click.option("--note", default="", help="A remark, such as where it was moved to.")
@in_a_workplace
def command(
    place: Workplace,
    bottle: str,
    what: str,
    amount: Amount | None,
    by: str,
    on: datetime | None,
    note: str,
) -> None:
    """Write down what happened to a bottle; it is added, never edited."""
    record, which = place.bottle(bottle)
    at = on or place.now
    sooner = brought_forward(place.frozen_recipe(record), what, at)
    event = Event(
        record.number,
        which,
        what,
        at,
        by,
        amount_mL=_millilitres(amount),
        note=note,
        discard_after=written(sooner) or "",
    )
    place.shelf.append(event)
    click.echo(f"{bottle}: {what} on {at:%Y-%m-%d %H:%M}")
    if sooner is not None:
        click.echo(f"Now discard after {written(sooner)}, or sooner as the label says.")


def _millilitres(amount: Amount | None) -> str:
    if amount is None:
        return ""
    if amount.dimension is Dimension.MASS:
        raise BadInput(
            f"'{amount.written}' is not a volume", place="AMOUNT", remedy="Write mL."
        )
    return f"{amount.number:f}"
