"""What does not dissolve: vessel by vessel, and in the bottle at 20 and 5 degC."""

from collections.abc import Collection, Iterator
from decimal import Decimal
from math import ceil

from labelkit.chemistry.display import figures
from labelkit.chemistry.refusal import Refusal
from labelkit.chemistry.solubility import Dissolution, dissolve
from labelkit.chemistry.substances import State, Substance
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.holding import (
    Scene,
    capital,
    is_watery,
    joined,
    present,
    scenes,
    tagged,
    tags_of,
    water_for,
)
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.ledger import Ledger
from labelkit.mixing.plan import Plan

__all__ = ["check_solubility", "cools_itself_out", "dissolution_in"]

# Where solutions stand and are used, and a cold room; ours [degC].
ROOM_C, COLD_ROOM_C = 20.0, 5.0
# At which many solubilities are known and no others [degC].
USUAL_TABLE_C = 25.0
NOT_RECKONED = "Other salts in it are not reckoned."

# What an alkali turns into something else, so that its own table says nothing.
TAKES_ALKALI = frozenset(
    {"acid", "mild-acid", "very-weak-acid", "organic", "developer"}
)
ALKALI = frozenset({"base", "strong-base", "carbonate"})
TAKES_LYE = frozenset({"borate", "bicarbonate"})
TAKES_ACID = frozenset({"base", "weak-base"})
ACID = frozenset({"acid", "mild-acid"})


def check_solubility(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """What stays undissolved in its vessel, at 20 degC, or crystallises at 5 degC.

    Nothing is claimed of a form without a table, beyond the ends of its table, of what
    acid or alkali turns into something else, or where water is not the solvent.
    """
    catalogue = handbook.catalogue
    filled = _filled(plan, catalogue)
    over = dict(_over(filled, catalogue)) if filled else {}
    yield from over.values()
    if filled:
        yield from _in_the_cold(filled, catalogue, over)
    yield from _in_vessels(plan, catalogue, over)


def dissolution_in(
    ledger: Ledger, chemical: str, at_C: float, catalogue: Catalogue
) -> Dissolution | None:
    """Whether a solid dissolves in what a vessel holds; None where nothing is known."""
    substance = catalogue.substance(chemical)
    if substance.state is not State.SOLID or not _speaks(ledger, substance, catalogue):
        return None
    water_g = water_for(ledger, chemical, catalogue)
    if water_g <= 0:
        return None
    found = dissolve(substance, ledger.present_g(chemical), water_g, at_C)
    return None if isinstance(found, Refusal) else found


def cools_itself_out(scene: Scene, catalogue: Catalogue) -> Dissolution | None:
    """What dissolves in the water as it was, but not once it has cooled it."""
    dose, moment = scene.moment.dose, scene.moment
    if dose is None or dose.chemical not in scene.entering or moment.rise_K >= 0:
        return None
    warm = dissolution_in(scene.after, dose.chemical, moment.before_C, catalogue)
    cold = dissolution_in(scene.after, dose.chemical, moment.after_C, catalogue)
    return cold if warm and cold and warm.fits and not cold.fits else None


def _speaks(ledger: Ledger, substance: Substance, catalogue: Catalogue) -> bool:
    """Whether the form's own table tells what happens in this company."""
    if not is_watery(ledger, catalogue):
        return False
    others = [c for c in present(ledger) if c != substance.id]
    tags = tags_of(substance.id, catalogue)
    return not (
        (tags & TAKES_ALKALI and tagged(others, ALKALI, catalogue))
        or (tags & TAKES_LYE and tagged(others, {"strong-base"}, catalogue))
        or (tags & TAKES_ACID and tagged(others, ACID, catalogue))
    )


def _in_vessels(
    plan: Plan, catalogue: Catalogue, over: Collection[str]
) -> Iterator[Check]:
    """Of each chemical the first step at which it does not all dissolve."""
    told = set(over)
    for scene in scenes(plan, catalogue):
        if cools_itself_out(scene, catalogue):
            continue
        for chemical in present(scene.after):
            at_C = scene.moment.after_C
            found = dissolution_in(scene.after, chemical, at_C, catalogue)
            if found is None or found.fits or chemical in told:
                continue
            told.add(chemical)
            mass_g = scene.after.present_g(chemical)
            text = _undissolved(catalogue.substance(chemical), mass_g, found, plan)
            yield Check("solubility", Level.NOTE, scene.moment.step, text)


def _undissolved(
    substance: Substance, mass_g: Decimal, found: Dissolution, plan: Plan
) -> str:
    at_C = found.saturation.at_C
    return (
        f"Of {figures(mass_g, 3)} g of {substance.name} about "
        f"{figures(Decimal(found.most_g), 2)} g dissolve in the water there at "
        f"{at_C:.0f} °C: {_mend(found, plan)}. {NOT_RECKONED}"
    )


def _mend(found: Dissolution, plan: Plan) -> str:
    ways = []
    if found.warm_to_C is not None:
        ways.append(f"warm it to {_up(found.warm_to_C)} °C")
    if plan.job.volume_mL and found.water_g <= plan.job.volume_mL:
        ways.append(f"take {figures(Decimal(found.water_g), 2)} mL of water there")
    return " or ".join(ways) or "the rest dissolves once there is more water"


def _over(filled: Ledger, catalogue: Catalogue) -> Iterator[tuple[str, Check]]:
    """What the finished solution cannot hold at 20 degC, by id."""
    for chemical in present(filled):
        found = _at_room(filled, chemical, catalogue)
        if found is None or found.fits:
            continue
        mass_g = filled.present_g(chemical)
        left_g = mass_g - Decimal(found.most_g)
        more_mL = found.water_g - float(water_for(filled, chemical, catalogue))
        warm = ""
        if found.warm_to_C is not None:
            warm = f", or keep and use it at {_up(found.warm_to_C)} °C or more"
        text = (
            f"At {found.saturation.at_C:.0f} °C about {figures(left_g, 2)} g of the "
            f"{figures(mass_g, 3)} g of {catalogue.substance(chemical).name} do not "
            f"dissolve: take {figures(Decimal(more_mL), 2)} mL more water{warm}. "
            f"{NOT_RECKONED}"
        )
        yield chemical, Check("solubility", Level.WARN, None, text)


def _at_room(filled: Ledger, chemical: str, catalogue: Catalogue) -> Dissolution | None:
    """At 20 degC; where the table has no more than 25 degC, whether even that fails."""
    found = dissolution_in(filled, chemical, ROOM_C, catalogue)
    if found is not None:
        return found
    warmer = dissolution_in(filled, chemical, USUAL_TABLE_C, catalogue)
    return None if warmer is None or warmer.fits else warmer


def _in_the_cold(
    filled: Ledger, catalogue: Catalogue, over: Collection[str]
) -> Iterator[Check]:
    """One note on all that crystallises between 20 and 5 degC."""
    begins = {}
    for chemical in present(filled):
        found = dissolution_in(filled, chemical, COLD_ROOM_C, catalogue)
        if chemical not in over and found and found.warm_to_C is not None:
            begins[catalogue.substance(chemical).name] = found.warm_to_C
    if begins:
        grow = "crystallises" if len(begins) == 1 else "crystallise"
        text = (
            f"{capital(joined(begins))} {grow} below about {_up(max(begins.values()))} "
            f"°C: keep it warmer, or warm it and shake before use. {NOT_RECKONED}"
        )
        yield Check("solubility", Level.NOTE, None, text)


def _filled(plan: Plan, catalogue: Catalogue) -> Ledger | None:
    """The finished solution with all its water; None where it is no solution."""
    solution = plan.solution
    if solution.dry:
        return None
    missing_g = solution.free_water_g(catalogue) - solution.ledger.water_g
    return solution.ledger.with_water(max(missing_g, Decimal(0)))


def _up(at_C: float) -> str:
    """To whole degrees, never below."""
    return str(ceil(at_C))
