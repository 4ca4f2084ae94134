"""What the instrument should read for a dose, as a person reads it."""

from decimal import Decimal

from labelkit.chemistry.display import figures, show_mass_g, show_volume_mL
from labelkit.mixing.bench import Settings
from labelkit.mixing.doses import Dose

__all__ = ["shown_dose", "shown_volume"]

# Less than this many graduations is measured in something finer than the cylinder for
# the final volume; common practice, no source.
GRADUATIONS = 10


def shown_dose(dose: Dose, settings: Settings) -> str:
    """``8.7 g`` or ``300 mL``, to what the bench's instruments can read."""
    if dose.mass_g is not None:
        return show_mass_g(dose.mass_g, settings.balance_g)
    assert dose.volume_mL is not None
    return shown_volume(dose.volume_mL, settings)


def shown_volume(volume_mL: Decimal, settings: Settings) -> str:
    """``300 mL`` or ``1.5 L``; small volumes to three figures."""
    if volume_mL < GRADUATIONS * settings.cylinder_mL:
        return f"{figures(volume_mL, 3)} mL"
    return show_volume_mL(volume_mL, settings.cylinder_mL)
