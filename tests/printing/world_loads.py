"""Bottles of six weights of hazard text, for measuring what each layout carries.

The weights are those of design, print-spec section 5; the wording comes from labelkit's
own statements, so that the measure follows what is really printed.
"""

import re
from decimal import Decimal

from msgspec.structs import replace

from labelkit.files.statements import read_statements
from labelkit.mixing.words import BottleText, HazardText, Pictogram, Run, Words
from tests.printing.label_texts import BORATE, BROMIDE, CALL, IN_EYES, SWALLOWED

__all__ = ["LOADS", "STATEMENTS", "load", "precaution", "sentence"]

STATEMENTS = read_statements()
_LEAD_IN = re.compile(r"^IF [^:]+:")
_WORN = ("gloves", "eyes")

Load = tuple[str, tuple[tuple[str, str], ...], str, str, str]

_EYES = "P305+P351+P338"
# Signal word, pictograms, what is named, H and EUH, P.
_CLASSES: dict[str, Load] = {
    "one": (
        "DANGER",
        (("GHS08", "Health hazard"),),
        "Contains borates.",
        "H360FD",
        "P102 P202 P280 P308+P313 P405 P501",
    ),
    "two": (
        "WARNING",
        (("GHS08", "Health hazard"), ("GHS07", "Irritant")),
        "Contains pyrogallol.",
        "H341 H319 EUH031",
        f"P102 P202 P280 P308+P313 {_EYES} P501",
    ),
    "five": (
        "WARNING",
        (("GHS08", "Health hazard"), ("GHS07", "Irritant")),
        "Contains hydroquinone, metol.",
        "H351 H341 H317 H319 H412",
        f"P102 P280 P308+P313 P333+P313 {_EYES} P501",
    ),
    "corr": (
        "DANGER",
        (("GHS05", "Corrosive"), ("GHS09", "Environment")),
        "Contains silver nitrate.",
        "H314 H410",
        f"P102 P280 P273 P303+P361+P353 {_EYES}+P310 P501",
    ),
    "full": (
        "DANGER",
        (("GHS05", "Corrosive"), ("GHS08", "Health hazard"), ("GHS07", "Harmful")),
        "Contains hydroquinone, metol.",
        "H302+H312+H332 H317 H318 H341 H412 EUH031",
        f"P260 P280 P302+P352 {_EYES} P308+P313 P501",
    ),
}
LOADS = ("none", *_CLASSES)


def sentence(code: str) -> str:
    """A statement as it is printed, the places a supplier fills in filled."""
    fill = STATEMENTS.fill
    worn = f" {fill['and']} ".join(fill[word] for word in _WORN)
    told = STATEMENTS.by_code[code].wording()
    told = told.format(protection=worn, disposal=fill["disposal"], name="")
    return told if told.endswith(".") else f"{told}."


def precaution(code: str) -> Words:
    """A precaution, its lead-in strong."""
    told = sentence(code)
    lead_in = _LEAD_IN.match(told)
    if not lead_in:
        return (Run(told),)
    return (Run(lead_in[0], strong=True), Run(told[lead_in.end() :]))


def load(name: str, mL: int | str = 500) -> BottleText:
    """A bottle of some volume, in one piece.

    Those with a class differ in their hazard block alone, and in that the first words
    leave the eyes out where a statement says what to do.
    """
    volume_mL = Decimal(mL)
    if name == "none":
        return replace(BROMIDE, volume_mL=volume_mL)
    signal, pictures, contains, hazards, precautions = _CLASSES[name]
    hazard = HazardText(
        signal,
        tuple(Pictogram(*picture) for picture in pictures),
        contains=contains,
        statements=tuple(map(sentence, hazards.split())),
        precautions=tuple(map(precaution, precautions.split())),
        open_points=("Not determined: metal corrosion.",),
    )
    eyes = () if _EYES in precautions else IN_EYES
    return replace(
        BORATE,
        hazard=hazard,
        first_words=(*SWALLOWED, *eyes, CALL),
        volume_mL=volume_mL,
        bottle="",
    )
