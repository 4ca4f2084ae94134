"""A chemical prepared: the route worked out, checked, and told how it goes."""

from collections.abc import Callable, Mapping
from datetime import datetime
from decimal import ROUND_DOWN, Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Dimension
from labelkit.chemistry.display import figures
from labelkit.chemistry.formulas import molar_mass
from labelkit.chemistry.heat import rise_K
from labelkit.chemistry.solubility import Dissolution, dissolve
from labelkit.errors import NoAnswer
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import doses_for
from labelkit.mixing.forms import Exchange
from labelkit.mixing.job import Job
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.routes import Chosen, Way
from labelkit.mixing.routes_dissolving import (
    STORED_C,
    Stage,
    in_the_bottle,
    while_mixing,
)
from labelkit.mixing.routes_recipe import Layout, route_recipe
from labelkit.mixing.solution import Solution, make_solution
from labelkit.mixing.vessels import Moment, walk

__all__ = ["Prepared", "WeightLoss", "prepare"]

# Given off when water forms from its ions [J/mol]; formation enthalpies of liquid water
# and of hydroxide in water, CRC Handbook, recalled: 285.83 - 229.99 kJ/mol. Weak acids
# give off less, so it is the most that a neutralisation can.
NEUTRALISATION_J_PER_MOL = 55_840
HOT_C = 60.0
WARMEST_FILL_C = 30.0
WATER_STEPS_C = (25, 30, 40, 50, 60)
COOLED_C = (25, 30, 35, 40, 45)
SLURRY_C = 40  # for what need not clear before the lye goes in
HALVINGS = 22
STRONG_BASE = "strong-base"
NO_DAY = datetime(1, 1, 1)  # noqa: DTZ001 - what is only poured together has no date

Planner = Callable[[Recipe], Plan]


class WeightLoss(Struct, frozen=True):
    """What baking takes off, and what it tells of how far it went.

    Attributes:
        before_g, after_g: of the powder, when all of it is done [g].
        loss_percent: of what went in.
    """

    before_g: Decimal
    after_g: Decimal
    loss_percent: Decimal

    def done_percent(self, weighs_g: Decimal) -> Decimal:
        """How far it went, from what the powder weighs now [g]."""
        return (self.before_g - weighs_g) / (self.before_g - self.after_g) * 100

    def weighs_g(self, done_percent: Decimal) -> Decimal:
        """What the powder weighs when that share of it is done [g]."""
        lost_g = (self.before_g - self.after_g) * done_percent / 100
        return self.before_g - lost_g


class Prepared(Struct, frozen=True):
    """A route worked out.

    Attributes:
        mixing: every solid at every step.
        storage: everything in the bottle, at each temperature it is stored at.
        reaction_K: how far the neutralisation can warm it beyond what the plan counts,
            at most; 0 where no lye takes part.
        weight_loss: of a baked powder.
    """

    chosen: Chosen
    plan: Plan
    mixing: tuple[Stage, ...]
    storage: tuple[Stage, ...]
    reaction_K: float
    weight_loss: WeightLoss | None = None


def prepare(
    chosen: Chosen,
    product_g: Decimal,
    volume_mL: Decimal,
    *,
    planner: Planner,
    catalogue: Catalogue,
    exchange: Exchange,
    assays: Mapping[str, Decimal],
) -> Prepared:
    """Work a route out for so many grams in so many millilitres.

    Args:
        chosen: the route with its exact chemicals.
        product_g: of the product, in its form [g].
        volume_mL: of the finished solution [mL].
        planner: plans the finished recipe.
        catalogue: the chemicals.
        exchange: turns a solute into what crystallises from it.
        assays: [%] of the jars, by chemical id.

    Raises:
        NoAnswer: it does not dissolve; the largest strength that does is told.
    """
    work = _Work(chosen, volume_mL, catalogue, exchange, assays)
    found = work.at(product_g)
    if isinstance(found, str):
        raise _too_strong(work, product_g, found)
    plan = planner(found.recipe)
    return Prepared(
        chosen,
        plan,
        found.mixing,
        found.storage,
        _reaction_K(plan.solution, catalogue),
        _weight_loss(chosen, plan, catalogue),
    )


class _Sketch(Struct, frozen=True):
    """A recipe poured together, without what a whole plan tells of it."""

    recipe: Recipe
    moments: tuple[Moment, ...]
    solution: Solution
    mixing: tuple[Stage, ...]
    storage: tuple[Stage, ...] = ()


class _Work(Struct, frozen=True):
    chosen: Chosen
    volume_mL: Decimal
    catalogue: Catalogue
    exchange: Exchange
    assays: Mapping[str, Decimal]

    def at(self, product_g: Decimal) -> _Sketch | str:
        """The route as it dissolves, or why it does not."""
        sketch = self._sketch(product_g, self._layout(product_g))
        if self._overfull(sketch):
            return "there is no room for the water it takes"
        solids = dict(self.chosen.route.solids)
        storage = in_the_bottle(sketch.solution, self.catalogue, self.exchange, solids)
        for stage in (*sketch.mixing, *storage):
            if stage.stops and (stage.step is not None or stage.at_C == STORED_C[0]):
                return self._why(stage)
        return replace(sketch, storage=storage)

    def _overfull(self, sketch: _Sketch) -> bool:
        """Whether more goes in than the mark it is filled up to."""
        poured_mL = sum(
            step.amount.number
            for step in sketch.recipe.steps
            if step.amount and step.amount.dimension is Dimension.VOLUME
        )
        return poured_mL > self.volume_mL

    def _why(self, stage: Stage) -> str:
        name = self.catalogue.substance(stage.chemical).name
        where = f"in step {stage.step}" if stage.step is not None else "in the bottle"
        most = f"{figures(Decimal(str(stage.most_g or 0)), 3)} g"
        return f"at {stage.at_C:.0f} °C only {most} of {name} dissolve {where}"

    def _sketch(self, product_g: Decimal, layout: Layout) -> _Sketch:
        recipe = route_recipe(
            self.chosen, product_g, self.volume_mL, layout, self.catalogue
        )
        doses = doses_for(recipe, Decimal(1), self.catalogue, self.assays, {})
        job = Job(recipe, recipe.makes, doses, self.volume_mL, recipe.measured, NO_DAY)
        moments = walk(job, self.catalogue)
        return _Sketch(
            recipe,
            moments,
            make_solution(job, self.catalogue),
            while_mixing(moments, recipe.reactions, self.catalogue),
        )

    def _layout(self, product_g: Decimal) -> Layout:
        """As cool as the first chemical dissolves in, and cooled as far as it stays."""
        route = self.chosen.route
        warm = [t for t in WATER_STEPS_C if route.first_C <= t <= route.hottest_C]
        first_C = next((t for t in warm if self._clears(product_g, Layout(t))), None)
        if first_C is None:
            first_C = max(t for t in warm if t <= SLURRY_C or route.way is not Way.LYE)
            return self._hot(product_g, Layout(first_C, clears=False))
        cool_to_C = None
        if route.way is Way.LYE and first_C > COOLED_C[0]:
            cool_to_C = self._coolest(product_g, first_C)
        return self._hot(product_g, Layout(first_C, cool_to_C))

    def _coolest(self, product_g: Decimal, first_C: int) -> int | None:
        return next(
            (
                t
                for t in COOLED_C
                if t < first_C and self._clears(product_g, Layout(first_C, t))
            ),
            None,
        )

    def _clears(self, product_g: Decimal, layout: Layout) -> bool:
        """Whether the first chemical dissolves and stays dissolved until the second."""
        sketch = self._sketch(product_g, layout)
        first = self.chosen.reagents[0].id
        dissolves = all(
            stage.fits is not False
            for stage in sketch.mixing
            if stage.chemical == first
        )
        return dissolves and _stays_when_cooled(sketch, first, self.catalogue)

    def _hot(self, product_g: Decimal, layout: Layout) -> Layout:
        solution = self._sketch(product_g, layout).solution
        peak_C = WARMEST_FILL_C + _reaction_K(solution, self.catalogue)
        return replace(layout, hot=peak_C > HOT_C)


def _stays_when_cooled(sketch: _Sketch, first: str, catalogue: Catalogue) -> bool:
    cooled = [m for m in sketch.moments if m.after is m.before and not m.vessel]
    for moment in cooled:
        found = dissolve(
            catalogue.substance(first),
            moment.after.present_g(first),
            moment.after.water_g,
            moment.after_C,
        )
        if isinstance(found, Dissolution) and not found.fits:
            return False
    return True


def _too_strong(work: _Work, product_g: Decimal, why: str) -> NoAnswer:
    """The refusal, with the largest strength that dissolves."""
    name = work.chosen.product.name
    asked = product_g / work.volume_mL * 1000
    problem = f"{figures(asked, 3)} g/L of {name} cannot be made: {why}"
    most = _largest_g_per_L(work, asked)
    if most is None:
        return NoAnswer(problem, remedy="Take another route with --from.")
    each = figures(1000 / most, 3)
    make_mL = figures(product_g / most * 1000, 3)
    return NoAnswer(
        problem,
        remedy=f"The largest strength that does is {figures(most, 3)} g/L "
        f"({figures(most / 10, 3)} % w/v, {each} mL = 1 g): make {make_mL} mL for "
        f"{figures(product_g, 3)} g, or take another route with --from.",
    )


def _largest_g_per_L(work: _Work, asked: Decimal) -> Decimal | None:
    low, high = Decimal(0), asked
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        works = isinstance(work.at(middle * work.volume_mL / 1000), _Sketch)
        low, high = (middle, high) if works else (low, middle)
        if high - low < high / 500:
            break
    return _rounded_down(low) if low > 0 else None


def _rounded_down(value: Decimal) -> Decimal:
    step = Decimal(1).scaleb(value.adjusted() - 1)
    return (value / step).to_integral_value(ROUND_DOWN) * step


def _reaction_K(solution: Solution, catalogue: Catalogue) -> float:
    """The most that the neutralisation of a lye warms the whole [K]."""
    moles = 0.0
    for run in solution.runs:
        for chemical, mass_g in run.consumed_g.items():
            substance = catalogue.substance(chemical)
            if STRONG_BASE in substance.tags and substance.molar_mass:
                moles += float(mass_g / substance.molar_mass)
    whole_g = float(solution.mass_g or solution.volume_mL or 1)
    return rise_K(moles * NEUTRALISATION_J_PER_MOL, whole_g) if moles else 0.0


def _weight_loss(chosen: Chosen, plan: Plan, catalogue: Catalogue) -> WeightLoss | None:
    """Gas and water go; the anhydrous salt stays in the dish."""
    if chosen.route.way is not Way.BAKE:
        return None
    powder = chosen.reagents[0]
    parent = catalogue.parents[chosen.product.parent]
    assert powder.molar_mass is not None and parent.formula is not None
    before_g = plan.solution.ledger.lines[powder.id].added_g
    equation = chosen.equation(catalogue)
    taken = equation.coefficients[powder.id]
    made = equation.coefficients[chosen.product.id] * chosen.product.parent_units
    left = molar_mass(parent.formula) * made / (powder.molar_mass * taken)
    return WeightLoss(before_g, before_g * left, (1 - left) * 100)
