"""Bottles of the Tern Street Print Room, their words put together by hand.

The statements are the wording of Regulation (EC) No 1272/2008, Annexes III and IV; the
classes are those that shared design notes give for these solutions. Rooms, people and
numbers are invented.
"""

from decimal import Decimal

from msgspec.structs import replace

from labelkit.mixing.words import (
    BottleText,
    HazardText,
    Headline,
    PartMark,
    Pictogram,
    Run,
    Scale,
    Tally,
    Words,
)

HOST = "HTTPS://BOTTLES.EXAMPLE.ORG/B/"
AID = "An aid: data sheets, local rules, licensed practice come first."
AID_FULL = (
    "Hazard text is worked out from the ingredients as an aid. Suppliers' data sheets "
    "and local rules come first; a licensed professional decides where the law asks "
    "for one."
)
MADE = "Mixed 2031-03-14 by M. Osei, Tern Street Print Room."
NUMBER_TO_CALL = "01632 960 118"

HEALTH = Pictogram("GHS08", "Health hazard")
IRRITANT = Pictogram("GHS07", "Irritant")
CORROSIVE = Pictogram("GHS05", "Corrosive")
ENVIRONMENT = Pictogram("GHS09", "Environment")

P102: Words = (Run("Keep out of reach of children."),)
P202: Words = (
    Run("Do not handle until all safety precautions have been read and understood."),
)
P273: Words = (Run("Avoid release to the environment."),)
P280: Words = (Run("Wear protective gloves and eye protection."),)
P308_P313: Words = (
    Run("IF exposed or concerned:", strong=True),
    Run(" Get medical advice."),
)
P333_P313: Words = (Run("If skin irritation or rash occurs: Get medical advice."),)
P337_P313: Words = (Run("If eye irritation persists: Get medical advice."),)
P405: Words = (Run("Store locked up."),)
P501: Words = (Run("Dispose of contents and container as hazardous waste."),)
EYES: Words = (
    Run("IF IN EYES:", strong=True),
    Run(
        " Rinse cautiously with water for several minutes. Remove contact lenses, if "
        "present and easy to do. Continue rinsing."
    ),
)
EYES_AND_CALL: Words = (*EYES, Run(" Immediately call a doctor."))
SKIN: Words = (
    Run("IF ON SKIN (or hair):", strong=True),
    Run(" Take off immediately all contaminated clothing. Rinse skin with water."),
)

CALL = Run("Call and read out this label.", strong=True)
SWALLOWED = (Run("Swallowed:", strong=True), Run(" rinse mouth. "))
IN_EYES = (
    Run("In\u00a0eyes:", strong=True),
    Run(" rinse with water for several minutes. "),
)
NONE_REACHED: Words = (
    Run(
        "No hazard class reached by calculation. This does not mean safe.", strong=True
    ),
    Run(" Keep off skin, out of eyes, away from children and food."),
)


def bottle(name: str, number: str, headline: Headline, **words: object) -> BottleText:
    """A bottle of the print room; what is not given is as on most of its bottles."""
    usual = BottleText(
        name=name,
        number=number,
        headline=headline,
        strength=(),
        contents=(),
        made=MADE,
        discard_label="Discard after",
        discard="2032-03-14",
        hazard=HazardText(),
        first_words=(*SWALLOWED, *IN_EYES, CALL),
        never_with="",
        aid=AID,
        aid_full=AID_FULL,
        code=HOST + number,
        code_means=f"Opens the record of batch {number}",
        volume_mL=Decimal(500),
        emergency=NUMBER_TO_CALL,
    )
    return replace(usual, **words)


BORATE = bottle(
    "Borate alkali stock",
    "7M3K-2QWX-Y",
    Headline(
        "equivalence",
        "20 mL = 1 g",
        "sodium metaborate",
        "tetrahydrate",
        scale=Scale(Decimal(20)),
    ),
    strength=("50 g/L", "5 % w/v"),
    contents=(Run("Made from borax decahydrate 34.6 and sodium hydroxide 7.3 g/L."),),
    hazard=HazardText(
        "DANGER",
        (HEALTH,),
        contains="Contains borates.",
        statements=("May damage fertility. May damage the unborn child",),
        precautions=(P102, P202, P280, P308_P313, P405, P501),
        open_points=("Not determined: metal corrosion.",),
    ),
    never_with="NEVER WITH ammonium salts (rapid fixer): ammonia gas.",
    bottle="bottle 1 of 2",
)

BROMIDE = bottle(
    "Potassium bromide",
    "C4RT-90NB-B",
    Headline(
        "equivalence", "10 mL = 1 g", "potassium bromide", scale=Scale(Decimal(10))
    ),
    strength=("100 g/L", "10 % w/v"),
    discard="2033-03-14",
    hazard=HazardText(
        none_reached=NONE_REACHED,
        open_points=(
            "No official entry: potassium bromide.",
            "Not determined: metal corrosion.",
        ),
    ),
    volume_mL=Decimal(250),
)

BATH = bottle(
    "Pyro working bath",
    "W1RK-5ZP7-V",
    Headline("dilution", "1 + 1 + 100", "A + B + water", beside="5 + 5 + 500 mL"),
    contents=(Run("g/L: pyrogallol 1, sodium carbonate 2."),),
    made="Mixed 14:40 by M. Osei, Tern Street Print Room.",
    mixed="mixed 14:40",
    by="M. Osei, Tern Street Print Room.",
    discard="2031-03-14 15:40",
    hazard=HazardText(
        none_reached=NONE_REACHED,
        open_points=("Not determined: pH, metal corrosion.",),
    ),
    volume_mL=Decimal(500),
)

PYROGALLOL = bottle(
    "Pyrogallol",
    "PYR8-A3DV-H",
    Headline("equivalence", "10 mL = 1 g", "pyrogallol", scale=Scale(Decimal(10))),
    strength=("100 g/L", "10 % w/v"),
    contents=(Run("With "), Run("sodium metabisulfite", True), Run(" 10 g/L.")),
    discard="2031-09-14",
    off_when="or when darker than weak tea.",
    hazard=HazardText(
        "WARNING",
        (HEALTH, IRRITANT),
        contains="Contains pyrogallol.",
        statements=(
            "Suspected of causing genetic defects",
            "Causes serious eye irritation",
            "Contact with acids liberates toxic gas",
        ),
        precautions=(P102, P202, P280, P308_P313, EYES, P501),
        open_points=("Not determined: metal corrosion.",),
    ),
    first_words=(*SWALLOWED, CALL),
    never_with="NEVER WITH acid (stop bath, vinegar): choking gas.",
    part=PartMark("A", "B", "1 + 1 + 100"),
    volume_mL=Decimal(250),
)

CARBONATE = bottle(
    "Carbonate",
    "B5KE-71HS-F",
    Headline(
        "equivalence",
        "5 mL = 1 g",
        "sodium carbonate",
        "anhydrous",
        scale=Scale(Decimal(5)),
    ),
    strength=("200 g/L", "20 % w/v"),
    contents=(Run("In tap water."),),
    cautions=("Plastic cap, no glass stopper: it sticks.",),
    hazard=HazardText(
        "WARNING",
        (IRRITANT,),
        statements=("Causes serious eye irritation",),
        precautions=(P102, P280, EYES, P337_P313, P501),
        open_points=("Not determined: metal corrosion.",),
    ),
    first_words=(*SWALLOWED, CALL),
    never_with="NEVER WITH ammonium salts (rapid fixer): ammonia gas.",
    part=PartMark("B", "A", "1 + 1 + 100"),
    volume_mL=Decimal(250),
)

DEVELOPER = bottle(
    "Film developer",
    "Q9DV-3MH4-E",
    Headline("dilution", "1 + 9", "developer + water", beside="50 + 450 mL"),
    contents=(
        Run("g/L: "), Run("sodium sulfite", True), Run(" anhydrous 120, "),
        Run("potassium carbonate", True), Run(" 80, "),
        Run("hydroquinone", True), Run(" 20, "), Run("metol", True), Run(" 6, "),
        Run("potassium bromide", True), Run(" 4. pH 10.6 measured."),
    ),
    discard="2031-09-14",
    hazard=HazardText(
        "WARNING",
        (HEALTH, IRRITANT),
        contains="Contains hydroquinone, metol.",
        statements=(
            "Suspected of causing cancer",
            "Suspected of causing genetic defects",
            "May cause an allergic skin reaction",
            "Causes serious eye irritation",
            "Harmful to aquatic life with long lasting effects",
        ),
        precautions=(P102, P280, P308_P313, P333_P313, EYES, P501),
        open_points=("Not determined: metal corrosion.",),
    ),
    first_words=(*SWALLOWED, CALL),
    never_with="NEVER WITH acid (stop bath, vinegar): choking gas.",
    tally=Tally(20, "one box, one film: 50 mL"),
    volume_mL=Decimal(1000),
)  # fmt: skip

SILVER = bottle(
    "Silver nitrate",
    "AG2N-6TXM-7",
    Headline("equivalence", "10 mL = 1 g", "silver nitrate", scale=Scale(Decimal(10))),
    strength=("100 g/L", "10 % w/v"),
    contents=(Run("In distilled water."),),
    discard="2031-09-14",
    off_when="or at black specks.",
    hazard=HazardText(
        "DANGER",
        (CORROSIVE, ENVIRONMENT),
        contains="Contains silver nitrate.",
        statements=(
            "Causes severe skin burns and eye damage",
            "Very toxic to aquatic life with long lasting effects",
        ),
        precautions=(P102, P280, P273, SKIN, EYES_AND_CALL, P501),
        open_points=("Not determined: oxidising, metal corrosion.",),
    ),
    first_words=(*SWALLOWED, CALL),
    never_with="NEVER WITH ammonia: if kept, it can explode.",
    volume_mL=Decimal(250),
)

LOADS = {
    "none": BROMIDE,
    "one": BORATE,
    "two": PYROGALLOL,
    "five": DEVELOPER,
    "corr": SILVER,
}
