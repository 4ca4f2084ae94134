"""The order of a developer's steps: preservative, agent, alkali; sequestrant first."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.display import figures
from labelkit.chemistry.heat import SPECIFIC_HEAT
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.caustic import LUKEWARM_C, lye_into_warm
from labelkit.mixing.checks.holding import (
    Scene,
    capital,
    present,
    scenes,
    tagged,
    tags_of,
)
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.ledger import Ledger
from labelkit.mixing.plan import Plan

__all__ = ["check_order"]

METOL = "metol"
# A pinch of the sulfite goes in before metol, about 5 % of it (handbooks, an army
# manual); more than twice that is no pinch any more (ours).
PINCH = Decimal("0.05")
MOST_BEFORE_METOL = 2 * PINCH
SULFITE = frozenset({"sulfite-source"})
SALTS = frozenset({"developer", "sulfite-source", "base", "carbonate", "bromide"})
# Lye is dissolved apart in so much cold water that it warms by no more than this;
# ours: from 15 degC to below 50 [K].
MOST_RISE_K = 30.0


def check_order(plan: Plan, handbook: Handbook, settings: Settings) -> Iterator[Check]:
    """What a developer's recipe puts in too early or too late; silent for dry ones."""
    if plan.solution.dry:
        return
    catalogue = handbook.catalogue
    seen = scenes(plan, catalogue)
    yield from _unpreserved(seen, catalogue)
    yield from _metol(plan, seen, catalogue)
    yield from _agent_into_lye(seen, catalogue)
    yield from _sequestrant(plan, seen, catalogue)
    yield from _warm_lye(plan, seen, catalogue)


def _unpreserved(seen: tuple[Scene, ...], catalogue: Catalogue) -> Iterator[Check]:
    """A developing agent in water without sulfite, although sulfite comes later."""
    for n, scene in enumerate(seen):
        agents = [c for c in _agents(scene, catalogue) if c != METOL]
        later = _first_sulfite(seen[n + 1 :], catalogue)
        if not agents or later is None or _holds(scene, SULFITE, catalogue):
            continue
        name = catalogue.substance(agents[0]).name
        text = (
            f"{capital(name)} goes into water without sulfite and begins to brown: put "
            f"the sulfite of step {later} in first."
        )
        yield Check("order", Level.NOTE, scene.moment.step, text)


def _metol(
    plan: Plan, seen: tuple[Scene, ...], catalogue: Catalogue
) -> Iterator[Check]:
    """Metol wants a pinch of the sulfite before it and the rest after."""
    scene = next((s for s in seen if METOL in _agents(s, catalogue)), None)
    if scene is None:
        return
    whole_g = _sulfite_g(plan.solution.ledger, catalogue)
    before_g = _sulfite_g(scene.moment.before, catalogue)
    pinch = f"{figures(whole_g * PINCH, 1)} g of the {figures(whole_g, 3)} g of sulfite"
    if whole_g > 0 and before_g == 0:
        text = f"Metol browns in plain water: put a pinch first, about {pinch}."
        yield Check("order", Level.NOTE, scene.moment.step, text)
    elif before_g > MOST_BEFORE_METOL * whole_g:
        text = (
            f"Metol hardly dissolves in strong sulfite: about {pinch} before it, the "
            "rest after it has dissolved."
        )
        yield Check("order", Level.NOTE, scene.moment.step, text)


def _agent_into_lye(seen: tuple[Scene, ...], catalogue: Catalogue) -> Iterator[Check]:
    for scene in seen:
        agents = tagged(_dosed(scene), {"developer"}, catalogue)
        lye = tagged(present(scene.before), {"strong-base"}, catalogue)
        if agents and lye:
            text = (
                f"{capital(catalogue.substance(agents[0]).name)} goes into "
                f"{catalogue.substance(lye[0]).name} and oxidises at once: dissolve "
                "it first, the lye last."
            )
            yield Check("order", Level.NOTE, scene.moment.step, text)


def _sequestrant(
    plan: Plan, seen: tuple[Scene, ...], catalogue: Catalogue
) -> Iterator[Check]:
    """A sequestrant goes into tap water before the salts of a developer."""
    waters = [dose.kind for dose in plan.job.doses if dose.chemical == "water"]
    develops = any(_agents(scene, catalogue) for scene in seen)
    if not develops or all(kind == "distilled" for kind in waters):
        return
    for scene in seen:
        late = [c for c in _dosed(scene) if _is_sequestrant(c, catalogue)]
        salts = tagged(present(scene.before), SALTS, catalogue)
        if late and salts:
            text = (
                f"{capital(catalogue.substance(late[0]).name)} softens tap water only "
                "if it goes in before the other salts: put it first."
            )
            yield Check("order", Level.NOTE, scene.moment.step, text)


def _warm_lye(
    plan: Plan, seen: tuple[Scene, ...], catalogue: Catalogue
) -> Iterator[Check]:
    """How to dissolve lye apart, for a step that puts it into warm water."""
    for scene in seen:
        for chemical in lye_into_warm(scene, catalogue):
            name = catalogue.substance(chemical).name
            water = _cold_water_for(plan, scene, chemical, catalogue)
            text = (
                f"Lye goes into cold water: dissolve the {name} apart in {water} and "
                f"pour it in last, when all is below {LUKEWARM_C:.0f} °C."
            )
            yield Check("order", Level.NOTE, scene.moment.step, text)


def _cold_water_for(
    plan: Plan, scene: Scene, chemical: str, catalogue: Catalogue
) -> str:
    """How much cold water it takes; ice where the recipe has no room for so much."""
    substance = catalogue.substance(chemical)
    grams = scene.moment.after.present_g(chemical)
    room_mL = (plan.job.volume_mL or Decimal(0)) - scene.moment.before.water_g
    if substance.heat_of_solution is None or substance.molar_mass is None:
        return "plenty of cold water"
    kJ = -grams / substance.molar_mass * substance.heat_of_solution.value
    whole_g = float(kJ) * 1000 / (SPECIFIC_HEAT * MOST_RISE_K)
    water_mL = Decimal(max(whole_g - float(grams), 1.0))
    if water_mL > room_mL:
        return "cold water that stands in ice, a little at a time,"
    return f"{figures(water_mL, 2)} mL or more of cold water"


def _agents(scene: Scene, catalogue: Catalogue) -> tuple[str, ...]:
    """Developing agents that a step weighs into a vessel with water."""
    if scene.moment.before.water_g <= 0:
        return ()
    return tagged(_dosed(scene), {"developer"}, catalogue)


def _dosed(scene: Scene) -> tuple[str, ...]:
    """What a step adds out of a jar: not what a poured solution brings."""
    dose = scene.moment.dose
    return (dose.chemical,) if dose and dose.chemical in scene.entering else ()


def _holds(scene: Scene, tags: frozenset[str], catalogue: Catalogue) -> bool:
    return bool(tagged(present(scene.before), tags, catalogue))


def _first_sulfite(later: tuple[Scene, ...], catalogue: Catalogue) -> int | None:
    steps = (s.moment.step for s in later if tagged(s.entering, SULFITE, catalogue))
    return next(steps, None)


def _sulfite_g(ledger: Ledger, catalogue: Catalogue) -> Decimal:
    found = tagged(ledger.lines, SULFITE, catalogue)
    return sum((ledger.lines[c].added_g for c in found), Decimal(0))


def _is_sequestrant(chemical: str, catalogue: Catalogue) -> bool:
    """A chelator that is no acid, no oxalate and no citrate: put in for the water."""
    tags = tags_of(chemical, catalogue)
    named = catalogue.substance(chemical).parent in {"edta", "sodium-hexametaphosphate"}
    return "chelator" in tags and named
