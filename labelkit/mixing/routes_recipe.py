"""A route as a recipe: amounts from the equation, water, order, warmth, cautions."""

from collections.abc import Callable, Iterable
from decimal import ROUND_DOWN, Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.density import Dissolved
from labelkit.chemistry.display import figures, plain
from labelkit.chemistry.substances import State, Substance
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER
from labelkit.mixing.recipe import BenchNotes, ReactionSpec, Recipe, Step
from labelkit.mixing.routes import Chosen, Way

__all__ = ["Layout", "amounts_g", "route_recipe"]

# Digits that a reaction's extent is told to: enough, and exact in every product.
EXACT_DIGITS = 14
JUG, DISH = "second jug", "baking dish"
COLD_C, LUKEWARM_C = Decimal(15), Decimal(25)
# Of the room for water, what the first chemical gets and the most a lye may take; and
# grams of cold water for one gram of lye, so that it stays below about 50 degC.
FIRST_SHARE, LYE_SHARE, LYE_WATER = Decimal("0.85"), Decimal("0.5"), Decimal(7)
LEAST_LYE_SHARE, CRAMPING = Decimal("0.1"), Decimal(4)
FINE_mL, LITRE_mL = Decimal(5), Decimal(1000)
LYE = (
    "Goggles and gloves. Lye into cold water, never water onto lye; a little at a "
    "time. It heats up. No aluminium."
)
CRAMPED = (
    "With so little water it can come near the boil: stand the jug in ice water and "
    "take a quarter of an hour."
)
TOGETHER = "Goggles. Slowly, stirring: the reaction heats it as well."
FOAM = (
    "It foams: a vessel three times as large as the final volume. A spoonful at a "
    "time, and wait until the froth has fallen."
)


class Layout(Struct, frozen=True):
    """How the recipe is laid out, where there is a choice.

    Attributes:
        first_C: of the water for the first chemical [degC].
        cool_to_C: before the second goes in [degC]; None where nothing is cooled.
        clears: the first chemical dissolves before the second goes in.
        hot: the reaction may bring it above 60 degC.
    """

    first_C: int
    cool_to_C: int | None = None
    clears: bool = True
    hot: bool = False


def amounts_g(
    chosen: Chosen, product_g: Decimal, catalogue: Catalogue
) -> tuple[Decimal, ...]:
    """Grams of each reagent for ``product_g`` [g], all used up together [g].

    Every product with the parent that is asked for counts.
    """
    equation, product = chosen.equation(catalogue), chosen.product
    assert product.molar_mass is not None
    wanted_mol = product_g / product.molar_mass * product.parent_units
    made = sum(
        n * catalogue.substance(species.chemical).parent_units
        for species, n in equation.products
        if catalogue.substance(species.chemical).parent == product.parent
    )
    extent_mol = _exact(wanted_mol / made)
    grams = []
    for form in chosen.reagents:
        assert form.molar_mass is not None
        moles = extent_mol * equation.coefficients[form.id]
        grams.append(moles * form.molar_mass / form.solute_share)
    return tuple(grams)


def route_recipe(
    chosen: Chosen,
    product_g: Decimal,
    volume_mL: Decimal,
    layout: Layout,
    catalogue: Catalogue,
) -> Recipe:
    """The recipe that makes ``product_g`` [g] of the product in ``volume_mL`` [mL]."""
    route, product = chosen.route, chosen.product
    grams = amounts_g(chosen, product_g, catalogue)
    parts = tuple(zip(chosen.reagents, grams, strict=True))
    room_mL = volume_mL - _displaced_mL(parts)
    steps = STEPS[route.way](chosen, grams, room_mL, layout)
    makes = Amount(volume_mL, Dimension.VOLUME, f"{plain(volume_mL)} mL")
    fill = Step(0, make_up_to=makes)
    name = product.name.split(",")[0]
    return Recipe(
        name=product.id,
        title=f"{name[:1].upper()}{name[1:]} stock",
        makes=makes,
        steps=_numbered([*steps, fill]),
        strength_of=product.id,
        reactions=(
            ReactionSpec(
                tuple(form.id for form in chosen.reagents),
                (product.id, *route.beside),
            ),
        ),
        keep_in=route.keep_in,
        note=route.note,
        source=f"labelkit, route {route.id}: {route.source}",
        revision="1",
        off_when=route.off_when,
        bench_notes=BenchNotes(),
    )


def _lye_steps(
    chosen: Chosen, grams: tuple[Decimal, ...], room_mL: Decimal, layout: Layout
) -> list[Step]:
    first, lye = chosen.reagents
    lye_mL = min(
        max(grams[1] * LYE_WATER, room_mL * LEAST_LYE_SHARE), room_mL * LYE_SHARE
    )
    first_mL = (room_mL - lye_mL) * FIRST_SHARE
    together = TOGETHER
    if layout.hot:
        together += " Stand the vessel in cold water: it can come near the boil."
    steps = [
        _water(first_mL, layout.first_C),
        _add(first, grams[0], _first_text(chosen, layout)),
    ]
    if layout.cool_to_C is not None:
        text = "Not below: it crystallises." if layout.clears else ""
        steps.append(Step(0, cool_to_C=Decimal(layout.cool_to_C), text=text))
    return [
        *steps,
        replace(_water(lye_mL, int(COLD_C)), vessel=JUG),
        replace(
            _add(lye, grams[1], chosen.route.second),
            vessel=JUG,
            caution=_joined(LYE, CRAMPED if lye_mL < grams[1] * CRAMPING else ""),
        ),
        Step(0, pour=JUG, caution=_joined(together, chosen.route.caution)),
        *_finish(chosen),
    ]


def _gas_steps(
    chosen: Chosen, grams: tuple[Decimal, ...], room_mL: Decimal, layout: Layout
) -> list[Step]:
    first, second = chosen.reagents
    caution = _joined(FOAM, chosen.route.caution)
    return [
        _water(room_mL * FIRST_SHARE, layout.first_C),
        _add(first, grams[0], _first_text(chosen, layout)),
        replace(_add(second, grams[1], chosen.route.second), caution=caution),
        *_finish(chosen),
        Step(0, cool_to_C=LUKEWARM_C),
    ]


def _dissolving_steps(
    chosen: Chosen, grams: tuple[Decimal, ...], room_mL: Decimal, layout: Layout
) -> list[Step]:
    only = _add(chosen.reagents[0], grams[0], chosen.route.first or "Stir until clear.")
    return [
        _water(room_mL * FIRST_SHARE, layout.first_C),
        replace(only, caution=chosen.route.caution),
        *_finish(chosen),
    ]


def _baking_steps(
    chosen: Chosen, grams: tuple[Decimal, ...], room_mL: Decimal, layout: Layout
) -> list[Step]:
    route = chosen.route
    return [
        replace(_add(chosen.reagents[0], grams[0], route.first), vessel=DISH),
        Step(0, vessel=DISH, text=route.second, caution=route.caution),
        _water(room_mL * FIRST_SHARE, layout.first_C),
        Step(0, pour=DISH, text="A little at a time, stirring: it cakes and warms up."),
        *_finish(chosen),
    ]


_Steps = Callable[[Chosen, tuple[Decimal, ...], Decimal, Layout], list[Step]]
STEPS: dict[Way, _Steps] = {
    Way.LYE: _lye_steps,
    Way.GAS: _gas_steps,
    Way.DISSOLVE: _dissolving_steps,
    Way.BAKE: _baking_steps,
}


def _first_text(chosen: Chosen, layout: Layout) -> str:
    clear = (
        "Stir until clear."
        if layout.clears
        else "It need not clear yet: what is left dissolves when the other goes in."
    )
    if chosen.reagents[0].state is not State.SOLID:
        clear = "Acid into water, never water into acid."
    return _joined(chosen.route.first, clear)


def _finish(chosen: Chosen) -> list[Step]:
    return [Step(0, text=chosen.route.finish)] if chosen.route.finish else []


def _water(volume_mL: Decimal, at_C: int) -> Step:
    rounded = _neat(volume_mL)
    amount = Amount(rounded, Dimension.VOLUME, f"{plain(rounded)} mL")
    return Step(0, add=WATER, amount=amount, at_C=Decimal(at_C), kind="tap")


def _add(form: Substance, mass_g: Decimal, text: str) -> Step:
    number, dimension, unit = mass_g, Dimension.MASS, "g"
    if form.state is not State.SOLID and form.density is not None:
        number, dimension, unit = mass_g / form.density.value, Dimension.VOLUME, "mL"
    amount = Amount(number, dimension, f"{figures(number, 4)} {unit}")
    return Step(0, add=form.id, amount=amount, text=text)


def _displaced_mL(parts: Iterable[tuple[Substance, Decimal]]) -> Decimal:
    """Room that what is added takes up, and leaves for no water [mL]."""
    return sum(
        (
            Dissolved(form, mass_g, liquid=form.state is not State.SOLID).volume_mL
            for form, mass_g in parts
        ),
        Decimal(0),
    )


def _numbered(steps: Iterable[Step]) -> tuple[Step, ...]:
    return tuple(replace(step, number=n) for n, step in enumerate(steps, start=1))


def _neat(volume_mL: Decimal) -> Decimal:
    """A volume that a cylinder shows, rounded down: to 5 mL, above a litre to 50 mL."""
    if volume_mL < FINE_mL:
        return max(volume_mL.quantize(Decimal("0.1"), ROUND_DOWN), Decimal("0.1"))
    step = Decimal(50) if volume_mL >= LITRE_mL else FINE_mL
    return (volume_mL / step).to_integral_value(ROUND_DOWN) * step


def _exact(moles: Decimal) -> Decimal:
    return Decimal(f"{moles:.{EXACT_DIGITS}g}")


def _joined(*sentences: str) -> str:
    return " ".join(sentence for sentence in sentences if sentence)
