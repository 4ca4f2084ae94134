"""The pH of a finished solution: measured, else estimated, else only bounded."""

from collections.abc import Iterable

from labelkit.chemistry.acid_roles import AcidityTable, Solute
from labelkit.chemistry.acidity import estimate_ph
from labelkit.chemistry.ph_bounds import ph_bounds
from labelkit.chemistry.refusal import Refusal
from labelkit.hazards.mixture import Acidity
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.recipe import Measured
from labelkit.mixing.solution import Solution

__all__ = ["acidity_of"]

Bounds = tuple[float, float]


def acidity_of(
    solution: Solution, measured: Measured, catalogue: Catalogue, table: AcidityTable
) -> tuple[Acidity | None, Bounds | None, str]:
    """The pH, the bounds it is proven to lie in, and why there is no pH.

    Args:
        solution: as it stands after the declared reactions.
        measured: a pH that was measured wins over every estimate.
        catalogue: the chemicals.
        table: equilibrium constants, and what each chemical brings.
    """
    if measured.ph is not None:
        value = float(measured.ph)
        return Acidity(value, value, value, "measured"), (value, value), ""
    if solution.dry:
        return None, None, "a dry mixture has no pH"
    solutes = tuple(_solutes(solution, catalogue))
    proven = ph_bounds(solutes, table)
    bounds = (proven.low, proven.high) if proven else None
    estimate = estimate_ph(solutes, table)
    if isinstance(estimate, Refusal):
        return None, bounds, estimate.reason
    acidity = Acidity(estimate.value, estimate.low, estimate.high, "estimate")
    return acidity, bounds, ""


def _solutes(solution: Solution, catalogue: Catalogue) -> Iterable[Solute]:
    """Mol per kg of water; mol per litre where the water is not known."""
    water_kg = float(solution.water_g(catalogue) or solution.volume_mL or 0) / 1000
    for content in solution.contents:
        substance = catalogue.substance(content.chemical)
        if substance.molar_mass is None or not water_kg:
            yield Solute.of(substance, None)
            continue
        moles = float(content.mass_g / substance.molar_mass)
        yield Solute.of(substance, moles / water_kg)
