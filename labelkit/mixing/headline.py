"""The headline of a label or card: what a hand at the sink needs to know."""

from collections.abc import Mapping
from decimal import Decimal

from labelkit.chemistry.display import figures, plain, show_amount
from labelkit.chemistry.weighing import COVERAGE, headline_figures
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER, Dose
from labelkit.mixing.recipe import Recipe, Use
from labelkit.mixing.solution import Strength
from labelkit.mixing.words import Headline, PartMark, Scale

__all__ = ["headline_for", "part_mark", "rounded_equivalence", "split_hydrate"]

# 1 g may take at most this share of the bottle; otherwise a tenth of it is told.
LARGEST_SHARE_OF_BOTTLE = Decimal(1) / 3


def headline_for(
    recipe: Recipe,
    strength: Strength | None,
    relative_u: float | None,
    bottle_mL: Decimal | None,
    doses: tuple[Dose, ...],
    catalogue: Catalogue,
    parts: Mapping[str, str],
) -> Headline:
    """The headline of ``recipe``.

    Args:
        recipe: its own ``headline`` wins; else a dry mixture, the equivalence, the
            ratio of use, or use as it is.
        strength: of the finished solution.
        relative_u: standard uncertainty of the strength, as a share of it.
        bottle_mL: what the bottle holds [mL].
        doses: for the volumes of a working bath.
        catalogue: the chemicals.
        parts: what the other recipes of a set are called, by recipe name.
    """
    kind = recipe.headline or _kind(recipe, strength)
    if kind == "equivalence" and strength and strength.mL_per_g:
        return _equivalence(recipe, strength, relative_u, bottle_mL, catalogue)
    if kind == "dilution" and recipe.use and recipe.use.ratio:
        return _dilution(recipe, recipe.use, doses, parts)
    if kind == "dry" and recipe.use and recipe.use.makes:
        return Headline("dry", f"Bag makes {show_amount(recipe.use.makes)}")
    return Headline("ready", "USE AS IS")


def part_mark(recipe: Recipe, parts: Mapping[str, str]) -> PartMark | None:
    """The mark of a part of a set, with what it goes with and the ratio."""
    if not recipe.part:
        return None
    use = recipe.use or Use()
    others = " and ".join(parts.get(name, name) for name in use.goes_with)
    return PartMark(recipe.part, others, ratio_text(use.ratio))


def split_hydrate(name: str) -> tuple[str, str]:
    """A chemical's name and, apart, the word that tells its water."""
    *front, last = name.split(" ")
    if front and (last.endswith("hydrate") or last == "anhydrous"):
        return " ".join(front).removesuffix(","), last
    return name, ""


def ratio_text(ratio: tuple[Decimal, ...]) -> str:
    """``1 + 1 + 100``; "" for no ratio."""
    return " + ".join(plain(number) for number in ratio)


def rounded_equivalence(mL: Decimal, relative_u: float | None) -> str:
    """Millilitres as they are told: two figures, three where they are known so well.

    A third figure is also told where two would move the value further than its
    expanded uncertainty (k = 2; JCGM 100:2008, 6.2), so that 105 mL are never told as
    110 mL.
    """
    told = figures(mL, headline_figures(relative_u))
    moved = float(abs(Decimal(told) - mL) / mL)
    honest = relative_u is None or moved <= COVERAGE * relative_u
    return told if honest else figures(mL, 3)


def _kind(recipe: Recipe, strength: Strength | None) -> str:
    use = recipe.use
    if use and use.makes:
        return "dry"
    if strength and strength.mL_per_g:
        return "equivalence"
    return "dilution" if use and use.ratio else "ready"


def _equivalence(
    recipe: Recipe,
    strength: Strength,
    relative_u: float | None,
    bottle_mL: Decimal | None,
    catalogue: Catalogue,
) -> Headline:
    assert strength.mL_per_g is not None
    grams, mL = Decimal(1), strength.mL_per_g
    while bottle_mL and mL > bottle_mL * LARGEST_SHARE_OF_BOTTLE:
        grams, mL = grams / 10, mL / 10
    substance, hydrate = split_hydrate(catalogue.substance(strength.of).name)
    return Headline(
        "equivalence",
        f"{rounded_equivalence(mL, relative_u)} mL = {plain(grams)} g",
        substance,
        hydrate,
        beside=ratio_text(recipe.use.ratio) if recipe.use and not recipe.part else "",
        scale=Scale(strength.mL_per_g),
    )


def _dilution(
    recipe: Recipe, use: Use, doses: tuple[Dose, ...], parts: Mapping[str, str]
) -> Headline:
    others = [parts.get(name, name) for name in use.goes_with]
    made_here = _is_working_bath(recipe, use)
    itself = [] if made_here else [recipe.part or _as_common_noun(recipe.title)]
    terms = [*itself, *others, "water"][: len(use.ratio)]
    volumes = _volumes(doses) if made_here else ""
    return Headline(
        "dilution", ratio_text(use.ratio), " + ".join(terms), beside=volumes
    )


def _is_working_bath(recipe: Recipe, use: Use) -> bool:
    poured = {step.recipe for step in recipe.steps if step.recipe}
    return bool(use.goes_with) and set(use.goes_with) <= poured


def _volumes(doses: tuple[Dose, ...]) -> str:
    solutions = [d.volume_mL for d in doses if d.chemical != WATER and d.volume_mL]
    water = sum(
        (d.volume_mL for d in doses if d.chemical == WATER and d.volume_mL), Decimal(0)
    )
    told = [figures(mL, 3) for mL in (*solutions, *([water] if water else []))]
    return f"{' + '.join(told)} mL"


def _as_common_noun(title: str) -> str:
    first, _, rest = title.partition(" ")
    lowered = first if first.isupper() else first.lower()
    return f"{lowered} {rest}".strip()
