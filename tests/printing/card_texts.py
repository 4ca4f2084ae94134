"""Cards of the Tern Street Print Room, their words put together by hand.

The statements are the wording of Regulation (EC) No 1272/2008, Annexes III and IV.
Rooms, people and numbers are invented; 01632 960 is kept for fiction (Ofcom, telephone
numbers for use in television and radio drama programmes, from memory).
"""

from decimal import Decimal

from msgspec.structs import replace

from labelkit.mixing.words import (
    CardAmount,
    CardColumn,
    CardNote,
    CardRow,
    CardText,
    HazardText,
    Headline,
    PartMark,
    Pictogram,
    Run,
    Scale,
    Words,
)

AID = (
    "Hazard text is worked out from the ingredients as an aid. Suppliers' data sheets "
    "and local rules come first; a licensed professional decides where the law asks "
    "for one."
)
ROOM = "Tern Street Print Room. Scan for this recipe and its batches."
FIRST_WORDS: Words = (
    Run("Swallowed:", strong=True),
    Run(" rinse mouth. "),
    Run("In eyes:", strong=True),
    Run(" rinse with water for several minutes. "),
    Run("Call and read out this card.", strong=True),
)


def amounts(*told: str) -> tuple[CardAmount, ...]:
    return tuple(map(CardAmount, told))


def strong(told: str) -> Words:
    return (Run(told, strong=True),)


def note(term: str, told: str) -> CardNote:
    return CardNote(term, (Run(told),))


UP_TO: Words = (Run("Fill with cold water ", strong=True), Run("up to", strong=True))

BORATE = CardText(
    name="Borate alkali stock",
    headline=Headline(
        "equivalence",
        "20 mL = 1 g",
        "sodium metaborate",
        "tetrahydrate",
        scale=Scale(Decimal(20)),
    ),
    summary="50 g/L, 5 % w/v. Keeps 12 months.",
    columns=(
        CardColumn("250 mL", "500 mL"),
        CardColumn("500 mL", "1 L"),
        CardColumn("1 L", "2 L"),
    ),
    rows=(
        CardRow(
            "step", 1, strong("Water, 40 °C"), "", amounts("150 mL", "300 mL", "600 mL")
        ),
        CardRow(
            "step",
            2,
            strong("Borax decahydrate"),
            "stir until clear",
            amounts("8.7 g", "17.3 g", "34.6 g"),
        ),
        CardRow("text", 3, strong("Cool to 25 °C, not below: it crystallises")),
        CardRow(
            "step",
            4,
            strong("Water, 15 °C"),
            "",
            amounts("25 mL", "50 mL", "100 mL"),
            vessel="second jug",
        ),
        CardRow(
            "step",
            5,
            strong("Sodium hydroxide"),
            "98 %, into the water",
            amounts("1.9 g", "3.7 g", "7.4 g"),
            "Goggles on. A little at a time. It heats up. No aluminium.",
            "second jug",
        ),
        CardRow("pour", 6, strong("Pour the second jug into the first")),
        CardRow("fill", 7, UP_TO, "", amounts("250 mL", "500 mL", "1 L")),
    ),
    hazard=HazardText(
        signal="DANGER",
        pictograms=(Pictogram("GHS08", "Health hazard"),),
        contains="Contains borates.",
        statements=("May damage fertility. May damage the unborn child.",),
        precautions=(
            (Run("Keep out of reach of children."),),
            (
                Run(
                    "Do not handle until all safety precautions have been read and "
                    "understood."
                ),
            ),
            (Run("Wear protective gloves and eye protection."),),
            (Run("IF exposed or concerned:", strong=True), Run(" Get medical advice.")),
            (Run("Store locked up."),),
            (Run("Dispose of contents and container as hazardous waste."),),
        ),
        open_points=("Not determined: metal corrosion.",),
    ),
    first_words=FIRST_WORDS,
    never_with="NEVER WITH ammonium salts (rapid fixer): ammonia gas.",
    notes=(
        CardNote(
            "The powders",
            (
                Run("Sodium hydroxide, dry: DANGER.", strong=True),
                Run(
                    " Causes severe skin burns and eye damage. Goggles and gloves "
                    "before the jar is opened. "
                ),
                Run("Borax, dry:", strong=True),
                Run(" as the solution, above. No dust."),
            ),
        ),
        note(
            "While mixing",
            "Lye goes into cold water, a pinch at a time, stirring. Wait when the jug "
            "feels hot. If it splashes: rinse at once and go on rinsing.",
        ),
        note(
            "If it spills",
            "Gloves on. Wipe up with plenty of water. Powder: sweep up damp, never "
            "with bare hands.",
        ),
        note(
            "Storage",
            "HDPE bottle, plastic cap. Cold makes crystals: warm to 25 °C and shake. "
            "Locked up.",
        ),
        note("Disposal", "As hazardous waste. Ask the room. Not down the sink."),
        note(
            "Why",
            "1 borax + 2 sodium hydroxide make 4 metaborate. 250 mL on a 0.1 g "
            "balance: strength good to about 2 %.",
        ),
    ),
    aid_full=AID,
    code="HTTPS://BOTTLES.EXAMPLE.ORG/R/BORATE-ALKALI",
    code_means="The page of this recipe",
    volume_mL=Decimal(500),
    revision="revision 1, 2031-02",
    room=ROOM,
    emergency="01632 960 118",
)

BLUEPRINT = CardText(
    name="Blueprint sensitiser",
    headline=Headline("dilution", "1 + 1", "A + B", beside="4 mL = 1 g"),
    summary="250 g/L, 25 % w/v. Keeps 12 months, brown glass.",
    columns=(
        CardColumn("50 mL", "100 mL"),
        CardColumn("100 mL", "250 mL"),
        CardColumn("250 mL", "500 mL"),
    ),
    rows=(
        CardRow(
            "step",
            1,
            strong("Water, 20 °C"),
            "distilled",
            amounts("30 mL", "60 mL", "150 mL"),
        ),
        CardRow(
            "step",
            2,
            strong("Ferric ammonium citrate, green"),
            "",
            amounts("12.5 g", "25 g", "62.5 g"),
        ),
        CardRow("text", 3, strong("Stir in dim light until clear. Dark green.")),
        CardRow("fill", 4, UP_TO, "", amounts("50 mL", "100 mL", "250 mL")),
        CardRow("text", 5, strong("Brown bottle, cap, label A. Then mix B.")),
    ),
    hazard=HazardText(
        none_reached=(
            Run(
                "No hazard class reached by calculation. This does not mean safe.",
                strong=True,
            ),
            Run(" Keep off skin, out of eyes, away from children and food."),
        ),
        open_points=(
            "No official entry: ferric ammonium citrate.",
            "Not determined: metal corrosion, pH.",
        ),
    ),
    first_words=FIRST_WORDS,
    never_with="NEVER WITH bleach: poison gas. Strong alkali: ammonia gas.",
    notes=(
        note(
            "While mixing",
            "Gloves: it stains skin and cloth. No steel spoon. Dim tungsten light; "
            "daylight and white tubes ruin it.",
        ),
        note("In use", "1 + 1 with B just before coating; the mixture keeps one day."),
        note("Off when", "Mould, or paper that fogs blue in the whites. Test a strip."),
        note("If it spills", "Wipe up wet, rinse. Dry stains turn blue in the light."),
        note("Disposal", "Collect; ask the room. Not down the sink."),
    ),
    aid_full=AID,
    code="HTTPS://BOTTLES.EXAMPLE.ORG/R/BLUEPRINT-A",
    code_means="The page of this recipe",
    volume_mL=Decimal(100),
    part=PartMark("A", "B"),
    revision="revision 1, 2031-02",
    room=ROOM,
    emergency="01632 960 118",
)

DEVELOPER = replace(
    BORATE,
    name="Warm-tone film developer concentrate",
    headline=Headline("dilution", "1 + 9", "developer + water", beside="50 + 450 mL"),
    summary="Keeps 6 months full, 2 months once opened.",
    columns=(CardColumn("500 mL", "1 L"), CardColumn("1 L", "2 L")),
    rows=(
        CardRow(
            "step",
            1,
            strong("Water, 45 °C"),
            "boiled and cooled",
            amounts("350 mL", "700 mL"),
        ),
        CardRow(
            "step",
            2,
            strong("Metol"),
            "after a pinch of the sulfite; stir until clear before the next",
            amounts("3 g", "6 g"),
        ),
        CardRow(
            "step", 3, strong("Sodium sulfite, anhydrous"), "", amounts("60 g", "120 g")
        ),
        CardRow(
            "step",
            4,
            strong("Hydroquinone"),
            "",
            amounts("10 g", "20 g"),
            "Gloves and goggles on. Do not breathe the dust: weigh it where the air "
            "is drawn off, and wipe the balance with a wet cloth afterwards.",
        ),
        CardRow("step", 5, strong("Potassium carbonate"), "", amounts("40 g", "80 g")),
        CardRow("step", 6, strong("Potassium bromide"), "", amounts("2 g", "4 g")),
        CardRow("fill", 7, UP_TO, "", amounts("500 mL", "1 L")),
    ),
    hazard=HazardText(
        signal="DANGER",
        pictograms=(
            Pictogram("GHS05", "Corrosive"),
            Pictogram("GHS08", "Health hazard"),
            Pictogram("GHS09", "Environment"),
        ),
        alert="pH not measured: labelled as corrosive to be safe.",
        contains="Contains hydroquinone, metol.",
        statements=(
            "Causes severe skin burns and eye damage.",
            "May cause an allergic skin reaction.",
            "Suspected of causing genetic defects.",
            "Suspected of causing cancer.",
            "Toxic to aquatic life with long lasting effects.",
        ),
        precautions=(
            (Run("Keep out of reach of children."),),
            (Run("Wear protective gloves, protective clothing and eye protection."),),
            (
                Run("IF ON SKIN (or hair):", strong=True),
                Run(
                    " Take off immediately all contaminated clothing. Rinse skin with "
                    "water."
                ),
            ),
            (
                Run("IF IN EYES:", strong=True),
                Run(
                    " Rinse cautiously with water for several minutes. Remove contact "
                    "lenses, if present and easy to do. Continue rinsing."
                ),
            ),
            (Run("IF exposed or concerned:", strong=True), Run(" Get medical advice.")),
            (Run("Dispose of contents and container as hazardous waste."),),
        ),
        open_points=("Not determined: metal corrosion.",),
    ),
    code="HTTPS://BOTTLES.EXAMPLE.ORG/R/WARM-TONE-DEVELOPER",
    volume_mL=Decimal(1000),
    emergency="",
)


def with_columns(text: CardText, *indices: int) -> CardText:
    """The same card for some of its batch sizes."""
    return replace(
        text,
        columns=tuple(text.columns[index] for index in indices),
        rows=tuple(
            replace(row, amounts=tuple(row.amounts[index] for index in indices))
            if row.amounts
            else row
            for row in text.rows
        ),
    )


ONE_BATCH = with_columns(BORATE, 1)
STOP_BATH = replace(
    BORATE,
    name="Stop bath",
    headline=Headline("ready", "USE AS IS"),
    summary="Keeps 6 months.",
    notes=BORATE.notes[1:4],
    rows=(BORATE.rows[0], replace(BORATE.rows[6], number=2)),
    hazard=HazardText(
        signal="WARNING",
        pictograms=(Pictogram("GHS07", "Irritant"),),
        statements=("Causes serious eye irritation.",),
        precautions=DEVELOPER.hazard.precautions[:4],
    ),
)
HARMFUL_TO_WATER = replace(
    STOP_BATH,
    hazard=HazardText(
        statements=("Harmful to aquatic life with long lasting effects.",),
        precautions=((Run("Avoid release to the environment."),),),
    ),
)
