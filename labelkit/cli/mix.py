"""``labelkit mix``: what was really weighed, kept for good, and the labels for it."""

from typing import Any

import click
from msgspec.structs import replace

from labelkit.cli.asking import at_a_terminal
from labelkit.cli.changes import changed_recipe, swap_option
from labelkit.cli.keeping import keep_batch, print_labels
from labelkit.cli.lots import lot_option, lots_from
from labelkit.cli.order import MixOrder, as_it_was_read, batch_of
from labelkit.cli.params import (
    AMOUNT,
    DENSITY,
    PH,
    WHEN,
    answer,
    in_a_workplace,
    json_option,
)
from labelkit.cli.pouring import stock_option
from labelkit.cli.printable import refuse_without_a_label
from labelkit.cli.state_json import batch_answer
from labelkit.cli.taking import remarks_after
from labelkit.cli.words import filled
from labelkit.cli.workplace import Workplace
from labelkit.mixing.batch import USE_MARKS, Batch, readings_from
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.said import NBSP

__all__ = ["command"]


@click.command("mix")
@click.argument("recipe")
@click.option("--make", type=AMOUNT, help="How much, such as 250mL.")
@lot_option
@swap_option
@stock_option
@click.option(
    "--weighed", multiple=True, metavar="STEP=AMOUNT", help="What the balance read."
)
@click.option("--made-up-to", type=AMOUNT, help="The volume it was really made up to.")
@click.option("--ph", type=PH, help="Measured on the finished solution.")
@click.option("--density", type=DENSITY, help="Measured, such as 1.07g/mL.")
@click.option("--into", metavar="BOTTLES", help='Such as "2x250 mL, 12x10 mL".')
@click.option("--by", default="", help="Who mixed it.")
@click.option("--on", type=WHEN, help="When it was mixed; now if left out.")
@click.option("--use", type=click.Choice(USE_MARKS), help="Who may take it.")
@click.option(
    "--acknowledge", multiple=True, metavar="CODE", help="A deadly remark seen."
)
@json_option
@in_a_workplace
def command(place: Workplace, recipe: str, as_json: bool, **given: Any) -> None:
    """Record what was weighed for RECIPE, keep the batch and print its labels."""
    order = MixOrder(**given)
    place.the_bench()
    batch, handbook = mixed(place, recipe, order, ask=at_a_terminal() and not as_json)
    record = keep_batch(place, batch, handbook)
    for remark in remarks_after(place.shelf, batch):
        click.echo(filled(f"Look out: {remark}".replace(NBSP, " ")), err=True)
    path, told = print_labels(place, record)
    if as_json:
        answer(batch_answer(record, [], place.now))
    click.echo(f"Batch {record.number}: {record.title}", err=as_json)
    click.echo(f"Labels: {path}" if path else told, err=as_json)
    if path and told:
        click.echo(told, err=as_json)


def mixed(
    place: Workplace, recipe: str, order: MixOrder, *, ask: bool
) -> tuple[Batch, Handbook]:
    """The batch as it was mixed: asked for step by step, or as the options tell it."""
    from labelkit.cli.sink import at_the_sink

    read = place.recipe(recipe)
    changed = changed_recipe(place, read, order.make, order.swap, order.stock)
    lots, stocks = lots_from(order.lot, place.catalogue), changed.stocks
    for sentence in changed.said:
        click.echo(f"Changed: {sentence}".replace(NBSP, " "), err=True)
    planned = place.plan(changed.recipe, order.make, lots, on=order.on, stocks=stocks)
    planned = changed.added_to(planned)
    handbook = place.handbook(changed.recipe, lots)
    refuse_without_a_label(place, planned, handbook, order.by)
    if ask:
        batch = at_the_sink(place, planned, handbook, order)
    else:
        readings = readings_from(planned.job, order.weighed, handbook.catalogue)
        plan = as_it_was_read(planned, order, readings, handbook, place.settings)
        batch = batch_of(planned, plan, order, order.acknowledge)
    return replace(batch, plan=changed.added_to(batch.plan)), handbook
