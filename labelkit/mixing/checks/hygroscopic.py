"""Powders that are no longer what they weigh: damp, dried out, spoilt by air."""

from collections.abc import Iterator

from labelkit.chemistry.substances import State
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.assay import carries_the_strength, has_no_assay
from labelkit.mixing.checks.holding import capital, tags_of
from labelkit.mixing.doses import Dose
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_hygroscopic"]

# What each flag does to a weighed gram, the worst first (handbooks, recalled).
DAMP = "takes up water from the air: clumped or wet powder is weaker than it weighs"
SAID = {
    "deliquescent": DAMP,
    "absorbs_co2": "turns to carbonate in air: crusted powder is weaker than it weighs",
    "efflorescent": "loses crystal water: powdery white crystals are stronger than they"
    " weigh",
    "air_oxidised": "turns to sulfate in air: old powder is weaker than it weighs",
    "hygroscopic": DAMP,
}
# Air spoils developing agents too, but they brown and so tell it themselves.
OXIDISED = "air_oxidised"


def check_hygroscopic(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """At most one note, of a powder that the strength on the label rests on.

    Silent where an assay is known, and where the assay itself is remarked on.
    """
    steps = {step.number: step for step in plan.recipe.steps}
    catalogue = handbook.catalogue
    for dose in plan.job.doses:
        if dose.chemical not in catalogue:
            continue
        said = _said(dose, catalogue)
        rests = carries_the_strength(dose, plan, catalogue)
        if said and rests and has_no_assay(dose, steps[dose.step], handbook):
            name = capital(catalogue.substance(dose.chemical).name)
            text = f"{name} {said}. Take it from a dry, tightly closed jar."
            yield Check("hygroscopic", Level.NOTE, dose.step, text)
            return


def _said(dose: Dose, catalogue: Catalogue) -> str:
    substance = catalogue.substance(dose.chemical)
    if substance.state is not State.SOLID or _has_its_own_remark(dose, catalogue):
        return ""
    flags = substance.flags
    if "sulfite-source" not in tags_of(dose.chemical, catalogue):
        flags -= {OXIDISED}
    return next((words for flag, words in SAID.items() if flag in flags), "")


def _has_its_own_remark(dose: Dose, catalogue: Catalogue) -> bool:
    """Whether it runs wet and has a formula: then its unknown assay is remarked on."""
    substance = catalogue.substance(dose.chemical)
    return "deliquescent" in substance.flags and substance.molar_mass is not None
