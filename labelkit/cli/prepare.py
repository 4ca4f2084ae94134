"""``labelkit prepare``: a chemical made in solution by a vetted route."""

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import click
from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount
from labelkit.chemistry.substances import Substance
from labelkit.cli.asking import asked_until_clear
from labelkit.cli.lots import lot_option, lots_from
from labelkit.cli.params import (
    AMOUNT,
    GRAMS,
    STRENGTH,
    answer,
    in_a_workplace,
    json_option,
)
from labelkit.cli.plan import refuse_the_deadly
from labelkit.cli.plan_text import plan_as_text
from labelkit.cli.prepare_text import route_json, route_lines
from labelkit.cli.prints import write
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, ShelfError
from labelkit.mixing.answers import plan_json
from labelkit.mixing.dilution import Concentration
from labelkit.mixing.preparing import Prepared, prepare
from labelkit.mixing.routes import Chosen, choose
from labelkit.mixing.sizing import Wanted, sized

__all__ = ["command"]

# Amounts in a saved recipe: more than a balance reads, not more than a hand copies.
FIGURES = 5


class Order(Struct, frozen=True):
    """What was asked for with options."""

    given: str | None
    make: Amount | None
    grams: Decimal | None
    each: Amount | None
    strength: Concentration | None
    lot: tuple[str, ...]


@click.command("prepare")
@click.argument("chemical")
@click.option("--from", "given", metavar="A,B", help="What to make it from.")
@click.option("--make", type=AMOUNT, help="How much solution, such as 500mL.")
@click.option("--grams", type=GRAMS, help="How much of the chemical is to be in it.")
@click.option("--each", type=AMOUNT, help="The volume that is to carry 1 g: 20mL.")
@click.option("--strength", type=STRENGTH, help='In place of --each: "5 % w/v".')
@click.option("--save", type=click.Path(path_type=Path), help="Write the recipe here.")
@lot_option
@json_option
@in_a_workplace
def command(
    place: Workplace, chemical: str, save: Path | None, as_json: bool, **given: Any
) -> None:
    """Make CHEMICAL in solution; give two of --make, --grams, --each or --strength."""
    found = prepared(place, chemical, Order(**given))
    if as_json:
        answer(_as_json(place, found))
    else:
        click.echo(_as_text(place, found))
    if save is not None:
        _save(found, save)
    refuse_the_deadly(found.plan)


def prepared(place: Workplace, chemical: str, order: Order) -> Prepared:
    """The route worked out for what was asked.

    Raises:
        NoAnswer: no route makes it, or it does not dissolve.
        BadInput: an unknown chemical, or not two of the sizes.
    """
    catalogue = place.catalogue
    product = _form(place, chemical, "")
    wanted = Wanted(order.make, order.grams, order.each, order.strength)
    size = sized(wanted, product)
    chosen = _chosen(place, product.id, order.given)
    lots = lots_from(order.lot, catalogue)
    return prepare(
        chosen,
        size.product_g,
        size.volume_mL,
        planner=lambda recipe: place.plan(recipe, None, lots),
        catalogue=catalogue,
        exchange=place.exchange,
        assays=place.assays(lots),
    )


def _chosen(place: Workplace, product: str, given: str | None) -> Chosen:
    from labelkit.files.routes import read_routes

    catalogue, words = place.catalogue, _words(given)
    forms = [_form(place, word, "--from") for word in words]
    jars = [jar.chemical for jar in place.jars]
    return choose(catalogue.substance(product), forms, jars, read_routes(), catalogue)


def _form(place: Workplace, word: str, where: str) -> Substance:
    try:
        return asked_until_clear(
            lambda: place.catalogue.find(word, place.choices), place.choices
        )
    except BadInput as error:
        raise error.at(where) from None


def _words(given: str | None) -> Sequence[str]:
    if given is None:
        return ()
    words = [word.strip() for word in given.split(",")]
    if not all(words):
        raise BadInput(
            f"'{given}' names nothing between two commas",
            place="--from",
            remedy="Write it like borax-decahydrate,sodium-hydroxide.",
        )
    return words


def _as_json(place: Workplace, found: Prepared) -> dict[str, Any]:
    told = plan_json(found.plan, place.settings)
    return told | {"route": route_json(found)}


def _as_text(place: Workplace, found: Prepared) -> str:
    handbook = place.handbook(found.plan.recipe)
    plan = plan_as_text(found.plan, handbook, place.settings)
    route = "\n".join(route_lines(found, handbook.catalogue, place.settings))
    head, _, rest = plan.partition("\n\nHolds")
    return f"{head}\n\n{route}\n\nHolds{rest}"


def _save(found: Prepared, path: Path) -> None:
    """Write the recipe, never over another file."""
    from labelkit.files.recipe_text import recipe_as_toml

    if path.suffix != ".toml":
        path = path.with_name(f"{path.name}.toml")
    if path.exists():
        raise ShelfError(
            "is there already", place=str(path), remedy="Name another file with --save."
        )
    recipe = replace(found.plan.recipe, name=path.name.removesuffix(".toml"))
    write(path, recipe_as_toml(recipe, FIGURES).encode())
    click.echo(f"Recipe: {path}", err=True)
