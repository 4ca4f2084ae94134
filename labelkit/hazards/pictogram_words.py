"""The word printed under each pictogram, so that nothing is told by a picture alone."""

from collections.abc import Iterable

from labelkit.hazards.classes import read_class
from labelkit.hazards.label import keep_exclamation

__all__ = ["pictogram_word"]

_WORDS = {
    "GHS01": "Explosive",
    "GHS02": "Flammable",
    "GHS03": "Oxidising",
    "GHS04": "Gas under pressure",
    "GHS05": "Corrosive",
    "GHS06": "Toxic",
    "GHS08": "Health hazard",
    "GHS09": "Environment",
}
_EXCLAMATION = "GHS07"
_IRRITANTS = ("Skin Irrit.", "Eye Irrit.", "STOT SE")


def pictogram_word(code: str, classes: Iterable[str]) -> str:
    """The word for a pictogram on a label with these classes.

    The exclamation mark says Harmful for acute toxicity, Allergy for a skin sensitiser
    alone, else Irritant.
    """
    if code != _EXCLAMATION:
        return _WORDS[code]
    families = {one.family for one in keep_exclamation(map(read_class, classes))}
    if "Acute Tox." in families:
        return "Harmful"
    return "Allergy" if families == {"Skin Sens."} else "Irritant"
