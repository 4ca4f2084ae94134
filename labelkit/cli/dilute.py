"""``labelkit dilute``: by a ratio, or from one strength to another."""

import re
from decimal import Decimal
from typing import Any

import click
from msgspec import Struct

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.ratios import parse_ratio
from labelkit.chemistry.substances import Substance
from labelkit.cli.asking import asked_until_clear
from labelkit.cli.dilute_text import Told, dilution_json, dilution_lines
from labelkit.cli.params import AMOUNT, DENSITY, answer, in_a_workplace, json_option
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.dilution import (
    Liquid,
    dilute_ratio,
    dilute_strength,
    least_stock_mL,
    liquid_of,
    measurable_batches,
    parse_concentration,
)
from labelkit.mixing.recipe import Recipe

__all__ = ["command"]

_STARTS_WITH_NUMBER = re.compile(r"\s*[-−–+.,]?\d")


class Order(Struct, frozen=True):
    """What was asked for."""

    ratio: str | None
    make: Amount | None
    recipe: str | None
    strong: str | None
    weak: str | None
    density_from: Decimal | None
    density_to: Decimal | None
    chemical: str | None
    cylinder: Amount | None
    least: Amount | None


@click.command("dilute")
@click.argument("ratio", required=False)
@click.option("--make", type=AMOUNT, help="How much in all, such as 1L.")
@click.option("--of", "recipe", metavar="RECIPE", help="Names the parts; its ratio.")
@click.option("--from", "strong", metavar="STRENGTH", help='Such as "20 % w/v".')
@click.option("--to", "weak", metavar="STRENGTH", help='Such as "4 % w/v".')
@click.option("--density-from", type=DENSITY, help="Of the strong one: 1.19g/mL.")
@click.option("--density-to", type=DENSITY, help="Of the weak one.")
@click.option("--chemical", help="What is in it: for mol/L, for % v/v, or as --from.")
@click.option(
    "--cylinder", type=AMOUNT, help="One graduation; the bench's if left out."
)
@click.option("--least", type=AMOUNT, help="The stock that one use needs at least.")
@json_option
@in_a_workplace
def command(place: Workplace, as_json: bool, **given: Any) -> None:
    """Dilute by RATIO, such as 1+9, or with --from and --to; --make says how much."""
    told = diluted(place, Order(**given))
    if as_json:
        answer(dilution_json(told))
    else:
        click.echo("\n".join(dilution_lines(told)))


def diluted(place: Workplace, order: Order) -> Told:
    """What to measure, with what a person should know of it.

    Raises:
        BadInput: neither a ratio nor two strengths, or something cannot be read.
    """
    strengths = order.strong is not None or order.weak is not None
    if strengths and order.ratio is not None:
        raise BadInput(
            f"'{order.ratio}' is a ratio, and --from and --to are strengths",
            remedy="Give one or the other.",
        )
    if not strengths and order.ratio is None and order.recipe is None:
        raise _nothing_given()
    if order.make is None:
        raise BadInput(
            "it is not said how much", place="--make", remedy="Write --make 1L."
        )
    graduation_mL = _graduation_mL(place, order)
    if strengths:
        return _by_strength(place, order, order.make, graduation_mL)
    return _by_ratio(place, order, order.make, graduation_mL)


def _by_ratio(
    place: Workplace, order: Order, make: Amount, graduation_mL: Decimal
) -> Told:
    recipe = place.recipe(order.recipe) if order.recipe is not None else None
    use = recipe.use if recipe else None
    if order.ratio is None and not (use and use.ratio):
        raise _nothing_given()
    make_mL = _volume_mL(make, "--make")
    ratio = use.ratio if use else ()
    if order.ratio is not None:
        ratio = parse_ratio(order.ratio)
    parts = _parts(place, recipe, len(ratio)) if recipe else ()
    least_mL = _volume_mL(order.least, "--least") if order.least else None
    if least_mL is None and use is not None:
        least_mL = least_stock_mL(use.capacity)
    return Told(
        dilute_ratio(ratio, make_mL, parts),
        place.settings,
        graduation_mL,
        ratio=ratio,
        least_mL=least_mL,
        least_of=use.capacity.unit
        if use and use.capacity and not order.least
        else "use",
        batches=measurable_batches(ratio, graduation_mL, make_mL),
    )


def _by_strength(
    place: Workplace, order: Order, make: Amount, graduation_mL: Decimal
) -> Told:
    for option, word in (("--from", order.strong), ("--to", order.weak)):
        if word is None and not (option == "--from" and order.chemical):
            raise BadInput(
                "one strength alone is given",
                place=option,
                remedy='Write both, such as --from "20 % w/v" --to "4 % w/v".',
            )
    solute = _chemical(place, order.chemical, "--chemical") if order.chemical else None
    strong = _strong(place, order, solute)
    weak = _liquid(order.weak or "", "--to", order.density_to, strong, solute)
    found = dilute_strength(strong, weak, make)
    return Told(
        found, place.settings, graduation_mL, strong=strong.strength, weak=weak.strength
    )


def _strong(place: Workplace, order: Order, solute: Substance | None) -> Liquid:
    """The strong one: a strength, or a chemical that is sold as a solution."""
    word = order.strong
    if word is None and solute is not None:
        return liquid_of(solute)
    assert word is not None
    if not _STARTS_WITH_NUMBER.match(word):
        return liquid_of(_chemical(place, word, "--from"))
    return _liquid(word, "--from", order.density_from, None, solute)


def _liquid(
    word: str,
    option: str,
    density: Decimal | None,
    strong: Liquid | None,
    solute: Substance | None,
) -> Liquid:
    try:
        strength = parse_concentration(word)
    except BadInput as error:
        raise error.at(option) from None
    molar = solute.molar_mass if solute else strong.molar_mass if strong else None
    pure = None
    if solute and solute.density and solute.percent_by_mass is None:
        pure = solute.density.value
    return Liquid(strength, density, molar, pure)


def _chemical(place: Workplace, word: str, option: str) -> Substance:
    try:
        return asked_until_clear(
            lambda: place.catalogue.find(word, place.choices), place.choices
        )
    except BadInput as error:
        raise error.at(option) from None


def _nothing_given() -> BadInput:
    return BadInput(
        "neither a ratio nor two strengths are given",
        remedy='Write 1+9, or --from "20 % w/v" --to "4 % w/v".',
    )


def _parts(place: Workplace, recipe: Recipe, count: int) -> tuple[str, ...]:
    """What each part of a ratio is called."""
    names = recipe.use.goes_with if recipe.use else ()
    parts = [_part(recipe), *(_part(place.book.read(name)) for name in names), "water"]
    if recipe.use and recipe.use.ratio:
        parts = parts[: len(recipe.use.ratio)]
    if count != len(parts):
        told = " and ".join(parts)
        raise BadInput(
            f"the ratio has {count} parts, and {recipe.name} goes with {told}",
            remedy=f"Write {len(parts)} parts, or leave --of out.",
        )
    return tuple(parts)


def _part(recipe: Recipe) -> str:
    return f"{recipe.part} ({recipe.title})" if recipe.part else recipe.title


def _graduation_mL(place: Workplace, order: Order) -> Decimal:
    if order.cylinder is None:
        return place.settings.cylinder_mL
    return _volume_mL(order.cylinder, "--cylinder")


def _volume_mL(amount: Amount, option: str) -> Decimal:
    if amount.dimension is not Dimension.VOLUME:
        raise BadInput(
            f"'{amount.written}' is not a volume",
            place=option,
            remedy="Write it in mL or L.",
        )
    return amount.number
