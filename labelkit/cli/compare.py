"""``labelkit compare``: versions of one recipe side by side, with a verdict."""

import click

from labelkit.cli.compare_text import comparison_json, comparison_lines
from labelkit.cli.params import answer, in_a_workplace, json_option
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.comparing import Comparison, compare
from labelkit.mixing.recipe import Recipe

__all__ = ["command"]


@click.command("compare")
@click.argument("recipes", nargs=-1, metavar="RECIPE RECIPE...")
@json_option
@in_a_workplace
def command(place: Workplace, recipes: tuple[str, ...], as_json: bool) -> None:
    """Set versions of one recipe side by side, per litre, each through its reaction."""
    comparison, catalogue = compared(place, [place.recipe(word) for word in recipes])
    if as_json:
        answer(comparison_json(comparison, catalogue))
    else:
        click.echo("\n".join(comparison_lines(comparison, catalogue)))


def compared(place: Workplace, recipes: list[Recipe]) -> tuple[Comparison, Catalogue]:
    """The recipes compared, and the chemicals of all of them.

    Raises:
        BadInput: fewer than two, two of one name, or a dry mixture.
    """
    if len(recipes) < 2:
        raise BadInput(
            f"{len(recipes)} recipe cannot be compared"
            if recipes
            else "no recipe is named",
            remedy="Name two or more.",
        )
    names = [recipe.name for recipe in recipes]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise BadInput(
            f"two of them are called {twice}",
            remedy="Give each file a name of its own.",
        )
    catalogue = place.catalogue
    for recipe in recipes:
        catalogue = catalogue.with_own(recipe.own_chemicals)
    plans = [place.plan(recipe) for recipe in recipes]
    return compare(plans, place.plan, catalogue), catalogue
