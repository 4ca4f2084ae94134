"""Words of a weighing-out sheet and of a workshop's cover, put together by hand."""

from msgspec.structs import replace

from labelkit.mixing.pack_text import Needed, PackText, TaskText
from labelkit.mixing.weighing_sheet import WeighingRow, WeighingText
from labelkit.mixing.words import CardNote, CardRow, Run
from tests.printing.card_texts import AID, BORATE, FIRST_WORDS, ONE_BATCH, note

LOTS = {2: "jar TS-0377", 5: "jar TS-0412"}


def rows_of(steps: tuple[CardRow, ...]) -> tuple[WeighingRow, ...]:
    return tuple(
        WeighingRow(
            step,
            weighed=step.number in LOTS,
            read=bool(step.amounts),
            lots=LOTS.get(step.number, ""),
            known="±2.1 %" if step.number == 5 else "",
        )
        for step in steps
    )


SHEET = WeighingText(
    name=BORATE.name,
    quantity="250\u00a0mL",
    headline=BORATE.headline,
    strength="50 g/L, 5 % w/v.",
    rows=rows_of(ONE_BATCH.rows),
    hazard=BORATE.hazard,
    before=BORATE.notes[:3],
    remarks=(note("Beware", "1.9 g is little for this balance. (Step 5.)"),),
    first_words=FIRST_WORDS,
    never_with=BORATE.never_with,
    aid_full=AID,
    typed="labelkit mix borate-alkali --make 250mL --weighed 2=____g",
    volume_mL=BORATE.volume_mL,
    known_note="± is how well a balance that reads 0.1 g knows it.",
    whom="R. Barros",
    room="Tern Street Print Room",
    emergency="01632 960 118",
)


def with_steps(count: int) -> WeighingText:
    """A sheet of so many powders, every fifth in a second jug, every ninth a STOP."""
    step = BORATE.rows[1]
    made = [
        replace(
            step,
            number=number,
            amounts=step.amounts[:1],
            caution="Slowly. It heats up." if number % 9 == 0 else "",
            vessel="second jug" if number % 10 > 5 else "",
        )
        for number in range(1, count + 1)
    ]
    rows = tuple(WeighingRow(one, weighed=True, read=True) for one in made)
    return replace(SHEET, rows=rows)


COVER = PackText(
    title="Film developer from raw powders",
    about="2031-04-12, Tern Street Print Room, with M. Osei",
    people="2 people: A. Lindqvist, R. Barros.",
    note="Bring an apron.",
    tasks=(
        TaskText("Borate alkali stock", "250\u00a0mL", "2 ×", "each person"),
        TaskText("Plain fixer", "2\u00a0L", "1 ×", "the room together"),
    ),
    needed=(
        Needed("Borax decahydrate", "17.3\u00a0g", "jar TS-0377"),
        Needed("Sodium hydroxide", "3.7\u00a0g", "jar TS-0412, reckoned at 98 %"),
        Needed("Water, before filling up", "1.55\u00a0L"),
    ),
    pictograms=BORATE.hazard.pictograms,
    signal="DANGER",
    hazards=(
        CardNote(
            "Borate alkali stock",
            (Run("DANGER. ", strong=True), Run(BORATE.hazard.statements[0])),
        ),
    ),
    before=(BORATE.notes[0],),
    first_help=FIRST_WORDS,
    holds="In this pack: 2 mixing cards and 2 weighing-out sheets.",
    aid_full=AID,
    emergency="01632 960 118",
    room="Tern Street Print Room",
)
