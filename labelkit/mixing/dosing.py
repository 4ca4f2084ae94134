"""Dosing from a bottle on the shelf, and the water that comes off a recipe for it."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.density import WATER_G_PER_ML, Dissolved
from labelkit.chemistry.display import figures, plain
from labelkit.chemistry.substances import State, Substance
from labelkit.errors import BadInput, NoAnswer
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER, Stock
from labelkit.mixing.recipe import ReactionSpec, Recipe, Step
from labelkit.mixing.said import NBSP
from labelkit.mixing.solution import strength_mass_g

__all__ = [
    "Dosed",
    "add_water",
    "dosed",
    "grams_of",
    "in_mass",
    "steps_adding",
    "take_water",
]

PURE = Decimal(100)
NOTHING, ONCE = Decimal(0), Decimal(1)
# Water in which these dissolve keeps them from boiling up: a side vessel keeps it.
HEATING = frozenset({"strong-base", "strong-acid", "dehydrating"})
WATER_GONE = "No water here: what is poured instead brings it."


class Dosed(Struct, frozen=True):
    """A solid that is taken from a bottle instead.

    Attributes:
        volume_mL: of the bottle's solution, for the quantity it is told for [mL].
        mL_per_g: of the bottle's solution [mL/g].
        changes: what else is not the same, each a sentence.
    """

    chemical: str
    batch: str
    volume_mL: Decimal
    mL_per_g: Decimal
    changes: tuple[str, ...]


def dosed(
    recipe: Recipe,
    wanted: Substance,
    stock: Stock,
    catalogue: Catalogue,
    times: Decimal = ONCE,
) -> tuple[Recipe, Dosed]:
    """The recipe with every step of ``wanted`` poured from ``stock`` instead.

    Each is dosed so that the mass of the wanted form is met, at the real strength of
    the bottle; the volume comes off the recipe's water.

    Args:
        recipe: as read.
        wanted: the chemical, in the form the recipe names.
        stock: the bottle.
        catalogue: the chemicals.
        times: the recipe's quantity that figures are told for.

    Raises:
        BadInput: no step adds it, or the bottle does not hold it.
        NoAnswer: the recipe has not so much water; the strength that would fit is told.
    """
    steps = steps_adding(recipe, wanted.id, "--stock")
    mL_per_g = _mL_per_g(wanted, stock, catalogue)
    needed_g = sum((_wanted_g(step, catalogue) for step in steps), NOTHING)
    volume_mL = needed_g * mL_per_g
    room_mL = _water_mL(recipe) + _room_to_fill(recipe, catalogue)
    if volume_mL > room_mL:
        scaled = (needed_g * times, volume_mL * times, room_mL * times)
        raise _too_weak(wanted, stock, *scaled)
    poured = replace(
        recipe,
        steps=tuple(
            _poured(step, stock, mL_per_g, catalogue) if step in steps else step
            for step in recipe.steps
        ),
        reactions=_renamed(recipe.reactions, wanted, stock, catalogue),
    )
    lighter, said = take_water(poured, volume_mL, catalogue, times)
    whence = f"{_capital(wanted.name)} from bottle {stock.batch} ({stock.title})"
    dose = (
        f"{whence}: {figures(volume_mL * times, 3)}{NBSP}mL carry the "
        f"{figures(needed_g * times, 3)}{NBSP}g."
    )
    told = Dosed(wanted.id, stock.batch, volume_mL * times, mL_per_g, (dose, *said))
    return replace(lighter, note=f"{recipe.note} {whence}.".strip()), told


def steps_adding(recipe: Recipe, chemical: str, place: str) -> tuple[Step, ...]:
    """The steps that add a chemical.

    Raises:
        BadInput: there is none; what the recipe adds is listed.
    """
    steps = tuple(step for step in recipe.steps if step.add == chemical)
    if not steps:
        added = dict.fromkeys(
            s.add for s in recipe.steps if s.add and s.add != WATER and not s.recipe
        )
        raise BadInput(
            f"no step of {recipe.name} adds {chemical}",
            place=place,
            remedy=f"It adds: {', '.join(added) or 'nothing but solutions'}.",
        )
    return steps


def in_mass(step: Step, catalogue: Catalogue) -> Decimal:
    """Grams that a step takes as it is written [g].

    Raises:
        BadInput: it is poured, and the chemical has no density.
    """
    assert step.amount is not None and step.add is not None
    try:
        return grams_of(step.amount, catalogue.substance(step.add))
    except BadInput as error:
        raise error.at(f"step {step.number}, amount") from None


def grams_of(amount: Amount, form: Substance) -> Decimal:
    """Grams of an amount of a chemical, through the density where it is poured [g].

    Raises:
        BadInput: it is a volume of a solid, or of a liquid without a density.
    """
    if amount.dimension is Dimension.MASS:
        return amount.number
    if form.state is State.SOLID:
        raise BadInput(
            f"'{amount.written}' of {form.id}: how much a volume of a solid weighs "
            "depends on how finely it lies",
            remedy="Weigh it, and write the amount in g.",
        )
    if form.density is None:
        raise BadInput(
            f"{form.id} has no density, so mL cannot be turned into grams",
            remedy="Write the amount in g, or give the chemical a density.",
        )
    return amount.number * form.density.value


def take_water(
    recipe: Recipe, volume_mL: Decimal, catalogue: Catalogue, times: Decimal = ONCE
) -> tuple[Recipe, tuple[str, ...]]:
    """The recipe with so much less water [mL], taken off its steps, last to first.

    Water in which a lye or strong acid dissolves in a vessel of its own stays. What the
    steps do not hold is left to the filling up.
    """
    steps, said = list(recipe.steps), list[str]()
    left_mL = volume_mL
    for place in reversed(range(len(steps))):
        step = steps[place]
        if left_mL <= 0 or not _gives_water(step, recipe, catalogue):
            continue
        had_mL = _as_mL(step)
        taken_mL = min(had_mL, left_mL)
        left_mL -= taken_mL
        steps[place] = _with_water(step, had_mL - taken_mL)
        said.append(_water_now(step, had_mL - taken_mL, had_mL, times))
    return replace(recipe, steps=tuple(steps)), tuple(said)


def add_water(
    recipe: Recipe, volume_mL: Decimal, times: Decimal = ONCE
) -> tuple[Recipe, tuple[str, ...]]:
    """The recipe with so much more water [mL] in its last water step."""
    waters = [step for step in recipe.steps if step.add == WATER and step.amount]
    if not waters:
        return recipe, ()
    last = waters[-1]
    had_mL = _as_mL(last)
    more = _with_water(last, had_mL + volume_mL)
    steps = tuple(more if step is last else step for step in recipe.steps)
    said = _water_now(last, had_mL + volume_mL, had_mL, times)
    return replace(recipe, steps=steps), (said,)


def _water_now(step: Step, now_mL: Decimal, had_mL: Decimal, times: Decimal) -> str:
    now = f"{figures(now_mL * times, 4)}{NBSP}mL" if now_mL > 0 else "none"
    had = f"{figures(had_mL * times, 4)}{NBSP}mL"
    return f"Water in step {step.number}: {now} instead of {had}."


def _mL_per_g(wanted: Substance, stock: Stock, catalogue: Catalogue) -> Decimal:
    """Millilitres of the bottle that carry one gram of the wanted form [mL/g]."""
    carried_g = strength_mass_g(stock.ledger, wanted, catalogue)
    if carried_g <= 0:
        holds = ", ".join(
            chemical
            for chemical, line in stock.ledger.lines.items()
            if line.present_g > 0
        )
        raise BadInput(
            f"batch {stock.batch} holds no {wanted.name} and no other form of it",
            place="--stock",
            remedy=f"It holds: {holds or 'nothing but water'}. Name another batch.",
        )
    return stock.volume_mL / carried_g


def _wanted_g(step: Step, catalogue: Catalogue) -> Decimal:
    """Grams of the exact form that a step asks for, its assay taken off [g]."""
    return in_mass(step, catalogue) * (step.assay_percent or PURE) / PURE


def _poured(step: Step, stock: Stock, mL_per_g: Decimal, catalogue: Catalogue) -> Step:
    volume_mL = _wanted_g(step, catalogue) * mL_per_g
    amount = Amount(volume_mL, Dimension.VOLUME, f"{figures(volume_mL, 4)} mL")
    return replace(
        step,
        add=f"recipe:{stock.name}",
        amount=amount,
        assay_percent=None,
    )


def _renamed(
    reactions: Iterable[ReactionSpec],
    wanted: Substance,
    stock: Stock,
    catalogue: Catalogue,
) -> tuple[ReactionSpec, ...]:
    """The reactions with the form that the bottle really holds."""
    held = [
        chemical
        for chemical, line in stock.ledger.lines.items()
        if line.present_g > 0 and catalogue.substance(chemical).parent == wanted.parent
    ]
    if wanted.id in held or len(held) != 1:
        return tuple(reactions)
    return tuple(
        replace(
            spec,
            reactants=tuple(held[0] if c == wanted.id else c for c in spec.reactants),
        )
        for spec in reactions
    )


def _too_weak(
    wanted: Substance,
    stock: Stock,
    needed_g: Decimal,
    volume_mL: Decimal,
    room_mL: Decimal,
) -> NoAnswer:
    told = (
        f"{figures(needed_g, 3)} g of {wanted.name} take {figures(volume_mL, 3)} mL of "
        f"batch {stock.batch}, and the recipe has {figures(room_mL, 3)} mL of water"
    )
    if room_mL <= 0:
        return NoAnswer(told, place="--stock", remedy="Weigh the solid.")
    least = needed_g / room_mL * 1000
    return NoAnswer(
        told,
        place="--stock",
        remedy=f"Weigh the solid, or use a bottle of at least {figures(least, 3)} g/L "
        f"({figures(least / 10, 3)} % w/v).",
    )


def _capital(name: str) -> str:
    return name[:1].upper() + name[1:]


def _water_mL(recipe: Recipe) -> Decimal:
    return sum(
        (_as_mL(s) for s in recipe.steps if s.add == WATER and s.amount), NOTHING
    )


def _room_to_fill(recipe: Recipe, catalogue: Catalogue) -> Decimal:
    """What filling up to the mark adds, near enough [mL]; 0 where nothing is filled."""
    if not any(step.make_up_to for step in recipe.steps):
        return NOTHING
    taken_mL = sum(
        (_takes_up_mL(step, catalogue) for step in recipe.steps if step.add), NOTHING
    )
    return max(recipe.makes.number - taken_mL, NOTHING)


def _takes_up_mL(step: Step, catalogue: Catalogue) -> Decimal:
    assert step.amount is not None and step.add is not None
    if step.amount.dimension is Dimension.VOLUME:
        return step.amount.number
    if step.add == WATER:
        return _as_mL(step)
    substance = catalogue.substance(step.add)
    liquid = substance.state is not State.SOLID
    return Dissolved(substance, step.amount.number, liquid).volume_mL


def _as_mL(step: Step) -> Decimal:
    assert step.amount is not None
    if step.amount.dimension is Dimension.VOLUME:
        return step.amount.number
    return step.amount.number / WATER_G_PER_ML


def _with_water(step: Step, volume_mL: Decimal) -> Step:
    """The water step with another volume; told as dry where nothing is left."""
    assert step.amount is not None
    if volume_mL <= 0:
        text = f"{WATER_GONE} {step.text}".strip()
        return Step(step.number, vessel=step.vessel, text=text, caution=step.caution)
    mass = step.amount.dimension is Dimension.MASS
    number = volume_mL * WATER_G_PER_ML if mass else volume_mL
    written = f"{plain(round(number, 2))} {'g' if mass else 'mL'}"
    return replace(step, amount=replace(step.amount, number=number, written=written))


def _gives_water(step: Step, recipe: Recipe, catalogue: Catalogue) -> bool:
    if step.add != WATER or step.amount is None:
        return False
    return not step.vessel or not _heats(step.vessel, recipe.steps, catalogue)


def _heats(vessel: str, steps: Sequence[Step], catalogue: Catalogue) -> bool:
    return any(
        bool(catalogue.substance(step.add).tags & HEATING)
        for step in steps
        if step.vessel == vessel and step.add and step.add in catalogue
    )
