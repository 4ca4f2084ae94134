"""What stands in the bottle once everything is in: contents, strength, shares."""

from collections.abc import Iterable
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.crystal_water import crystal_water_share
from labelkit.chemistry.density import WATER_G_PER_ML, Dissolved, estimate_density
from labelkit.chemistry.reactions import Run
from labelkit.chemistry.substances import State, Substance
from labelkit.errors import BadInput
from labelkit.hazards.data import HazardData
from labelkit.hazards.mixture import MixedPart
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER, poured
from labelkit.mixing.job import Job
from labelkit.mixing.ledger import Ledger, Line, react

__all__ = ["Content", "Density", "Solution", "Strength", "make_solution"]

NOTHING = Decimal(0)
# Isopropyl alcohol, the lightest there is here: 0.785 g/mL at 20 degC (CRC Handbook).
LIGHTEST_SPIRIT = Decimal("0.785")


class Density(Struct, frozen=True):
    """Density [g/mL] and whether it was ``measured`` or is an ``estimate``."""

    g_per_mL: Decimal
    source: str


class Content(Struct, frozen=True):
    """One solute of the finished solution; None where it cannot be told.

    Attributes:
        mass_g: of the pure form, in the whole [g].
    """

    chemical: str
    mass_g: Decimal
    g_per_L: Decimal | None
    mol_per_L: Decimal | None
    percent_ww: Decimal | None


class Strength(Struct, frozen=True):
    """How much the solution carries of what formulas ask for.

    Attributes:
        of: id of the form it is expressed as.
        mass_g: of that form, in the whole [g].
        mL_per_g: the equivalence [mL/g].
    """

    of: str
    mass_g: Decimal
    g_per_L: Decimal | None
    mol_per_L: Decimal | None
    mL_per_g: Decimal | None
    percent_ww: Decimal | None


class Solution(Struct, frozen=True):
    """A finished solution or dry mixture.

    Attributes:
        ledger: everything in it, the water that filled it up included where known.
        runs: the reactions as they ran.
        volume_mL: as made up, or as the recipe claims; None where it is made by mass
            and no density was measured.
        dry: nothing in it is liquid: a mixture of powders.
        mass_g: of the whole; None where no density tells it.
        weighed_whole: every part of it was weighed, so shares go by mass.
        density_reason: why there is no density.
    """

    ledger: Ledger
    runs: tuple[Run, ...]
    volume_mL: Decimal | None
    dry: bool
    mass_g: Decimal | None
    density: Density | None
    density_reason: str
    weighed_whole: bool
    contents: tuple[Content, ...]
    strength: Strength | None

    def water_g(self, catalogue: Catalogue) -> Decimal | None:
        """Water with crystal water [g]; None where no density tells what filled it."""
        if self.mass_g is None:
            return None
        bound_g = sum(
            (c.mass_g * crystal_water_share(catalogue.substance(c.chemical)))
            for c in self.contents
        )
        return self.ledger.water_g + bound_g

    def free_water_g(self, catalogue: Catalogue) -> Decimal:
        """Water but for crystal water [g]; without a density, by the rule of thumb."""
        if self.mass_g is not None or self.volume_mL is None:
            return self.ledger.water_g
        parts = _dissolved(self.ledger, catalogue)
        water_mL = self.volume_mL - sum((part.volume_mL for part in parts), NOTHING)
        return max(water_mL * WATER_G_PER_ML, NOTHING)

    def parts(self, catalogue: Catalogue) -> tuple[MixedPart, ...]:
        """Every chemical at its shares [% w/w], for the hazard rules.

        Shares go by mass where every part was weighed, else by the measured density,
        else by g/L ÷ 10; an estimated density may raise a share, never lower one.
        """
        whole_g = self._whole_for_hazards(catalogue)
        return tuple(
            _part(catalogue[chemical].hazard, line, whole_g)
            for chemical, line in self.ledger.lines.items()
        )

    def _whole_for_hazards(self, catalogue: Catalogue) -> Decimal:
        if self.weighed_whole or self.volume_mL is None:
            return self.ledger.mass_g
        density = self.density.g_per_mL if self.density else self._lightest(catalogue)
        if self.density is None or self.density.source != "measured":
            density = min(density, Decimal(1))
        return max(self.volume_mL * density, self._without_water_g(catalogue))

    def _lightest(self, catalogue: Catalogue) -> Decimal:
        """What a solution of unknown density weighs at least [g/mL]."""
        held = (catalogue.substance(c) for c in self.ledger.lines)
        spirit = any("alcohol" in substance.tags for substance in held)
        return LIGHTEST_SPIRIT if spirit else Decimal(1)

    def _without_water_g(self, catalogue: Catalogue) -> Decimal:
        """What the jars and the reactions brought [g]: the whole weighs no less."""
        lines = self.ledger.lines.items()
        added_g = sum(
            (line.added_g / catalogue.substance(c).solute_share for c, line in lines),
            NOTHING,
        )
        present_g = sum((line.present_g for _, line in lines), NOTHING)
        return max(added_g, present_g) + self.ledger.inert_g


def _part(hazard: HazardData, line: Line, whole_g: Decimal) -> MixedPart:
    """One line as shares [% w/w] of what its classes speak of: solute or product."""
    factor = 100 / whole_g / hazard.solute_share
    return MixedPart(
        hazard,
        added=line.added_g * factor,
        consumed=line.consumed_g * factor,
        formed=line.formed_g * factor,
    )


def make_solution(job: Job, catalogue: Catalogue) -> Solution:
    """Pour the doses together, let the declared reactions run, and fill up.

    Raises:
        BadInput: a reaction cannot run, or the strength asked for is not in it.
    """
    ledger, runs = react(
        poured(job.doses, catalogue, job.stocks), job.recipe.reactions, catalogue
    )
    density, reason = _density(ledger, job, catalogue)
    filled = job.recipe.fills_up
    filled_to_g = _made_g(job, density) if filled else ledger.mass_g
    if filled_to_g is not None:
        ledger = ledger.with_water(max(filled_to_g - ledger.mass_g, NOTHING))
    mass_g = ledger.mass_g if filled_to_g is not None else None
    weighed = all(dose.weighed for dose in job.doses)
    return Solution(
        ledger,
        runs,
        job.volume_mL,
        dry=job.volume_mL is None and _is_dry(ledger, catalogue),
        mass_g=mass_g,
        density=density,
        density_reason=reason,
        weighed_whole=weighed and (not filled or job.by_mass),
        contents=_contents(ledger, job.volume_mL, mass_g, catalogue),
        strength=_strength(job, ledger, mass_g, catalogue),
    )


def _made_g(job: Job, density: Density | None) -> Decimal | None:
    """The mass of the whole [g], where it is known before the ledger is added up."""
    if job.by_mass:
        return job.make.number
    if density is None or job.volume_mL is None:
        return None
    return job.volume_mL * density.g_per_mL


def strength_mass_g(ledger: Ledger, of: Substance, catalogue: Catalogue) -> Decimal:
    """Grams of ``of`` that carry the same moles of its parent as the ledger holds.

    Every form with the same parent counts, added or formed; another parent never
    does. A form without a formula counts only as itself.
    """
    if of.molar_mass is None:
        return ledger.present_g(of.id) / of.solute_share
    moles = sum(
        (
            _parent_moles(line.present_g, catalogue.substance(chemical))
            for chemical, line in ledger.lines.items()
            if catalogue.substance(chemical).parent == of.parent
        ),
        NOTHING,
    )
    return moles * of.molar_mass / of.parent_units / of.solute_share


def _parent_moles(mass_g: Decimal, substance: Substance) -> Decimal:
    if substance.molar_mass is None:
        return NOTHING
    return mass_g / substance.molar_mass * substance.parent_units


def _strength(
    job: Job, ledger: Ledger, mass_g: Decimal | None, catalogue: Catalogue
) -> Strength | None:
    if job.recipe.strength_of is None:
        return None
    of, volume_mL = catalogue.substance(job.recipe.strength_of), job.volume_mL
    carried_g = strength_mass_g(ledger, of, catalogue)
    if carried_g <= 0:
        raise _not_in_it(of, ledger, catalogue)
    per_litre = carried_g / volume_mL * 1000 if volume_mL else None
    molar = of.molar_mass and per_litre and per_litre * of.solute_share / of.molar_mass
    return Strength(
        of.id,
        carried_g,
        g_per_L=per_litre,
        mol_per_L=molar,
        mL_per_g=volume_mL / carried_g if volume_mL else None,
        percent_ww=carried_g / mass_g * 100 if mass_g else None,
    )


def _not_in_it(of: Substance, ledger: Ledger, catalogue: Catalogue) -> BadInput:
    holds = ", ".join(c for c, line in ledger.lines.items() if line.present_g > 0)
    return BadInput(
        f"the solution holds no {of.name} and no other form of {of.parent}",
        place="strength, of",
        remedy=f"Name a form of what it holds: {holds or 'nothing but water'}.",
    )


def _contents(
    ledger: Ledger,
    volume_mL: Decimal | None,
    mass_g: Decimal | None,
    catalogue: Catalogue,
) -> tuple[Content, ...]:
    return tuple(
        _content(catalogue.substance(c), line.present_g, volume_mL, mass_g)
        for c, line in ledger.lines.items()
        if line.present_g > 0 and c != WATER
    )


def _content(
    substance: Substance,
    present_g: Decimal,
    volume_mL: Decimal | None,
    mass_g: Decimal | None,
) -> Content:
    per_litre = present_g / volume_mL * 1000 if volume_mL else None
    molar = substance.molar_mass
    return Content(
        substance.id,
        present_g,
        g_per_L=per_litre,
        mol_per_L=per_litre / molar if per_litre is not None and molar else None,
        percent_ww=present_g / mass_g * 100 if mass_g else None,
    )


def _density(
    ledger: Ledger, job: Job, catalogue: Catalogue
) -> tuple[Density | None, str]:
    """The density, or why there is none."""
    if job.measured.density_g_per_mL is not None:
        return Density(job.measured.density_g_per_mL, "measured"), ""
    if job.volume_mL is None:
        return None, "it is made by mass: only a measured density would tell"
    estimate = estimate_density(job.volume_mL, _dissolved(ledger, catalogue))
    if estimate.g_per_mL is None:
        return None, estimate.reason
    return Density(estimate.g_per_mL, "estimate"), ""


def _is_dry(ledger: Ledger, catalogue: Catalogue) -> bool:
    states = (catalogue.substance(chemical).state for chemical in ledger.lines)
    return ledger.water_g <= 0 and all(state is State.SOLID for state in states)


def _dissolved(ledger: Ledger, catalogue: Catalogue) -> Iterable[Dissolved]:
    for chemical, line in ledger.lines.items():
        if line.present_g > 0 and chemical != WATER:
            substance = catalogue.substance(chemical)
            yield Dissolved(
                substance, line.present_g, liquid=substance.state is State.LIQUID
            )
