"""The words of a weighing-out sheet: one batch, with room to write what was read."""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from shlex import quote

from msgspec import Struct

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.display import show_amount
from labelkit.mixing.bench import Jar, Settings
from labelkit.mixing.card_text import notes_for
from labelkit.mixing.caution import Caution, Kind
from labelkit.mixing.check import Check, Level
from labelkit.mixing.doses import WATER, Dose
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.handling import handling_for
from labelkit.mixing.hazard_text import hazard_text, never_with_line
from labelkit.mixing.plan import Plan
from labelkit.mixing.said import AID_FULL, bound, first_words, sum_of_strength
from labelkit.mixing.steps_text import step_rows
from labelkit.mixing.words import (
    CardNote,
    CardRow,
    HazardText,
    Headline,
    PartMark,
    Run,
    Words,
)

__all__ = ["WeighingRow", "WeighingText", "weighing_text"]

# Of the notes of a card, those that are needed before and while weighing.
BEFORE = ("The powders", "While mixing", "If it spills")
KINDS = (Kind.WEAR, Kind.MIXING, Kind.AIR)
MOST_CAUTIONS = 3
MARKS = {Level.STOP: "STOP", Level.WARN: "Beware"}


class WeighingRow(Struct, frozen=True):
    """One step.

    Attributes:
        step: as on a card, with the planned amount of the one batch.
        weighed: a jar is opened: its lot and a tare are written down.
        read: something is read off an instrument and written down.
        lots: of the jars in the cupboard, ``jar TS-0412, 98 %``.
        known: how well the balance knows it, where that is badly: ``±5.8 %``.
    """

    step: CardRow
    weighed: bool = False
    read: bool = False
    lots: str = ""
    known: str = ""


class WeighingText(Struct, frozen=True):
    """Everything a weighing-out sheet says.

    Attributes:
        quantity: what is made.
        whom: for whom the sheet is; "" for whoever mixes.
        before: what to know before a jar is opened, a term each.
        remarks: what the plan warns of.
        known_note: what the figures under planned amounts mean; "" without one.
        typed: the command that records the batch afterwards, with blanks.
    """

    name: str
    quantity: str
    headline: Headline
    strength: str
    rows: tuple[WeighingRow, ...]
    hazard: HazardText
    before: tuple[CardNote, ...]
    remarks: tuple[CardNote, ...]
    first_words: Words
    never_with: str
    aid_full: str
    typed: str
    volume_mL: Decimal
    known_note: str = ""
    part: PartMark | None = None
    whom: str = ""
    room: str = ""
    emergency: str = ""


def weighing_text(
    plan: Plan,
    handbook: Handbook,
    settings: Settings,
    jars: Iterable[Jar] = (),
    *,
    whom: str = "",
) -> WeighingText:
    """The words of the sheet for one batch."""
    rows = tuple(_rows(plan, handbook, settings, _by_chemical(jars)))
    balance = show_amount(Amount(settings.balance_g, Dimension.MASS))
    coarse = any(row.known for row in rows)
    return WeighingText(
        name=plan.recipe.title,
        quantity=bound(show_amount(plan.job.make)),
        headline=plan.headline,
        strength=sum_of_strength(plan),
        rows=rows,
        hazard=hazard_text(plan.hazard, handbook, settings, dry=plan.solution.dry),
        before=tuple(_before(plan, handbook, settings)),
        remarks=tuple(_remark(check) for check in plan.checks if check.level in MARKS),
        first_words=first_words(plan.hazard.p, what="sheet"),
        never_with=never_with_line(plan, handbook),
        aid_full=AID_FULL,
        typed=_typed(plan),
        volume_mL=plan.job.volume_mL or plan.job.make.number,
        known_note=_known_note(balance) if coarse else "",
        part=plan.part,
        whom=whom,
        room=settings.room,
        emergency=settings.emergency,
    )


def _known_note(balance: str) -> str:
    return (
        f"± is how well a balance that reads {bound(balance)} knows it (standard "
        "uncertainty)."
    )


def _rows(
    plan: Plan,
    handbook: Handbook,
    settings: Settings,
    jars: Mapping[str, tuple[Jar, ...]],
) -> Iterator[WeighingRow]:
    doses = {dose.step: dose for dose in plan.job.doses}
    coarse = {
        weighing.step: bound(f"±{weighing.relative_u * 100:.2g} %")
        for weighing in plan.weighings
        if weighing.relative_u is not None and not weighing.fine_enough
    }
    for row in step_rows([plan], handbook.catalogue, settings):
        dose = doses.get(row.number)
        yield WeighingRow(
            row,
            weighed=dose is not None and _out_of_a_jar(dose),
            read=bool(row.amounts),
            lots=_lots(jars.get(dose.chemical, ())) if dose else "",
            known=coarse.get(row.number, ""),
        )


def _out_of_a_jar(dose: Dose) -> bool:
    return dose.weighed and dose.chemical != WATER


def _by_chemical(jars: Iterable[Jar]) -> dict[str, tuple[Jar, ...]]:
    found: dict[str, tuple[Jar, ...]] = {}
    for jar in jars:
        found[jar.chemical] = (*found.get(jar.chemical, ()), jar)
    return found


def _lots(jars: tuple[Jar, ...]) -> str:
    return ", ".join(bound(f"jar {jar.lot}") for jar in jars if jar.lot)


def _before(plan: Plan, handbook: Handbook, settings: Settings) -> Iterator[CardNote]:
    notes = [n for n in notes_for(plan, handbook, settings) if n.term in BEFORE]
    yield from notes
    told = " ".join(run.text for note in notes for run in note.text)
    cautions = handling_for(
        plan,
        handbook.catalogue,
        handbook.handling,
        told=told,
        never_with=never_with_line(plan, handbook),
    )
    chosen = [caution for caution in cautions if caution.kind in KINDS][:MOST_CAUTIONS]
    yield from _gathered(chosen)


def _gathered(cautions: Iterable[Caution]) -> Iterator[CardNote]:
    by_term: dict[str, list[str]] = {}
    for caution in cautions:
        by_term.setdefault(caution.kind.term, []).append(caution.text)
    for term, texts in by_term.items():
        yield CardNote(term, (Run(" ".join(texts)),))


def _remark(check: Check) -> CardNote:
    where = f" (Step {check.step}.)" if check.step else ""
    return CardNote(MARKS[check.level], (Run(f"{check.text}{where}"),))


def _typed(plan: Plan) -> str:
    """The command that keeps the batch, a blank for every reading."""
    readings = [
        f"--weighed {dose.step}=____g" for dose in plan.job.doses if _out_of_a_jar(dose)
    ]
    make = show_amount(plan.job.make).replace(" ", "")
    words = [f"labelkit mix {quote(plan.recipe.name)}", f"--make {make}", *readings]
    return " ".join(bound(word) for word in (*words, '--by "________"'))
