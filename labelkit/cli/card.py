"""``labelkit card``: mixing cards to hang over the sink or hand to a class."""

from pathlib import Path

import click

from labelkit.cli.cards import card_of
from labelkit.cli.params import in_a_workplace
from labelkit.cli.prints import card_pdf, write
from labelkit.cli.workplace import Workplace

__all__ = ["command"]


@click.command("card")
@click.argument("recipes", metavar="RECIPE...", nargs=-1, required=True)
@click.option("--make", help="Quantities, such as 250mL,500mL,1L.")
@click.option("--layout", default="a5", help="The name of a card layout.")
@click.option("-o", "out", type=click.Path(dir_okay=False, path_type=Path))
@in_a_workplace
def command(
    place: Workplace,
    recipes: tuple[str, ...],
    make: str | None,
    layout: str,
    out: Path | None,
) -> None:
    """Print the mixing card of RECIPE, front and back."""
    read = [place.recipe(name) for name in recipes]
    cards = [card_of(place, recipe, make) for recipe in read]
    pdf = card_pdf(place, cards, layout)
    folder = place.bench.prints if place.bench else Path()
    path = out or folder / f"{'-'.join(recipe.name for recipe in read)}-card.pdf"
    write(path, pdf)
    click.echo(str(path))
