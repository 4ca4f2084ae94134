"""The order of acids: into water, diluted before sulfite, after it into hypo."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.display import figures
from labelkit.chemistry.substances import State
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.buffered import sulfite_later
from labelkit.mixing.checks.holding import (
    Scene,
    capital,
    percent,
    present,
    scenes,
    tagged,
    tags_of,
)
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_acid_order"]

# Formulas are written for acetic acid of 28 %; glacial and 60 % are diluted first.
# That the line stands at 30 % is ours [% w/w of the acid as it stands in the jar].
STRONG_JAR = Decimal(30)
DILUTED_TO = Decimal(28)
SULFITE = frozenset({"sulfite-source"})


def check_acid_order(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """Acids that go in undiluted, before the sulfite, or before the water."""
    if plan.solution.dry:
        return
    catalogue = handbook.catalogue
    seen = scenes(plan, catalogue)
    for scene in seen:
        yield from _undiluted(scene, catalogue)
        yield from _before_sulfite(scene, seen, catalogue)
        yield from _water_onto_acid(scene, catalogue)


def _undiluted(scene: Scene, catalogue: Catalogue) -> Iterator[Check]:
    """Acid out of a strong jar straight onto sulfite."""
    dose = scene.moment.dose
    if dose is None or dose.chemical not in scene.entering:
        return
    onto = tagged(present(scene.before), SULFITE, catalogue)
    mineral = "strong-acid" in tags_of(dose.chemical, catalogue)  # another remark's
    if not onto or mineral or not _is_strong_jar(dose.chemical, catalogue):
        return
    substance = catalogue.substance(dose.chemical)
    water_g = _water_to_dilute(scene, dose.chemical, catalogue)
    text = (
        f"{capital(substance.name)} straight onto {catalogue.substance(onto[0]).name} "
        f"gives off choking gas: stir it into {figures(water_g, 2)} mL of cold water "
        "first, then pour that in slowly."
    )
    yield Check("order", Level.WARN, scene.moment.step, text)


def _before_sulfite(
    scene: Scene, seen: tuple[Scene, ...], catalogue: Catalogue
) -> Iterator[Check]:
    """Acid and thiosulfate that meet before the sulfite is there."""
    pair = (
        ({"acid", "mild-acid"}, {"thiosulfate"}),
        ({"thiosulfate"}, {"acid", "mild-acid"}),
    )
    meets = any(
        tagged(scene.entering, new, catalogue)
        and tagged(present(scene.before), old, catalogue)
        for new, old in pair
    )
    later = sulfite_later(scene, seen, catalogue)
    if meets and later:
        text = (
            "Acid meets thiosulfate here without sulfite: sulfur falls out and choking "
            f"gas comes off. Put the sulfite of step {later} in before the acid."
        )
        yield Check("order", Level.WARN, scene.moment.step, text)


def _water_onto_acid(scene: Scene, catalogue: Catalogue) -> Iterator[Check]:
    """Water poured onto a strong jar of acid; sulfuric acid has a remark of its own."""
    before = scene.moment.before
    if scene.water_in_g <= 0:
        return
    for chemical in present(before):
        if not _is_strong_jar(chemical, catalogue):
            continue
        if percent(before, chemical) < STRONG_JAR or _spits(chemical, catalogue):
            continue
        name = catalogue.substance(chemical).name
        text = f"Water goes onto {name} here: water first, then the acid into it."
        strong = "strong-acid" in tags_of(chemical, catalogue)
        level = Level.WARN if strong else Level.NOTE
        yield Check("order", level, scene.moment.step, text)


def _is_strong_jar(chemical: str, catalogue: Catalogue) -> bool:
    substance = catalogue.substance(chemical)
    if substance.state is State.SOLID or "acid" not in tags_of(chemical, catalogue):
        return False
    return (substance.percent_by_mass or Decimal(100)) > STRONG_JAR


def _spits(chemical: str, catalogue: Catalogue) -> bool:
    return "dehydrating" in tags_of(chemical, catalogue)


def _water_to_dilute(scene: Scene, chemical: str, catalogue: Catalogue) -> Decimal:
    """Water that brings what goes in to 28 % [g], at least its own weight."""
    moment = scene.moment
    pure_g = moment.after.present_g(chemical) - moment.before.present_g(chemical)
    jar_g = pure_g / catalogue.substance(chemical).solute_share
    return max(pure_g / DILUTED_TO * 100 - jar_g, Decimal(1))
