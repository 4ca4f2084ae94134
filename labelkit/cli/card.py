"""``labelkit card``: mixing cards to hang over the sink or hand to a class."""

from collections.abc import Sequence
from pathlib import Path

import click

from labelkit.cli.card_prints import CardOrder, cards_drawn, laid
from labelkit.cli.cards import card_of, quantities
from labelkit.cli.params import in_a_workplace
from labelkit.cli.pictures import write_pictures
from labelkit.cli.prints import write
from labelkit.cli.weigh_out import weighing_of, weighing_pdf
from labelkit.cli.workplace import Workplace
from labelkit.mixing.recipe import Recipe

__all__ = ["command"]


@click.command("card")
@click.argument("recipes", metavar="RECIPE...", nargs=-1, required=True)
@click.option("--make", help="Quantities, such as 250mL,500mL,1L.")
@click.option("--layout", default="a5", help="The name of a card layout.")
@click.option("--sheet", default="", help="The name of a sheet; else one a page.")
@click.option("--skip", type=click.IntRange(min=0), default=0, help="Slots used up.")
@click.option("--copies", type=click.IntRange(1, 1000), default=1)
@click.option(
    "--flip",
    type=click.Choice(["long", "short"]),
    default="long",
    help="The edge over which the printer turns a sheet.",
)
@click.option(
    "--weigh-out", is_flag=True, help="A sheet to weigh one batch out by, instead."
)
@click.option("--png", is_flag=True, help="A picture of each page beside the PDF.")
@click.option("-o", "out", type=click.Path(dir_okay=False, path_type=Path))
@in_a_workplace
def command(
    place: Workplace,
    recipes: tuple[str, ...],
    make: str | None,
    layout: str,
    sheet: str,
    skip: int,
    copies: int,
    flip: str,
    weigh_out: bool,
    png: bool,
    out: Path | None,
) -> None:
    """Print the mixing card of RECIPE, front and back, or a sheet to weigh out by."""
    read = [place.recipe(name) for name in recipes]
    if weigh_out:
        pdf, slots = _sheets(place, read, make, copies), ""
    else:
        order = CardOrder(layout, sheet, skip, copies, flip)
        pdf, slots = _cards(place, read, make, order)
    path = out or _path(place, read, "weigh-out" if weigh_out else "card")
    write(path, pdf)
    click.echo("\n".join(line for line in (str(path), slots) if line))
    for picture in write_pictures(path, pdf) if png else ():
        click.echo(str(picture))


def _cards(
    place: Workplace, recipes: Sequence[Recipe], make: str | None, order: CardOrder
) -> tuple[bytes, str]:
    """The PDF, and which slots of a sheet it uses."""
    cards = [card_of(place, recipe, make) for recipe in recipes]
    papers = laid(place, cards, order)
    if papers.other:
        sheet = papers.slots.partition(":")[0]
        click.echo(f"{papers.other}laid on {sheet}", err=True)
    return cards_drawn(place, cards, papers), papers.slots


def _sheets(
    place: Workplace, recipes: Sequence[Recipe], make: str | None, copies: int
) -> bytes:
    amounts = quantities(make)
    texts = [
        weighing_of(place, recipe, amount) for recipe in recipes for amount in amounts
    ]
    return weighing_pdf(place, texts * copies)


def _path(place: Workplace, recipes: Sequence[Recipe], what: str) -> Path:
    folder = place.bench.prints if place.bench else Path()
    return folder / f"{'-'.join(recipe.name for recipe in recipes)}-{what}.pdf"
