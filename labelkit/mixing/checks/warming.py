"""What gets too hot: for the bottle, for the jug, for the face above it."""

import re
from collections.abc import Iterator
from math import ceil

from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.holding import Scene, present, scenes, tagged
from labelkit.mixing.checks.solubility import cools_itself_out, dissolution_in
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_warming"]

# HDPE takes a fill of 63 degC, PET none that is hot (a plastics supplier); 60 is the
# contract's round figure below both [degC].
PLASTIC_C = 60.0
# Close to boiling: a grain more makes it spit; ours [degC].
BOILS_C = 95.0
FREEZES_C = 0.0
PLASTIC = re.compile(
    r"\b(hdpe|ldpe|pe|pet|pete|pvc|plastic|polythene|polyethylene)\b", re.IGNORECASE
)
STRONG = frozenset({"strong-base", "strong-acid"})


def check_warming(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """Above 95 degC anywhere, above 60 degC in plastic, and salts that cool too far."""
    seen = scenes(plan, handbook.catalogue)
    yield from _boiling(seen, handbook)
    yield from _plastic_vessels(seen)
    yield from _hot_fill(plan)
    yield from _cooled_out(seen, handbook)


def _boiling(seen: tuple[Scene, ...], handbook: Handbook) -> Iterator[Check]:
    """The first step above 95 degC; deadly where a strong acid or base is in it."""
    for scene in seen:
        hot_C = _peak_C(scene)
        if hot_C <= BOILS_C:
            continue
        held = present(scene.after)
        strong = tagged(held, STRONG, handbook.catalogue)
        what = "throws lye or acid in the face" if strong else "scalds"
        text = (
            f"It would come to about {hot_C:.0f} °C here, boils up and {what}: take "
            "colder water, or a little at a time with cooling between."
        )
        yield Check(
            "warming",
            Level.STOP if strong else Level.WARN,
            scene.moment.step,
            text,
        )
        return


def _plastic_vessels(seen: tuple[Scene, ...]) -> Iterator[Check]:
    """The first step at which a vessel that is called plastic gets too hot."""
    told: set[str] = set()
    for scene in seen:
        vessel, hot_C = scene.moment.vessel, _peak_C(scene)
        if vessel in told or hot_C <= PLASTIC_C or not PLASTIC.search(vessel):
            continue
        told.add(vessel)
        text = (
            f"The {vessel} comes to about {hot_C:.0f} °C; plastic may soften above "
            f"{PLASTIC_C:.0f} °C: take glass or stainless steel."
        )
        yield Check("warming", Level.WARN, scene.moment.step, text)


def _hot_fill(plan: Plan) -> Iterator[Check]:
    main = [moment for moment in plan.moments if not moment.vessel]
    if not main or not PLASTIC.search(plan.recipe.keep_in):
        return
    end_C = main[-1].after_C
    if end_C > PLASTIC_C:
        text = (
            f"It is still about {end_C:.0f} °C when it is done, too hot for "
            f"{plan.recipe.keep_in}: cool it below {PLASTIC_C:.0f} °C before bottling."
        )
        yield Check("warming", Level.WARN, main[-1].step, text)


def _cooled_out(seen: tuple[Scene, ...], handbook: Handbook) -> Iterator[Check]:
    """Salts that cool their water below what would dissolve them, or below freezing."""
    for scene in seen:
        needed_C = _needed_C(scene, handbook)
        moment = scene.moment
        if needed_C is None or moment.dose is None:
            continue
        name = handbook.catalogue.substance(moment.dose.chemical).name
        text = (
            f"Dissolving {name} cools it from {moment.before_C:.0f} to "
            f"{moment.after_C:.0f} °C, too cold to dissolve it all: start with "
            f"{_up(needed_C - moment.rise_K)} °C or more."
        )
        yield Check("warming", Level.NOTE, moment.step, text)


def _needed_C(scene: Scene, handbook: Handbook) -> float | None:
    """How warm it must end for all to dissolve, where it ends too cold for that."""
    moment = scene.moment
    if moment.after_C < FREEZES_C < moment.before_C and moment.dose:
        found = dissolution_in(
            scene.after, moment.dose.chemical, FREEZES_C, handbook.catalogue
        )
        return FREEZES_C if found is None or found.fits else found.warm_to_C
    found = cools_itself_out(scene, handbook.catalogue)
    return found.warm_to_C if found else None


def _peak_C(scene: Scene) -> float:
    return max(scene.moment.before_C, scene.moment.after_C)


def _up(at_C: float) -> str:
    """To whole degrees, never below."""
    return str(ceil(at_C))
