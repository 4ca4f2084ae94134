"""The Tern Street Print Room: batches with their words put together by hand.

Statements are the wording of Regulation (EC) No 1272/2008, Annexes III and IV; which
class is whose is not the pages' matter. Rooms, people and numbers are invented.
"""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from msgspec.structs import replace

from labelkit.chemistry.amounts import parse_amount
from labelkit.chemistry.display import show_amount
from labelkit.errors import BadInput, Unknown
from labelkit.mixing.bench import Settings
from labelkit.mixing.plain import to_plain
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.said import AID_FULL
from labelkit.mixing.words import (
    CardAmount,
    CardColumn,
    CardNote,
    CardRow,
    CardText,
    HazardText,
    Headline,
    PageCaution,
    PageContent,
    PageReason,
    PageText,
    PageWeighing,
    PartMark,
    Pictogram,
    Run,
    Scale,
)

ROOM = Settings(
    room="Tern Street Print Room",
    emergency="01632 960 118",
    base_url="https://bottles.example.org",
)
# Check characters by mixing.numbers, which is held against ISO/IEC 7812-1 elsewhere.
BORATE, BROMIDE, BATH = "7M3K-2QWX-Y", "C4RT-90NB-B", "W1RK-5ZP7-V"
NOON = datetime.fromisoformat("2031-03-14T12:00:00")
TAIL = "BORATE-ALKALI-STOCK-20ML-1G-2031-03-14"

BORATE_PAGE = PageText(
    name="Borate alkali stock",
    number=BORATE,
    recipe="borate-alkali",
    headline=Headline(
        "equivalence",
        "20 mL = 1 g",
        "sodium metaborate",
        "tetrahydrate",
        scale=Scale(Decimal(20)),
    ),
    strength=("50\u00a0g/L", "5\u00a0%\u00a0w/v"),
    contents=(
        PageContent("borax decahydrate", "0.026 g/L", "", "0.00257 % w/w"),
        PageContent(
            "sodium metaborate tetrahydrate", "50 g/L", "0.363 mol/L", "4.93 % w/w"
        ),
    ),
    contents_sentence=(
        Run("Made from borax decahydrate 34.6 and sodium hydroxide 7.3 g/L."),
    ),
    made="Mixed 2031-03-14 by M. Osei, Tern Street Print Room.",
    discard_label="Discard after",
    discard="2032-03-14",
    hazard=HazardText(
        "DANGER",
        (Pictogram("GHS08", "Health hazard"),),
        alert="pH not measured: labelled as corrosive to be safe",
        contains="Contains borates.",
        statements=("May damage fertility. May damage the unborn child.",),
        precautions=(
            (Run("Wear protective gloves and eye protection."),),
            (Run("IF exposed or concerned:", strong=True), Run(" Get medical advice.")),
        ),
        open_points=("Not determined: metal corrosion.",),
    ),
    first_words=(
        Run("Swallowed:", strong=True),
        Run(" rinse mouth. "),
        Run("Call and read out this page.", strong=True),
    ),
    never_with="NEVER WITH ammonium salts (rapid fixer): ammonia gas.",
    aid_full=AID_FULL,
    weighings=(
        PageWeighing(1, "Water", "300 mL", ""),
        PageWeighing(2, "Borax decahydrate", "17.3 g", "17.4 g"),
    ),
    steps=(
        CardRow("step", 1, (Run("Water, 40 °C"),), amounts=(CardAmount("300 mL"),)),
        CardRow(
            "step",
            2,
            (Run("Sodium hydroxide"),),
            amounts=(CardAmount("3.7 g"),),
            caution="Goggles on. A little at a time.",
            vessel="second jug",
        ),
        CardRow("fill", 3, (Run("Fill up to"),), amounts=(CardAmount("500 mL"),)),
    ),
    notes=(CardNote("Storage", (Run("HDPE bottle."),)),),
    reasons=(
        PageReason("Repr. 1B", "boron 0.35 % >= 0.3 %", "Annex VI, Note 11"),
        PageReason("Eye Irrit. 2", "not reached: 0.4 % < 10 %", "Table 3.3.3"),
    ),
    bottles=("250 mL", "250 mL"),
    mL_per_g=Decimal("20.003"),
    off_when="or when darker than weak tea.",
    use_mark="ASK M. Osei",
    emergency="01632 960 118",
    room="Tern Street Print Room",
    keep_in="HDPE bottle",
    equations=("A + B → C: sodium hydroxide is used up, nothing left over.",),
    remarks=("Borax stays in solution down to 12 °C only.",),
    estimates=("pH about 11.2 (11.1 to 11.3), estimated.",),
    handling=(PageCaution("Vessel", "No aluminium.", "common practice, no source"),),
)

BROMIDE_PAGE = replace(
    BORATE_PAGE,
    name="Potassium bromide",
    number=BROMIDE,
    recipe="bromide-stock",
    headline=Headline("equivalence", "10 mL = 1 g", "potassium bromide"),
    hazard=HazardText(
        none_reached=(
            Run(
                "No hazard class reached by calculation. This does not mean safe.",
                strong=True,
            ),
            Run(" Keep off skin, out of eyes, away from children and food."),
        ),
    ),
    bottles=("250 mL",),
    part=PartMark("B", "A", "1 + 1 + 100"),
    discard_label="",
    discard="No discard date known: test before use.",
    mL_per_g=Decimal(10),
    use_mark="",
)

BATH_PAGE = replace(
    BROMIDE_PAGE,
    name="Pyro working bath",
    number=BATH,
    recipe="pyro-working",
    headline=Headline(
        "dilution", "1 + 1 + 100", "A + B + water", beside="5 + 5 + 500 mL"
    ),
    part=None,
    discard_label="Discard after",
    discard="2031-03-14 15:40",
    mL_per_g=None,
)


def record(page: PageText, discard_after: str | None, **changed: Any) -> Record:
    """A batch that was frozen with the words of ``page``."""
    code = f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{page.number}"
    tail = f"/{TAIL}" if page.number == BORATE else ""
    fields = {
        "number": page.number,
        "recipe": page.recipe,
        "title": page.name,
        "mixed_on": datetime.fromisoformat("2031-03-14T14:40:00"),
        "made_by": "M. Osei",
        "discard_after": discard_after,
        "bottles": len(page.bottles),
        "data": {
            "volume_mL": "500",
            "answer": {
                "strength": {"relative_u": 0.014},
                "acknowledged": ["incompatible"],
            },
            "words": {
                "page": to_plain(page),
                "bottles": [{"code": f"{code}{tail}"} for _ in page.bottles],
            },
        },
    }
    return Record(**{**fields, **changed})


RECORDS = (
    record(BORATE_PAGE, "2032-03-14"),
    record(BROMIDE_PAGE, None, mixed_on=datetime.fromisoformat("2031-02-01T10:00:00")),
    record(
        BATH_PAGE,
        "2031-03-14 15:40",
        mixed_on=datetime.fromisoformat("2031-03-14T14:41:00"),
    ),
)


def happened(what: str, bottle: int | None = 1, **changed: Any) -> Event:
    """Something that happened to a bottle of the borate stock."""
    fields = {
        "batch": BORATE,
        "bottle": bottle,
        "what": what,
        "at": datetime.fromisoformat("2031-04-01T09:30:00"),
        "by": "R. Lindqvist-Amara",
    }
    return Event(**{**fields, **changed})


CARD = CardText(
    name="Borate alkali stock",
    headline=BORATE_PAGE.headline,
    summary="50 g/L, 5 % w/v. Keeps 12 months.",
    columns=(CardColumn("250 mL", "500 mL"), CardColumn("500 mL", "1 L")),
    rows=(
        CardRow(
            "step",
            1,
            (Run("Borax decahydrate", strong=True),),
            "Stir until clear.",
            (CardAmount("8.7 g"), CardAmount("17.3 g")),
            caution="No dust.",
        ),
        CardRow("text", 2, (Run("Cool to 25 °C"),)),
    ),
    hazard=BORATE_PAGE.hazard,
    first_words=(
        *BORATE_PAGE.first_words[:-1],
        Run("Call and read out this card.", strong=True),
    ),
    never_with=BORATE_PAGE.never_with,
    notes=(CardNote("If it spills", (Run("Gloves on."),)),),
    aid_full=AID_FULL,
    code="HTTPS://BOTTLES.EXAMPLE.ORG/R/BORATE-ALKALI",
    code_means="Code: the page of the recipe Borate alkali stock",
    volume_mL=Decimal(500),
    revision="revision 1",
    emergency="01632 960 118",
)


class Cards:
    """Three recipes, of which one is at fault."""

    def names(self) -> Sequence[str]:
        return ("borate-alkali", "bromide-stock", "torn-page")

    def card(self, name: str, make: str | None = None) -> CardText:
        if make is not None:
            column = CardColumn(show_amount(parse_amount(make)), "1 L")
            rows = tuple(replace(row, amounts=row.amounts[:1]) for row in CARD.rows)
            return replace(self.card(name), columns=(column,), rows=rows)
        if name == "torn-page":
            raise BadInput("'5 mls' has an unknown unit", place="/home/osei/torn.toml")
        if name not in self.names():
            raise Unknown(f"there is no recipe '{name}'")
        return replace(CARD, name="Potassium bromide") if "brom" in name else CARD
