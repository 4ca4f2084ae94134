"""Another form in a recipe: the moles stay, the grams and the water do not."""

from collections.abc import Iterator
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.density import WATER_G_PER_ML
from labelkit.chemistry.display import figures
from labelkit.chemistry.reactions import Species, balance
from labelkit.chemistry.substances import Substance
from labelkit.errors import BadInput, NoAnswer
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.dosing import add_water, in_mass, steps_adding, take_water
from labelkit.mixing.forms import Conversion, Exchange, convert
from labelkit.mixing.recipe import Measured, ReactionSpec, Recipe, Step

__all__ = ["Swap", "swapped"]

PURE, ONCE = Decimal(100), Decimal(1)
# Less water than this is not worth a word [mL].
WORTH_TELLING_mL = Decimal("0.05")


class Swap(Struct, frozen=True):
    """One chemical in another's place.

    Attributes:
        factor: grams of the new form for one gram of the old.
        water_g: that it brings more, for the quantity it is told for [g].
        changes: what else is not the same, each a sentence.
    """

    out: str
    into: str
    factor: Decimal
    water_g: Decimal
    changes: tuple[str, ...]


def swapped(
    recipe: Recipe,
    out: Substance,
    into: Substance,
    catalogue: Catalogue,
    exchange: Exchange,
    times: Decimal = ONCE,
) -> tuple[Recipe, Swap]:
    """The recipe with ``into`` wherever it has ``out``, mole for mole of the parent.

    The reactions follow; crystal water that comes along comes off the water steps, last
    to first, and water that is missing goes onto the last of them.

    Args:
        recipe: as read.
        out: the form the recipe has.
        into: the form that is used.
        catalogue: the chemicals.
        exchange: what may stand in for what.
        times: the recipe's quantity that figures are told for.

    Raises:
        BadInput: the recipe does not add ``out``, or both are the same.
        NoAnswer: one may not stand in for the other; the reason is told.
    """
    if out.id == into.id:
        raise BadInput(
            f"{out.id} is swapped for itself",
            place="--swap",
            remedy="Name the form the recipe has, then the one in the jar.",
        )
    steps = steps_adding(recipe, out.id, "--swap")
    _refuse_a_route(out, into, exchange)
    given = [convert(out, into, _pure_g(s, catalogue), exchange) for s in steps]
    new = dict(zip((s.number for s in steps), given, strict=True))
    changed = replace(
        recipe,
        steps=tuple(
            _step(step, new[step.number]) if step.number in new else step
            for step in recipe.steps
        ),
        reactions=_reactions(recipe, out, into, catalogue),
        strength_of=_strength_of(recipe, out, into),
        measured=recipe.measured if out.parent == into.parent else Measured(),
    )
    water_g = sum((c.water_g for c in given), Decimal(0))
    watered, said = _watered(changed, recipe, water_g, catalogue, times)
    told = Swap(
        out.id,
        into.id,
        given[0].factor,
        water_g * times,
        (
            _sentence(out, into, given[0]),
            *given[0].changes,
            *_measured_again(recipe, out, into),
            *said,
        ),
    )
    note = f"{recipe.note} {told.changes[0]}".strip()
    return replace(watered, note=note), told


def _pure_g(step: Step, catalogue: Catalogue) -> Decimal:
    return in_mass(step, catalogue) * (step.assay_percent or PURE) / PURE


def _step(step: Step, conversion: Conversion) -> Step:
    """The step with the new form, its amount that of the exact form."""
    dimension, number = Dimension.MASS, conversion.g_to
    if conversion.mL_to is not None and step.amount is not None:
        poured = step.amount.dimension is Dimension.VOLUME
        if poured:
            dimension, number = Dimension.VOLUME, conversion.mL_to
    unit = "g" if dimension is Dimension.MASS else "mL"
    amount = Amount(number, dimension, f"{figures(number, 4)} {unit}")
    return replace(
        step, add=conversion.target_form.id, amount=amount, assay_percent=None
    )


def _watered(
    changed: Recipe,
    recipe: Recipe,
    water_g: Decimal,
    catalogue: Catalogue,
    times: Decimal,
) -> tuple[Recipe, tuple[str, ...]]:
    volume_mL = water_g / WATER_G_PER_ML
    if recipe.makes.dimension is Dimension.MASS:
        return _heavier(changed, recipe, catalogue), ()
    if abs(volume_mL) < WORTH_TELLING_mL:
        return changed, ()
    if volume_mL > 0:
        return take_water(changed, volume_mL, catalogue, times)
    return add_water(changed, -volume_mL, times)


def _heavier(changed: Recipe, recipe: Recipe, catalogue: Catalogue) -> Recipe:
    """A dry mixture makes as much more or less as its parts now weigh."""
    more_g = _added_g(changed, catalogue) - _added_g(recipe, catalogue)
    number = recipe.makes.number + more_g
    makes = replace(recipe.makes, number=number, written=f"{figures(number, 4)} g")
    return replace(changed, makes=makes)


def _added_g(recipe: Recipe, catalogue: Catalogue) -> Decimal:
    return sum(
        (
            in_mass(step, catalogue)
            for step in recipe.steps
            if step.add and step.add in catalogue
        ),
        Decimal(0),
    )


def _measured_again(recipe: Recipe, out: Substance, into: Substance) -> Iterator[str]:
    if out.parent != into.parent and recipe.measured != Measured():
        yield f"What was measured was measured with {out.name}: measure it again."


def _strength_of(recipe: Recipe, out: Substance, into: Substance) -> str | None:
    """Where the strength was told in what is gone, it is told in what came."""
    if recipe.strength_of == out.id and out.parent != into.parent:
        return into.id
    return recipe.strength_of


def _refuse_a_route(out: Substance, into: Substance, exchange: Exchange) -> None:
    note = exchange.note_on(out.id, into.id)
    if note is not None and not note.swaps:
        raise NoAnswer(
            f"{into.name} does not simply take the place of {out.name}: {note.says}",
            place="--swap",
            remedy=note.instead,
        )


def _reactions(
    recipe: Recipe, out: Substance, into: Substance, catalogue: Catalogue
) -> tuple[ReactionSpec, ...]:
    return tuple(
        _balanced(spec, out, into, catalogue)
        if out.id in (*spec.reactants, *spec.products)
        else spec
        for spec in recipe.reactions
    )


def _balanced(
    spec: ReactionSpec, out: Substance, into: Substance, catalogue: Catalogue
) -> ReactionSpec:
    """The reaction with the new form; what is formed follows where it must.

    Raises:
        NoAnswer: nothing that is known takes up what the new form brings.
    """
    renamed = ReactionSpec(
        _with(spec.reactants, out, into), _with(spec.products, out, into)
    )
    for tried in (renamed, *_other_products(renamed, catalogue)):
        if _balances(tried, catalogue):
            return tried
    raise NoAnswer(
        f"with {into.name} the reaction to {', '.join(spec.products)} does not balance",
        place="--swap",
        remedy="Write a recipe that names what is formed then.",
    )


def _with(ids: tuple[str, ...], out: Substance, into: Substance) -> tuple[str, ...]:
    return tuple(into.id if chemical == out.id else chemical for chemical in ids)


def _other_products(spec: ReactionSpec, catalogue: Catalogue) -> Iterator[ReactionSpec]:
    """The same with a sister of a product in its place, then beside it."""
    for product in spec.products:
        parent = catalogue.substance(product).parent
        sisters = [
            s.id
            for s in catalogue.substances
            if s.parent == parent and s.id != product and s.formula
        ]
        for sister in sisters:
            instead = tuple(sister if p == product else p for p in spec.products)
            yield ReactionSpec(spec.reactants, instead)
        for sister in sisters:
            yield ReactionSpec(spec.reactants, (*spec.products, sister))


def _balances(spec: ReactionSpec, catalogue: Catalogue) -> bool:
    sides = [
        [Species(c, catalogue.substance(c).formula or "") for c in side]
        for side in (spec.reactants, spec.products)
    ]
    if not all(species.formula for side in sides for species in side):
        return False
    try:
        balance(sides[0], sides[1])
    except BadInput:
        return False
    return True


def _sentence(out: Substance, into: Substance, conversion: Conversion) -> str:
    name = f"{into.name[:1].upper()}{into.name[1:]}"
    return f"{name} for {out.name}: {figures(conversion.factor, 4)} g for each gram."
