"""A new bench, whose files explain themselves."""

from collections.abc import Mapping
from pathlib import Path

from labelkit.errors import ShelfError
from labelkit.files.bench import SETTINGS

__all__ = ["new_bench"]

_SETTINGS_TEXT = """\
# The settings of this bench. Every key may be left out; the values below are what
# labelkit takes then. Lines that begin with # are only read by people.

room       = ""        # printed as the place where it was mixed
address    = ""        # with phone: printed on what is given away or sold
phone      = ""
profile    = "own"     # who meets the bottles: "own", "room" (shared), "supply"
regime     = "eu-clp"  # whose labelling rules: "eu-clp", "gb-clp", "un-ghs", "us-hcs"
country    = ""        # for dated notes on chemicals that are restricted there
emergency  = ""        # the number to call; empty: a white field to write it in
disposal   = ""        # where waste goes here; printed in these words
base_url   = ""        # what codes point to, such as "https://bottles.example.org";
                       # empty: the code carries the essentials as text
balance    = "0.1 g"   # the smallest step your balance shows
cylinder   = "5 mL"    # one graduation of the cylinder for the final volume
label      = ""        # a label layout by name; empty: the smallest that carries all
sheet      = ""        # a sheet of labels by name; empty: one label a page
paper      = "A4"      # or "Letter"
mono       = false     # true: the printer has black only
# keyline  = true      # a black edge round red frames, to be seen under red light;
                       # left out: on, but off for "supply"
nudge      = ["0 mm", "0 mm"]  # moves the print right, down: see the calibration page
nudge_back = ["0 mm", "0 mm"]  # the same for the backs of cards
scale      = [1, 1]    # 100 / measured across, 200 / measured down
language   = "en"
"""

_JARS_TEXT = """\
# What stands in the cupboard. A jar's assay corrects what is weighed from it.
#
# [[jar]]
# chemical = "sodium-carbonate-monohydrate"   # by its exact name
# lot      = "A-1402"
# assay    = "99 %"          # from its label or certificate
# opened   = 2031-03-14
# pack     = "500 g"
# price    = "7.50 EUR"
"""

_CHEMICALS_TEXT = """\
# Chemicals that labelkit does not know, or that you know better: they go first.
# Take every figure from the supplier's data sheet, and say so under source.
#
# [[chemical]]
# id      = "house-soda"                   # lower case and hyphens
# names   = ["house soda"]
# parent  = "sodium-carbonate"             # what it is a form of, if anything
# formula = "Na2CO3.H2O"                   # a dot before the crystal water
# cas     = "5968-11-6"
# state   = "solid"                        # or "liquid"
# assay   = "99 %"
# classes = ["Eye Irrit. 2"]               # [] = known to carry none;
#                                          # left out = no data, and the print says so
# source  = "supplier's data sheet, 2031-01"
"""

_RECIPE_TEXT = """\
# A recipe. Its name is the name of this file without .toml.
# Amounts carry their unit, and every chemical is named in its exact form.

title    = "Bromide stock"
makes    = "500 mL"        # the amounts below are for this much
keeps    = "12 months"     # from mixing, and yours to decide; left out: no date
keep_in  = "brown glass bottle"
note     = "Doses the potassium bromide of other formulas."
source   = ""              # where the recipe comes from
revision = "1"
# off_when = "Cloudy, or anything that floats in it"
# part     = "B"           # of a set of solutions used together:
# set      = "name of the set"

[strength]                 # what the label's headline is about
of = "potassium-bromide"

[[step]]
add    = "water"           # kind = "tap" unless you write "boiled" or "distilled"
amount = "350 mL"
at     = "40 degC"

[[step]]
add     = "potassium-bromide"
amount  = "50 g"
text    = "Stir until clear."
caution = "Keep dust and splashes out of eyes: goggles."

[[step]]
cool_to = "25 degC"

[[step]]
make_up_to = "500 mL"      # the same as makes

# A step may also say: in = "second jug" (another vessel), pour = "second jug" (into the
# main one), wait = "10 minutes", assay = "98 %" (what its amount was written for).
#
# [[reaction]]             # only where chemicals turn into others; labelkit balances it
# from = ["borax-decahydrate", "sodium-hydroxide"]
# to   = ["sodium-metaborate-tetrahydrate"]
#
# [use]
# ratio = "1+9"            # this + the others in order + water
#
# [measured]               # on the finished solution; goes before any estimate
# ph      = 6.8
# density = "1.07 g/mL"
"""

_FILES: Mapping[str, str] = {
    SETTINGS: _SETTINGS_TEXT,
    "jars.toml": _JARS_TEXT,
    "chemicals.toml": _CHEMICALS_TEXT,
    "recipes/bromide-stock.toml": _RECIPE_TEXT,
}


def new_bench(folder: Path) -> tuple[Path, ...]:
    """Set up a bench in ``folder``; what is there already is left as it is.

    Returns:
        The files that were written.

    Raises:
        ShelfError: the folder cannot be written.
    """
    try:
        return tuple(
            path
            for name, text in _FILES.items()
            if _written(path := folder / name, text)
        )
    except OSError as error:
        raise ShelfError(
            f"cannot be written ({error.strerror or 'unknown reason'})",
            place=str(folder),
            remedy="Name a folder that you may write to.",
        ) from None


def _written(path: Path, text: str) -> bool:
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        return False
    return True
