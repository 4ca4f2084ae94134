"""Lye and concentrated sulfuric acid: what meets what, and how warm the water is."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.substances import State
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.holding import (
    Scene,
    capital,
    percent,
    present,
    scenes,
    tags_of,
)
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["LUKEWARM_C", "check_caustic", "is_dry_lye", "lye_into_warm"]

# Handbooks want cold water for lye and warn that hot water can erupt. Where cold ends
# and hot begins is ours; 50 is also where the catalogue's own caution stands [degC].
LUKEWARM_C, HOT_C = 30.0, 50.0
# Of what the vessel then holds: less of it is a pinch, one level less grave; ours [%].
MORE_THAN_A_PINCH = Decimal(1)
# Water on this much acid is water on the concentrate; ours [% w/w].
CONCENTRATE = Decimal(50)


def check_caustic(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """Lye into warm water, water onto lye, and water onto sulfuric acid."""
    catalogue = handbook.catalogue
    for scene in scenes(plan, catalogue):
        for chemical in lye_into_warm(scene, catalogue):
            yield _into_warm(scene, chemical, catalogue)
        if scene.water_in_g > 0:
            yield from _water_onto(scene, catalogue)


def is_dry_lye(chemical: str, catalogue: Catalogue) -> bool:
    """Whether it is a solid that heats water much and burns: hydroxides above all."""
    substance, tags = catalogue.substance(chemical), tags_of(chemical, catalogue)
    heat = substance.heat_of_solution
    return (
        substance.state is State.SOLID
        and "strong-base" in tags
        and "sulfide" not in tags
        and (heat is None or heat.value < 0)
    )


def lye_into_warm(scene: Scene, catalogue: Catalogue) -> tuple[str, ...]:
    """The dry lye that a step puts into water of more than 30 degC."""
    dry = scene.water_in_g <= 0 < scene.moment.before.water_g
    if not dry or scene.moment.before_C <= LUKEWARM_C:
        return ()
    return tuple(c for c in scene.entering if is_dry_lye(c, catalogue))


def _into_warm(scene: Scene, chemical: str, catalogue: Catalogue) -> Check:
    at_C = scene.moment.before_C
    little = percent(scene.moment.after, chemical) < MORE_THAN_A_PINCH
    name = catalogue.substance(chemical).name
    text = (
        f"{capital(name)} into water of {at_C:.0f} °C can boil up and throw lye in the "
        f"face: cool the water below {LUKEWARM_C:.0f} °C first, best to 20 °C. "
        "Goggles on."
    )
    level = _milder(little) if at_C > HOT_C else _mildest(little)
    return Check("warming", level, scene.moment.step, text)


def _water_onto(scene: Scene, catalogue: Catalogue) -> Iterator[Check]:
    before = scene.moment.before
    for chemical in present(before):
        lye = is_dry_lye(chemical, catalogue) and before.water_g <= 0
        acid = "dehydrating" in tags_of(chemical, catalogue)
        if not lye and not (acid and percent(before, chemical) >= CONCENTRATE):
            continue
        name = catalogue.substance(chemical).name
        little = percent(scene.moment.after, chemical) < MORE_THAN_A_PINCH
        text = (
            f"Water goes onto {name} here: it boils and spits in the face. Turn it "
            f"round: cold water first, then the {name}, a little at a time, stirring."
        )
        yield Check("warming", _milder(little), scene.moment.step, text)


def _milder(little: bool) -> Level:
    return Level.WARN if little else Level.STOP


def _mildest(little: bool) -> Level:
    return Level.NOTE if little else Level.WARN
