"""The mixing cards of a bench's recipes, worked out for one or several quantities."""

from collections.abc import Sequence
from decimal import Decimal

from labelkit.chemistry.amounts import Amount, parse_amount
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.card_text import card_text
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.words import CardText

__all__ = ["Cards", "card_of", "quantities"]

HALF_ONCE_TWICE = (Decimal("0.5"), Decimal(1), Decimal(2))


class Cards:
    """The cards of a workplace's recipes, as pages ask for them."""

    def __init__(self, place: Workplace) -> None:
        self._place = place

    def names(self) -> Sequence[str]:
        """Every recipe there is, in alphabetical order."""
        return self._place.book.names()

    def card(self, name: str, make: str | None = None) -> CardText:
        """The words of a recipe's card, for ``make`` or half, once and twice."""
        recipe = self._place.book.read(name)
        if make is None:
            return card_of(self._place, recipe, None)
        plan = self._place.plan(recipe, parse_amount(make))
        return card_text([plan], self._place.handbook(recipe), self._place.settings)


def card_of(place: Workplace, recipe: Recipe, make: str | None) -> CardText:
    """The words of a recipe's card, for quantities named or half, once and twice."""
    amounts = quantities(make) if make is not None else _half_once_twice(recipe)
    plans = [place.plan(recipe, amount) for amount in amounts]
    return card_text(plans, place.handbook(recipe), place.settings)


def _half_once_twice(recipe: Recipe) -> list[Amount | None]:
    made = recipe.makes
    return [Amount(made.number * n, made.dimension) for n in HALF_ONCE_TWICE]


def quantities(make: str | None) -> list[Amount | None]:
    """The quantities named, such as ``250mL,1L``; the recipe's own where none is.

    Raises:
        BadInput: one of them is no amount.
    """
    if make is None:
        return [None]
    try:
        return [parse_amount(piece) for piece in make.split(",")]
    except BadInput as error:
        raise error.at("--make") from None
