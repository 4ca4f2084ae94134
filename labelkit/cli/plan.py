"""``labelkit plan``: a recipe worked out."""

from collections.abc import Sequence

import click

from labelkit.chemistry.amounts import Amount
from labelkit.cli.lots import lot_option, lots_from
from labelkit.cli.params import AMOUNT, answer, in_a_workplace, json_option
from labelkit.cli.plan_text import plan_as_text
from labelkit.cli.workplace import Workplace
from labelkit.errors import NoAnswer
from labelkit.mixing.answers import plan_json
from labelkit.mixing.batch import unacknowledged
from labelkit.mixing.hazard_text import hazard_text
from labelkit.mixing.plan import Plan

__all__ = ["command"]


@click.command("plan")
@click.argument("recipe")
@click.option("--make", type=AMOUNT, help="How much, such as 250mL.")
@lot_option
@json_option
@in_a_workplace
def command(
    place: Workplace,
    recipe: str,
    make: Amount | None,
    lot: Sequence[str],
    as_json: bool,
) -> None:
    """Work RECIPE out: what to weigh, what comes out, what to beware of."""
    plan = place.plan(place.recipe(recipe), make, lots_from(lot, place.catalogue))
    catalogue = place.handbook(plan.recipe).catalogue
    if as_json:
        answer(plan_json(plan, catalogue, place.settings))
    else:
        words = hazard_text(plan.hazard, place.handbook(plan.recipe), place.settings)
        click.echo(plan_as_text(plan, words, catalogue, place.settings))
    _refuse_the_deadly(plan)


def _refuse_the_deadly(plan: Plan) -> None:
    stops = unacknowledged(plan, ())
    if stops:
        codes = ", ".join(dict.fromkeys(check.code for check in stops))
        raise NoAnswer(
            f"this can kill or maim: {codes}",
            remedy="Change the recipe; 'mix' records it only with --acknowledge.",
        )
