"""Every figure of a plan traced to how it came about and whose figures it rests on."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.display import figures, plain, show_duration
from labelkit.chemistry.reactions import LITRES_PER_MOLE, Run
from labelkit.chemistry.substances import Substance
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.dates import written
from labelkit.mixing.doses import WATER, Dose, scaling
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Step
from labelkit.mixing.shown import shown_dose
from labelkit.mixing.solution import Content
from labelkit.mixing.trace import Trace
from labelkit.mixing.uncertainty import contributions
from labelkit.mixing.why_estimates import (
    why_density,
    why_ph,
    why_solubility,
    why_warming,
)
from labelkit.mixing.why_hazards import why_hazards

__all__ = ["why"]

ATOMS = "molar mass from the formula and the standard atomic weights (molmass)"
GUM = "JCGM 100:2008 (the GUM), first order, k = 1"
BALANCED = "conservation of atoms; molar masses as above"


def why(plan: Plan, handbook: Handbook, settings: Settings) -> tuple[Trace, ...]:
    """Where every figure of ``plan`` comes from, in the order of the plan."""
    return (
        *_doses(plan, handbook, settings),
        *_reactions(plan, handbook.catalogue),
        *_contents(plan, handbook.catalogue),
        *_strength(plan, handbook.catalogue, settings),
        *_headline(plan),
        *why_ph(plan, handbook),
        *why_warming(plan, handbook.catalogue),
        *why_solubility(plan, handbook.catalogue),
        *why_density(plan),
        *_discard(plan),
        *why_hazards(plan, handbook),
    )


def _doses(plan: Plan, handbook: Handbook, settings: Settings) -> Iterator[Trace]:
    steps = {step.number: step for step in plan.recipe.steps}
    for dose in plan.job.doses:
        step = steps[dose.step]
        called = "weigh" if dose.weighed else "measure"
        figure = f"step {dose.step}, {called} {shown_dose(dose, settings)}"
        yield Trace(
            f"{figure} of {_name(dose.chemical, plan, handbook.catalogue)}",
            "as it was read" if dose.read else _scaled(dose, step, plan),
            _from_where(dose, step, plan, handbook),
        )


def _scaled(dose: Dose, step: Step, plan: Plan) -> str:
    """Amount of the recipe × factor × its assay ÷ the jar's."""
    assert step.amount is not None
    how = f"{step.amount.written} × {figures(scaling(plan.recipe, plan.job.make), 4)}"
    written_for = step.assay_percent or Decimal(100)
    if dose.assay_percent != written_for:
        how += f" × {plain(written_for)} % ÷ {plain(dose.assay_percent)} %"
    return f"{how}, shown as the instrument reads it"


def _from_where(dose: Dose, step: Step, plan: Plan, handbook: Handbook) -> str:
    source = plan.recipe.source or f"recipe {plan.recipe.name}"
    if dose.chemical in handbook.assays:
        return f"{source}; assay {plain(dose.assay_percent)} % of the jar"
    if step.assay_percent is not None:
        return f"{source}; assay {plain(step.assay_percent)} % as written in the step"
    return source


def _reactions(plan: Plan, catalogue: Catalogue) -> Iterator[Trace]:
    for run in plan.solution.runs:
        limiting = catalogue.substance(run.limiting).name
        yield Trace(
            f"reaction {run.equation}",
            "coefficients so that every element balances, crystal water included; "
            f"it runs until {limiting} is used up: "
            f"{_extents(run, plan, catalogue)}",
            BALANCED,
        )
        if run.gas is not None:
            yield Trace(
                f"{figures(run.gas.volume_L, 3)} L of {run.gas.formula}",
                f"moles × {LITRES_PER_MOLE} L/mol, an ideal gas at 20 °C and 101.325 "
                "kPa",
                "SI Brochure, 9th ed. (gas constant)",
            )


def _extents(run: Run, plan: Plan, catalogue: Catalogue) -> str:
    """Grams ÷ molar mass ÷ coefficient of each reagent."""
    told = []
    for species, n in run.equation.reactants:
        line = plan.solution.ledger.lines[species.chemical]
        molar = catalogue.substance(species.chemical).molar_mass
        there_g = line.added_g + line.formed_g
        by = f" ÷ {n}" if n > 1 else ""
        told.append(f"{species.chemical} {figures(there_g, 4)} g ÷ {molar} g/mol{by}")
    return "; ".join(told)


def _contents(plan: Plan, catalogue: Catalogue) -> Iterator[Trace]:
    for content in plan.solution.contents:
        substance = catalogue.substance(content.chemical)
        yield Trace(
            f"{substance.name} {_told(content)}",
            _content_how(content, plan, substance),
            _molar_source(substance),
        )


def _told(content: Content) -> str:
    """The figures of one line of the contents, in their units."""
    parts = (
        (content.g_per_L, "g/L"),
        (content.mol_per_L, "mol/L"),
        (content.percent_ww, "% w/w"),
    )
    return ", ".join(f"{figures(v, 4)} {unit}" for v, unit in parts if v is not None)


def _content_how(content: Content, plan: Plan, substance: Substance) -> str:
    line, volume_mL = plan.solution.ledger.lines[content.chemical], plan.job.volume_mL
    amounts = (
        (line.added_g, "put in"),
        (line.formed_g, "formed"),
        (-line.consumed_g, "used up"),
    )
    told = [f"{figures(g, 4)} g {what}" for g, what in amounts if g]
    how = [" + ".join(told)]
    if volume_mL is not None:
        how.append(f"÷ {figures(volume_mL, 4)} mL × 1000")
        if substance.molar_mass is not None:
            how.append(f"(÷ {substance.molar_mass} g/mol)")
    if plan.solution.mass_g is not None:
        how.append(f"; of {figures(plan.solution.mass_g, 4)} g in all")
    return " ".join(how).replace(" ;", ";")


def _molar_source(substance: Substance) -> str:
    if substance.molar_mass is None:
        return substance.formula_missing_because or "no formula: told in grams only"
    return f"{ATOMS}: {substance.formula}"


def _strength(plan: Plan, catalogue: Catalogue, settings: Settings) -> Iterator[Trace]:
    strength = plan.solution.strength
    if strength is None:
        return
    of = catalogue.substance(strength.of)
    rate = strength.g_per_L if strength.g_per_L is not None else strength.percent_ww
    if rate is not None:
        unit = "g/L" if strength.g_per_L is not None else "% w/w"
        yield Trace(
            f"strength {figures(rate, 4)} {unit} of {of.name}",
            _strength_how(of, plan, catalogue),
            _molar_source(of),
        )
    if plan.relative_u is not None:
        parts = contributions(plan.job, plan.solution, catalogue, settings)
        told = "; ".join(
            f"{c.name} {c.relative_u * 100:.2g} % × {c.sensitivity:.2g}"
            for c in parts.values()
        )
        yield Trace(f"± {plan.relative_u * 100:.2g} % of the strength", told, GUM)


def _strength_how(of: Substance, plan: Plan, catalogue: Catalogue) -> str:
    """Which lines of the ledger count towards the strength."""
    if of.molar_mass is None:
        return "grams of this form alone: without a formula no other form counts"
    counted = [
        f"{figures(content.mass_g, 4)} g of {content.chemical}"
        for content in plan.solution.contents
        if catalogue.substance(content.chemical).parent == of.parent
    ]
    return (
        f"moles of every form of {of.parent} ({' + '.join(counted)}), told as this "
        f"form: × {of.molar_mass} g/mol ÷ {of.parent_units}"
    )


def _headline(plan: Plan) -> Iterator[Trace]:
    strength, kind = plan.solution.strength, plan.headline.kind
    recipe = plan.recipe.source or f"recipe {plan.recipe.name}"
    if kind == "equivalence" and strength and strength.g_per_L and strength.mL_per_g:
        yield Trace(
            f"headline {plan.headline.text}",
            f"1000 ÷ {figures(strength.g_per_L, 5)} g/L = "
            f"{figures(strength.mL_per_g, 5)} mL/g, rounded within what is known",
            GUM,
        )
    elif kind == "dilution":
        yield Trace(
            f"headline {plan.headline.text}", "the ratio as the recipe has it", recipe
        )


def _discard(plan: Plan) -> Iterator[Trace]:
    keeps = plan.recipe.keeps or plan.recipe.keeps_working
    if plan.discard_after is None or keeps is None:
        return
    how = "by the calendar, clamped to the month's end"
    if keeps.by_the_clock:
        how = "by the clock"
    yield Trace(
        f"discard after {written(plan.discard_after)}",
        f"mixed {written(plan.job.on)} + {show_duration(keeps)}, {how}",
        plan.recipe.source or f"recipe {plan.recipe.name}",
    )


def _name(chemical: str, plan: Plan, catalogue: Catalogue) -> str:
    if chemical == WATER:
        return "water"
    stock = plan.job.stocks.get(chemical.removeprefix("recipe:"))
    if stock is not None and chemical not in catalogue:
        number = f" ({stock.batch})" if stock.batch else ""
        return f"{stock.title} {stock.part}".strip() + number
    return catalogue.substance(chemical).name
