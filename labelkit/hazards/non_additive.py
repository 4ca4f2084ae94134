"""Ingredients to which adding up does not apply: Annex I, 3.2.3.3.4 and 3.3.3.3.4.

The paragraphs name inorganic salts, phenols, aldehydes, surfactants, acids and bases;
whether one is meant is a chemist's choice, and stands as a flag with the chemical.
"""

from collections.abc import Callable, Iterable
from decimal import Decimal

from labelkit.hazards.additivity import Sum, reached_by
from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import shown
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.verdict import Verdict, merge

__all__ = ["each_alone", "flagged", "if_not_additive", "is_extreme"]


def flagged(mixture: Composition, relevant: Iterable[Ingredient]) -> list[Ingredient]:
    """The relevant ingredients flagged so; a substance by itself is no mixture."""
    if mixture.one_substance:
        return []
    return [i for i in relevant if i.data.non_additive]


def is_extreme(data: HazardData) -> bool:
    """Tables 3.2.4 and 3.3.4, rows 1 and 2.

    An acid of pH 2 or less, a base of 11.5 or more, flagged by a chemist.
    """
    return data.non_additive and bool(data.tags & {"strong-acid", "strong-base"})


def each_alone(
    ingredients: Iterable[Ingredient],
    limit_alone: Callable[[HazardData], Decimal | None],
    target: HazardClass,
    rule: str,
) -> Verdict:
    """The class if one ingredient reaches its limit [% w/w] without any help."""
    limits = ((i, limit_alone(i.data)) for i in ingredients)
    sums = (Sum.of([(i, limit)]) for i, limit in limits if limit is not None)
    return merge(reached_by(one, target, rule) for one in sums if one.reached)


def if_not_additive(
    ingredients: Iterable[Ingredient], limit: Decimal, target: HazardClass, rule: str
) -> tuple[Reason, ...]:
    """What each of them would do if adding up did not apply to it."""
    return tuple(
        Reason(str(target), rule, _without_adding_up(i, limit))
        for i in ingredients
        if i.percent >= limit
    )


def _without_adding_up(ingredient: Ingredient, limit: Decimal) -> str:
    share = f"{ingredient.data.name} {shown(ingredient.percent)} %"
    return f"adding up is used; without it {share} would reach this from {limit} %"
