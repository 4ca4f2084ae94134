"""``labelkit plan``: a recipe worked out."""

from collections.abc import Sequence

import click
from msgspec.structs import asdict

from labelkit.chemistry.amounts import Amount
from labelkit.cli.changes import changed_recipe, swap_option
from labelkit.cli.lots import lot_option, lots_from
from labelkit.cli.params import AMOUNT, answer, in_a_workplace, json_option
from labelkit.cli.plan_text import plan_as_text
from labelkit.cli.pouring import stock_option
from labelkit.cli.why_text import why_as_text
from labelkit.cli.words import filled
from labelkit.cli.workplace import Workplace
from labelkit.errors import NoAnswer
from labelkit.mixing.answers import plan_json
from labelkit.mixing.batch import unacknowledged
from labelkit.mixing.plan import Plan
from labelkit.mixing.why import why as trace_plan

__all__ = ["command", "refuse_the_deadly"]


@click.command("plan")
@click.argument("recipe")
@click.option("--make", type=AMOUNT, help="How much, such as 250mL.")
@lot_option
@swap_option
@stock_option
@click.option("--why", is_flag=True, help="Trace every figure to its source.")
@json_option
@in_a_workplace
def command(
    place: Workplace,
    recipe: str,
    make: Amount | None,
    lot: Sequence[str],
    swap: Sequence[str],
    stock: Sequence[str],
    why: bool,
    as_json: bool,
) -> None:
    """Work RECIPE out: what to weigh, what comes out, what to beware of."""
    changed = changed_recipe(place, place.recipe(recipe), make, swap, stock)
    lots = lots_from(lot, place.catalogue)
    plan = place.plan(changed.recipe, make, lots, stocks=changed.stocks)
    plan = changed.added_to(plan)
    handbook, settings = place.handbook(plan.recipe, lots), place.settings
    traces = trace_plan(plan, handbook, settings) if why else ()
    if as_json:
        data = plan_json(plan, settings) | changed.as_json()
        answer(data | ({"why": [asdict(trace) for trace in traces]} if why else {}))
    else:
        told = plan_as_text(plan, handbook, settings, changed.said)
        click.echo("\n\n".join([told, *([why_as_text(traces)] if why else [])]))
    for remark in changed.reserved:
        click.echo(filled(f"Look out: {remark}"), err=True)
    refuse_the_deadly(plan)


def refuse_the_deadly(plan: Plan) -> None:
    """Answer no where a remark nobody has acknowledged is deadly.

    Raises:
        NoAnswer: one is; its code is told.
    """
    stops = unacknowledged(plan, ())
    if stops:
        codes = ", ".join(dict.fromkeys(check.code for check in stops))
        raise NoAnswer(
            f"this can kill or maim: {codes}",
            remedy="Change the recipe; 'mix' records it only with --acknowledge.",
        )
