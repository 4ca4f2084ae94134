"""The words for units, and what each of them means or why it is refused.

Factors of metric units stand here; every other factor stands, beside its source, in
``data/units.txt``.
"""

from collections.abc import Mapping
from decimal import Decimal

__all__ = [
    "DROPS",
    "MASSES",
    "REFUSED",
    "UNNAMED_VOLUMES",
    "VOLUMES",
    "METRIC_MASSES_g",
    "METRIC_VOLUMES_mL",
    "as_word",
]

_GRAM, _KILOGRAM, _MILLIGRAM = Decimal(1), Decimal(1000), Decimal("0.001")
_MILLILITRE, _CENTILITRE = Decimal(1), Decimal(10)
_DECILITRE, _LITRE = Decimal(100), Decimal(1000)

# By symbol, where upper and lower case tell units apart (mg, Mg), or by word.
METRIC_MASSES_g: Mapping[str, Decimal] = {
    **dict.fromkeys(("g", "gram", "grams", "gramme", "grammes"), _GRAM),
    **dict.fromkeys(("kg", "kilogram", "kilograms"), _KILOGRAM),
    **dict.fromkeys(("mg", "milligram", "milligrams"), _MILLIGRAM),
}
METRIC_VOLUMES_mL: Mapping[str, Decimal] = {
    **dict.fromkeys(("mL", "ml", "cc", "cm3", "cm³"), _MILLILITRE),
    **dict.fromkeys(
        ("millilitre", "millilitres", "milliliter", "milliliters"), _MILLILITRE
    ),
    **dict.fromkeys(("cL", "cl"), _CENTILITRE),
    **dict.fromkeys(("dL", "dl"), _DECILITRE),
    **dict.fromkeys(("L", "l", "litre", "litres", "liter", "liters"), _LITRE),
}

# Word, in lower case, to its name in data/units.txt.
MASSES: Mapping[str, str] = {
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "pound"),
    **dict.fromkeys(("oz", "ounce", "ounces"), "ounce"),
    **dict.fromkeys(("ozt", "oz t", "troy ounce", "troy ounces"), "troy_ounce"),
    **dict.fromkeys(("grain", "grains"), "grain"),
    **dict.fromkeys(("drachm", "drachms"), "drachm"),
}

# Words for volumes that differ between the two systems, to the name they share.
UNNAMED_VOLUMES: Mapping[str, str] = {
    **dict.fromkeys(("minim", "minims"), "minim"),
    **dict.fromkeys(
        ("fl dr", "fl dram", "fl drams", "fl drachm", "fl drachms"), "fl_drachm"
    ),
    **dict.fromkeys(("fluid dram", "fluid drachm", "fluid drachms"), "fl_drachm"),
    **dict.fromkeys(("fl oz", "fluid ounce", "fluid ounces"), "fl_oz"),
    **dict.fromkeys(("gill", "gills"), "gill"),
    **dict.fromkeys(("pint", "pints", "pt"), "pint"),
    **dict.fromkeys(("quart", "quarts", "qt"), "quart"),
    **dict.fromkeys(("gallon", "gallons", "gal"), "gallon"),
}
_SYSTEMS = {"us": "US", "u s": "US", "imp": "imp", "imperial": "imp", "uk": "imp"}
VOLUMES: Mapping[str, str] = {
    f"{system} {word}": f"{prefix}_{name}"
    for system, prefix in _SYSTEMS.items()
    for word, name in UNNAMED_VOLUMES.items()
}

DROPS = frozenset({"drop", "drops"})

_KITCHEN = (
    "is a kitchen measure that differs from house to house",
    "Weigh a powder in g, measure a liquid in mL.",
)
# Word, in lower case, to what is wrong with it and what to write instead.
REFUSED: Mapping[str, tuple[str, str]] = {
    "gr": ("does not say which: grain or gram?", "Write g or grain."),
    **dict.fromkeys(
        ("dram", "drams", "dr"),
        (
            "does not say which: the drachm of 60 grains, or a sixteenth of an oz?",
            "Write drachm, or the amount in g.",
        ),
    ),
    **dict.fromkeys(
        ("cup", "cups", "teaspoon", "teaspoons", "tsp", "pinch", "handful"), _KITCHEN
    ),
    **dict.fromkeys(("tablespoon", "tablespoons", "tbsp", "spoon", "spoons"), _KITCHEN),
    **dict.fromkeys(
        ("part", "parts"),
        ("is a share, not an amount", "Write how many g or mL one part is."),
    ),
}


def as_word(unit: str) -> str:
    """A unit in lower case, without full stops and extra spaces: ``Fl. Oz.``, fl oz."""
    return " ".join(unit.replace(".", " ").casefold().split())
