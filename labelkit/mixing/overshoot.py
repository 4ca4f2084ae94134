"""Too much went in: what else must go in, and how far to fill, to keep the strength."""

from collections.abc import Iterable
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount
from labelkit.mixing.doses import WATER, Dose
from labelkit.mixing.job import Job

__all__ = ["FAR_OFF", "Rescue", "off_by", "rescue_for", "scaled_job"]

# A reading further off than this is asked again [share of the planned figure].
FAR_OFF = Decimal("0.1")


class Rescue(Struct, frozen=True):
    """A larger mix that has what was overshot in the planned proportion.

    Attributes:
        times: how much larger it is.
        job: everything planned again for it.
        more: what must be added to the steps that are done already; each dose is the
            difference.
    """

    times: Decimal
    job: Job
    more: tuple[Dose, ...]


def off_by(amount: Amount, dose: Dose) -> Decimal | None:
    """How far a reading is from what was planned, as a share: 0.2 for a fifth more.

    None where the one is a mass and the other a volume.
    """
    times = _ratio(dose.read_as(amount), dose)
    return None if times is None else times - 1


def rescue_for(job: Job, over: Dose, done: Iterable[Dose]) -> Rescue | None:
    """What keeps the strength after too much went in at one step.

    Args:
        job: as planned.
        over: the dose that was overshot, as it was read.
        done: the other doses that are in already, as they were read or planned.

    Returns:
        None where nothing is to be mended: it was not too much, or it was water that
        only shortens the filling up.
    """
    planned = next(dose for dose in job.doses if dose.step == over.step)
    if job.recipe.fills_up and planned.chemical == WATER:
        return None
    times = _ratio(over, planned)
    if times is None or times <= 1:
        return None
    larger = scaled_job(job, times)
    wanted = {dose.step: dose for dose in larger.doses}
    missing = (_missing(dose, wanted[dose.step]) for dose in done)
    more = (
        dose
        for dose in missing
        if dose is not None
        and not (job.recipe.fills_up and dose.chemical == WATER)
        and dose.step != over.step
    )
    return Rescue(times, larger, tuple(more))


def scaled_job(job: Job, times: Decimal) -> Job:
    """The job for ``times`` as much."""
    volume_mL = job.volume_mL
    return replace(
        job,
        make=Amount(job.make.number * times, job.make.dimension),
        doses=tuple(_times(dose, times) for dose in job.doses),
        volume_mL=None if volume_mL is None else volume_mL * times,
    )


def _times(dose: Dose, times: Decimal) -> Dose:
    return replace(
        dose,
        mass_g=None if dose.mass_g is None else dose.mass_g * times,
        volume_mL=None if dose.volume_mL is None else dose.volume_mL * times,
    )


def _ratio(read: Dose, planned: Dose) -> Decimal | None:
    if read.mass_g is not None and planned.mass_g is not None:
        return read.mass_g / planned.mass_g
    if read.volume_mL is not None and planned.volume_mL is not None:
        return read.volume_mL / planned.volume_mL
    return None


def _missing(inside: Dose, wanted: Dose) -> Dose | None:
    """What is short of ``wanted``; None where enough is in."""
    if inside.mass_g is not None and wanted.mass_g is not None:
        short_g = wanted.mass_g - inside.mass_g
        return replace(wanted, mass_g=short_g, read=False) if short_g > 0 else None
    if inside.volume_mL is not None and wanted.volume_mL is not None:
        short_mL = wanted.volume_mL - inside.volume_mL
        return replace(wanted, volume_mL=short_mL) if short_mL > 0 else None
    return None
