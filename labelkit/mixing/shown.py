"""What the instrument should read for a dose, as a person reads it."""

from decimal import Decimal

from labelkit.chemistry.display import figures, show_mass_g, show_volume_mL
from labelkit.mixing.bench import Settings
from labelkit.mixing.doses import Dose
from labelkit.mixing.job import Job

__all__ = ["shown_dose", "shown_quantity", "shown_volume"]

# Less than this many graduations is measured in something finer than the cylinder for
# the final volume; common practice, no source.
GRADUATIONS = 10


def shown_dose(dose: Dose, settings: Settings) -> str:
    """``8.7 g`` or ``300 mL``, to what the bench's instruments can read."""
    if dose.mass_g is not None:
        return show_mass_g(dose.mass_g, settings.balance_g)
    return shown_volume(dose.poured_mL, settings)


def shown_quantity(job: Job, settings: Settings) -> str:
    """What the whole is filled up to, by the cylinder or on the balance."""
    if job.volume_mL is None:
        return show_mass_g(job.make.number, settings.balance_g)
    return shown_volume(job.volume_mL, settings)


def shown_volume(volume_mL: Decimal, settings: Settings) -> str:
    """``300 mL`` or ``1.5 L``; small volumes to three figures."""
    if volume_mL < GRADUATIONS * settings.cylinder_mL:
        return f"{figures(volume_mL, 3)} mL"
    return show_volume_mL(volume_mL, settings.cylinder_mL)
