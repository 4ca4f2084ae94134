"""Where the pH, the warming and the density of a plan come from."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.acid_roles import Solute
from labelkit.chemistry.density import ML_PER_G
from labelkit.chemistry.display import figures
from labelkit.chemistry.heat import SPECIFIC_HEAT
from labelkit.chemistry.refusal import Refusal
from labelkit.chemistry.solubility import saturation
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan
from labelkit.mixing.trace import Trace
from labelkit.mixing.vessels import ROOM_C, Moment

__all__ = ["why_density", "why_ph", "why_warming"]

METER = "measured: the recipe's [measured], or read at the sink"


def why_ph(plan: Plan, handbook: Handbook) -> Iterator[Trace]:
    """The pH, or why there is none, with the constants it rests on."""
    if plan.ph is None:
        if "ph" in plan.reasons:
            yield Trace("pH: no figure", plan.reasons["ph"], _constants(plan, handbook))
        return
    if plan.ph.measured:
        yield Trace(f"pH {plan.ph.value:g}", "a measured pH decides as it is", METER)
        return
    yield Trace(
        f"pH {plan.ph.value:.1f} ({plan.ph.low:.1f} to {plan.ph.high:.1f})",
        "estimate: charges balanced with Davies activities; the band by the ionic "
        "strength and by every doubtful constant",
        _constants(plan, handbook),
    )


def why_warming(plan: Plan, catalogue: Catalogue) -> Iterator[Trace]:
    """Each step that warms or cools by a known heat of solution."""
    for moment in plan.moments:
        for chemical in moment.dissolves:
            heat = catalogue.substance(chemical).heat_of_solution
            if heat is None:
                continue
            note = f", {heat.note}" if heat.note else ""
            to_C = f"{moment.after_C:.0f} °C"
            grams = moment.after.present_g(chemical) - _there_g(moment, chemical)
            yield Trace(
                f"step {moment.step}: {moment.rise_K:+.1f} K to {to_C}",
                f"{figures(grams, 4)} g of {chemical} ÷ its molar mass × "
                f"{heat.value} kJ/mol{note} ÷ "
                f"({_mass(moment)} g × {SPECIFIC_HEAT} J/gK); not counted: "
                f"{'; '.join(moment.not_counted)}",
                f"{heat.source} ({heat.confidence.value})",
            )


def why_solubility(plan: Plan, catalogue: Catalogue) -> Iterator[Trace]:
    """How much of each solute water holds at 20 degC, where a table tells it."""
    if plan.solution.dry:
        return
    for content in plan.solution.contents:
        substance = catalogue.substance(content.chemical)
        held = saturation(substance, ROOM_C)
        if isinstance(held, Refusal) or substance.miscible:
            continue
        yield Trace(
            f"{held.g_per_100_g_water:.3g} g of {substance.name} in 100 g of water",
            f"at {held.at_C:g} °C, linear between the points of the table; "
            f"{'; '.join(held.notes)}",
            f"{held.source} ({held.confidence.value})",
        )


def why_density(plan: Plan) -> Iterator[Trace]:
    """The density, or why there is none."""
    density = plan.solution.density
    if density is None:
        if plan.solution.density_reason:
            reason = plan.solution.density_reason
            yield Trace("density: no figure", reason, "common practice, no source")
        return
    told = f"density {figures(density.g_per_mL, 4)} g/mL"
    if density.source == "measured":
        yield Trace(told, "as measured", METER)
    else:
        how = (
            f"estimate: {ML_PER_G} mL for a gram of anhydrous solute, liquids by their "
            "own density, water for the rest; ± 2 %, never lowers a hazard's share"
        )
        yield Trace(told, how, "common practice, no source")


def _there_g(moment: Moment, chemical: str) -> Decimal:
    """What lay in the vessel already and had dissolved [g]."""
    dry = moment.before.water_g <= 0
    return Decimal(0) if dry else moment.before.present_g(chemical)


def _mass(moment: Moment) -> str:
    return figures(Decimal(moment.after.mass_g), 4)


def _constants(plan: Plan, handbook: Handbook) -> str:
    """The sources of the constants of everything in it that has any."""
    table = handbook.acidity
    found: dict[str, None] = {}
    for content in plan.solution.contents:
        solute = Solute.of(handbook.catalogue.substance(content.chemical), None)
        if table.knows(solute):
            for acid in table.acids_of(solute):
                found[f"{acid.id}: {table.sources.get(acid.id, '')}"] = None
    return "; ".join(found) or "no constants in play"
