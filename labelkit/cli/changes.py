"""``--swap A=B`` and ``--stock NAME=BATCH``: a recipe with what is really at hand."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

import click
from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount
from labelkit.cli.pouring import Bottle, bottle_from, stock_words
from labelkit.cli.workplace import Workplace
from labelkit.errors import Ambiguous, BadInput
from labelkit.mixing.answers import number
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check
from labelkit.mixing.doses import Stock, scaling
from labelkit.mixing.dosing import Dosed, dosed
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.said import NBSP
from labelkit.mixing.swapping import Swap, swapped

__all__ = ["Changed", "changed_recipe", "swap_option"]

swap_option = click.option(
    "--swap", multiple=True, metavar="A=B", help="Use form B where the recipe has A."
)


class Changed(Struct, frozen=True):
    """A recipe as it is mixed with what is at hand.

    Attributes:
        stocks: the bottles it takes, by recipe name.
        checks: what is to be said of those bottles.
        reserved: of each that is not for everyone to pour from, a sentence.
    """

    recipe: Recipe
    stocks: Mapping[str, Stock]
    swaps: tuple[Swap, ...] = ()
    doses: tuple[Dosed, ...] = ()
    checks: tuple[Check, ...] = ()
    reserved: tuple[str, ...] = ()

    @property
    def said(self) -> tuple[str, ...]:
        """Every change in a sentence."""
        swapped_in = [sentence for swap in self.swaps for sentence in swap.changes]
        poured = [sentence for dose in self.doses for sentence in dose.changes]
        return (*swapped_in, *poured)

    def added_to(self, plan: Plan) -> Plan:
        """The plan with what is to be said of the bottles it takes."""
        return replace(plan, checks=(*plan.checks, *self.checks))

    def as_json(self) -> dict[str, Any]:
        """What was changed, as JSON; nothing where nothing was."""
        told: dict[str, Any] = {}
        if self.swaps:
            told["swaps"] = [_swap_json(swap) for swap in self.swaps]
        if self.doses:
            told["stocks"] = [_dose_json(dose) for dose in self.doses]
        return told


def changed_recipe(
    place: Workplace,
    recipe: Recipe,
    make: Amount | None,
    swap: Sequence[str],
    stock: Sequence[str],
) -> Changed:
    """The recipe with other forms and bottles in the place of what it names.

    Args:
        place: for the chemicals and the shelf.
        recipe: as read.
        make: the quantity that the changes are told for.
        swap: each ``A=B``.
        stock: each ``NAME=BATCH``.

    Raises:
        BadInput: a word cannot be read, or names what the recipe does not take.
        NoAnswer: one form may not stand in for the other, or a bottle is too weak.
    """
    catalogue = place.catalogue.with_own(recipe.own_chemicals)
    times = scaling(recipe, make) if make else Decimal(1)
    swaps: list[Swap] = []
    for word in swap:
        out, into = _sides(word, recipe, catalogue)
        recipe, told = swapped(
            recipe, catalogue.substance(out), catalogue.substance(into),
            catalogue, place.exchange, times,
        )  # fmt: skip
        swaps.append(told)
    return _with_bottles(place, recipe, stock, tuple(swaps), times)


def _with_bottles(
    place: Workplace,
    recipe: Recipe,
    words: Sequence[str],
    swaps: tuple[Swap, ...],
    times: Decimal,
) -> Changed:
    stocks: dict[str, Stock] = {}
    doses: list[Dosed] = []
    checks: list[Check] = []
    reserved: list[str] = []
    for name, batch in stock_words(words):
        bottle = bottle_from(batch, place)
        stock = bottle.stock
        if stock.name in stocks:
            raise _two_bottles(stock, stocks[stock.name])
        if _takes(recipe, name) or name == stock.name:
            bottle.refuse_another(name)
        else:
            recipe, dose = _dose(place, recipe, name, bottle, times)
            doses.append(dose)
        stocks[stock.name] = stock
        checks += bottle.checks(recipe)
        if bottle.reserved:
            reserved.append(bottle.reserved)
    if swaps or doses:
        recipe = _documented(recipe)
    return Changed(recipe, stocks, swaps, tuple(doses), tuple(checks), tuple(reserved))


def _dose(
    place: Workplace, recipe: Recipe, name: str, bottle: Bottle, times: Decimal
) -> tuple[Recipe, Dosed]:
    """The recipe dosed from a bottle, with the chemicals that only the bottle knows."""
    catalogue = place.catalogue.with_own(recipe.own_chemicals)
    unknown = [e for e in bottle.chemicals if e.substance.id not in catalogue]
    recipe = replace(recipe, own_chemicals=(*recipe.own_chemicals, *unknown))
    catalogue = catalogue.with_own(unknown)
    wanted = catalogue.substance(_meant(name, recipe, catalogue, "--stock"))
    return dosed(recipe, wanted, bottle.stock, catalogue, times)


def _sides(word: str, recipe: Recipe, catalogue: Catalogue) -> tuple[str, str]:
    out, equals, into = word.partition("=")
    if not equals:
        raise BadInput(
            f"'{word}' has no '='",
            place="--swap",
            remedy="Write A=B, such as borax-decahydrate=borax-pentahydrate.",
        )
    try:
        target = catalogue.find(into).id
    except BadInput as error:
        raise error.at("--swap") from None
    return _meant(out, recipe, catalogue, "--swap"), target


def _meant(word: str, recipe: Recipe, catalogue: Catalogue, place: str) -> str:
    """The chemical a word means; of several forms the one the recipe adds."""
    try:
        return catalogue.find(word).id
    except Ambiguous as unclear:
        added = {step.add for step in recipe.steps}
        meant = [form for form in unclear.forms if form in added]
        if len(meant) == 1:
            return meant[0]
        raise unclear.at(place) from None
    except BadInput as error:
        raise error.at(place) from None


def _takes(recipe: Recipe, name: str) -> bool:
    return any(step.recipe == name for step in recipe.steps)


def _documented(recipe: Recipe) -> Recipe:
    """The recipe with the text that reads back to it as it is now."""
    from labelkit.files.recipe_text import recipe_as_toml

    return replace(recipe, document=recipe_as_toml(recipe))


def _two_bottles(one: Stock, other: Stock) -> BadInput:
    return BadInput(
        f"two bottles of {one.name}: {other.batch} and {one.batch}",
        place="--stock",
        remedy="Name one bottle of each recipe.",
    )


def _swap_json(swap: Swap) -> dict[str, Any]:
    return {
        "from": swap.out,
        "to": swap.into,
        "factor": number(swap.factor),
        "water_g": number(swap.water_g),
        "changes": [_plain(change) for change in swap.changes],
    }


def _dose_json(dose: Dosed) -> dict[str, Any]:
    return {
        "chemical": dose.chemical,
        "batch": dose.batch,
        "mL": number(dose.volume_mL),
        "mL_per_g": number(dose.mL_per_g),
        "changes": [_plain(change) for change in dose.changes],
    }


def _plain(sentence: str) -> str:
    return sentence.replace(NBSP, " ")
