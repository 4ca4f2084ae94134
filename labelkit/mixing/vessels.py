"""The steps walked through vessel by vessel: what is in each, and how warm it is."""

from collections.abc import Iterator
from decimal import Decimal

from msgspec import Struct, field
from msgspec.structs import replace

from labelkit.chemistry.heat import mixed_C, warming
from labelkit.chemistry.substances import Substance
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER, Dose, poured
from labelkit.mixing.job import Job
from labelkit.mixing.ledger import EMPTY, Ledger, Line
from labelkit.mixing.recipe import Step

__all__ = ["ROOM_C", "Moment", "walk"]

# Water and solutions of which nothing is said; common practice, no source.
ROOM_C = 20.0


class Moment(Struct, frozen=True):
    """One step, with its vessel before and after.

    Attributes:
        dose: what went in; None for pouring together, cooling and filling up.
        before: what the vessel held.
        after: what it holds then; nothing has reacted.
        before_C: how warm it was, once poured together but before anything dissolved.
        after_C: how warm it is then.
        dissolves: ids of what dissolves then and warms or cools by a known heat.
        not_counted: what the temperature leaves out.
    """

    step: int
    vessel: str
    dose: Dose | None
    before: Ledger
    after: Ledger
    before_C: float
    after_C: float
    dissolves: tuple[str, ...] = ()
    not_counted: tuple[str, ...] = ()

    @property
    def rise_K(self) -> float:
        """How far the step warms the vessel; negative where it cools."""
        return self.after_C - self.before_C


class _Vessel(Struct):
    holds: Ledger = EMPTY
    at_C: float = ROOM_C


class _Bench(Struct):
    vessels: dict[str, _Vessel] = field(default_factory=dict)

    def vessel(self, name: str) -> _Vessel:
        return self.vessels.setdefault(name, _Vessel())


def walk(job: Job, catalogue: Catalogue) -> tuple[Moment, ...]:
    """Every step of a job as a moment, in the order of the recipe."""
    return tuple(_moments(job, catalogue))


def _moments(job: Job, catalogue: Catalogue) -> Iterator[Moment]:
    bench = _Bench()
    doses = {dose.step: dose for dose in job.doses}
    for step in job.recipe.steps:
        vessel = bench.vessel(step.vessel)
        dose = doses.get(step.number)
        if dose is not None:
            yield _add(step, dose, vessel, job, catalogue)
        elif step.pour is not None:
            yield _pour(step, vessel, bench.vessels.pop(step.pour, _Vessel()))
        elif step.cool_to_C is not None:
            yield _cool(step, vessel)
        elif step.make_up_to is not None:
            yield _fill(step, vessel, job.volume_mL or job.make.number)


def _add(
    step: Step, dose: Dose, vessel: _Vessel, job: Job, catalogue: Catalogue
) -> Moment:
    before, was_C = vessel.holds, vessel.at_C
    added = poured([dose], catalogue, job.stocks)
    vessel.holds = before.plus(added)
    wet = before.water_g > 0
    if dose.chemical == WATER or dose.chemical.startswith("recipe:"):
        at_C = ROOM_C if dose.at_C is None else float(dose.at_C)
        was_C = vessel.at_C = _together(before, was_C, added, at_C)
        dissolving = EMPTY if wet else before  # what lay dry dissolves now
    else:
        dissolving = added if wet else EMPTY
    jars = [_as_in_the_jar(line, catalogue) for line in dissolving.lines.values()]
    if not jars:
        return _moment(step, dose, before, vessel, was_C)
    heat = warming(jars, vessel.holds.mass_g, was_C)
    vessel.at_C = heat.peak_C
    return replace(
        _moment(step, dose, before, vessel, was_C),
        dissolves=tuple(s.id for s, _ in jars if s.heat_of_solution),
        not_counted=heat.not_counted,
    )


def _as_in_the_jar(line: Line, catalogue: Catalogue) -> tuple[Substance, Decimal]:
    substance = catalogue.substance(line.chemical)
    return substance, line.present_g / substance.solute_share


def _pour(step: Step, vessel: _Vessel, other: _Vessel) -> Moment:
    before = vessel.holds
    vessel.at_C = _together(before, vessel.at_C, other.holds, other.at_C)
    vessel.holds = before.plus(other.holds)
    return _moment(step, None, before, vessel, vessel.at_C)


def _cool(step: Step, vessel: _Vessel) -> Moment:
    assert step.cool_to_C is not None
    was_C = vessel.at_C
    vessel.at_C = min(was_C, float(step.cool_to_C))
    return _moment(step, None, vessel.holds, vessel, vessel.at_C)


def _fill(step: Step, vessel: _Vessel, full: Decimal) -> Moment:
    """Cold water up to ``full`` [mL or g]: a gram for each mL, near enough."""
    before = vessel.holds
    missing_g = max(full - before.mass_g, Decimal(0))
    water = EMPTY.with_water(missing_g)
    vessel.at_C = _together(before, vessel.at_C, water, ROOM_C)
    vessel.holds = before.plus(water)
    return _moment(step, None, before, vessel, vessel.at_C)


def _together(one: Ledger, one_C: float, other: Ledger, other_C: float) -> float:
    parts = [(one.mass_g, one_C), (other.mass_g, other_C)]
    present = [(mass_g, at_C) for mass_g, at_C in parts if mass_g > 0]
    return mixed_C(present) if present else one_C


def _moment(
    step: Step,
    dose: Dose | None,
    before: Ledger,
    vessel: _Vessel,
    before_C: float,
) -> Moment:
    return Moment(
        step.number, step.vessel, dose, before, vessel.holds, before_C, vessel.at_C
    )
