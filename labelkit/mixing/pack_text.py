"""The cover of a workshop's pack: who mixes what, what that takes in all, hazards."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.display import plain, show_amount
from labelkit.mixing.bench import Jar, Settings
from labelkit.mixing.card_text import notes_for
from labelkit.mixing.caution import Kind
from labelkit.mixing.doses import PURE, WATER, Dose
from labelkit.mixing.handling import handling_for
from labelkit.mixing.hazard_text import hazard_text, never_with_line
from labelkit.mixing.said import AID_FULL, bound, first_words
from labelkit.mixing.steps_text import what_is_added
from labelkit.mixing.weighing_sheet import MARKS
from labelkit.mixing.words import CardNote, HazardText, Pictogram, Run, Words
from labelkit.mixing.workshop import TaskPlan, Workshop

__all__ = ["Needed", "PackText", "TaskText", "pack_text"]

# From the gravest.
SIGNALS = ("DANGER", "WARNING", "")


class TaskText(Struct, frozen=True):
    """One line of the cover: what is mixed, how much, how often, by whom."""

    what: str
    quantity: str
    batches: str
    whom: str


class Needed(Struct, frozen=True):
    """One line of what must be there: of a chemical, for all batches together."""

    what: str
    amount: str
    jar: str = ""


class PackText(Struct, frozen=True):
    """Everything the cover of a pack says.

    Attributes:
        about: day, place and teacher in one line.
        people: who comes, in one sentence, or "".
        hazards: of each solution, its name as the term.
        before: what is weighed, and what to wear.
        first_help: what a helper does.
        holds: what is in the pack.
    """

    title: str
    about: str
    people: str
    note: str
    tasks: tuple[TaskText, ...]
    needed: tuple[Needed, ...]
    pictograms: tuple[Pictogram, ...]
    signal: str
    hazards: tuple[CardNote, ...]
    before: tuple[CardNote, ...]
    first_help: Words
    holds: str
    aid_full: str
    emergency: str = ""
    room: str = ""


def pack_text(
    workshop: Workshop,
    plans: Sequence[TaskPlan],
    settings: Settings,
    jars: Iterable[Jar] = (),
) -> PackText:
    """The words of the cover."""
    gravest = sorted(
        (_hazard(item, settings) for item in plans),
        key=lambda hazard: SIGNALS.index(hazard.signal),
    )
    signs: dict[str, Pictogram] = {}
    for hazard in gravest:
        for sign in hazard.pictograms:
            signs.setdefault(sign.code, sign)
    return PackText(
        title=workshop.title,
        about=_about(workshop, settings),
        people=_people(workshop),
        note=workshop.note,
        tasks=tuple(_task(item, workshop) for item in plans),
        needed=tuple(_needed(plans, tuple(jars))),
        pictograms=tuple(signs.values()),
        signal=gravest[0].signal if gravest else "",
        hazards=tuple(_hazards(plans, settings)),
        before=(*_before(plans, settings), *_remarks(plans)),
        first_help=_first_help(plans),
        holds=_holds(workshop),
        aid_full=AID_FULL,
        emergency=settings.emergency,
        room=settings.room,
    )


def _hazard(item: TaskPlan, settings: Settings) -> HazardText:
    dry = item.plan.solution.dry
    return hazard_text(item.plan.hazard, item.handbook, settings, dry=dry)


def _about(workshop: Workshop, settings: Settings) -> str:
    place = workshop.place or settings.room
    teacher = f"with {workshop.teacher}" if workshop.teacher else ""
    return ", ".join(
        part for part in (f"{workshop.day:%Y-%m-%d}", place, teacher) if part
    )


def _people(workshop: Workshop) -> str:
    if not workshop.people:
        return ""
    count = len(workshop.people)
    lead = "1 person" if count == 1 else f"{count} people"
    return f"{lead}: {', '.join(map(bound, workshop.people))}."


def _task(item: TaskPlan, workshop: Workshop) -> TaskText:
    task, recipe = item.task, item.plan.recipe
    return TaskText(
        f"{recipe.title} {recipe.part}".strip(),
        bound(show_amount(item.plan.job.make)),
        f"{task.batches} ×" if task.batches > 1 else "1 ×",
        _whom(task.audience, workshop),
    )


def _whom(audience: tuple[str, ...], workshop: Workshop) -> str:
    if audience == ("",):
        return "the room together"
    if audience == workshop.people:
        return "each person"
    if audience == workshop.stations:
        return "each station"
    return ", ".join(map(bound, audience))


def _needed(plans: Sequence[TaskPlan], jars: tuple[Jar, ...]) -> Iterator[Needed]:
    """What all batches take together, the powders first, water last."""
    totals: dict[tuple[str, Dimension], Decimal] = {}
    named: dict[str, tuple[str, Dose]] = {}
    for item in plans:
        for dose in item.plan.job.doses:
            amount = _amount(dose)
            key = (dose.chemical, amount.dimension)
            total = totals.get(key, Decimal(0))
            totals[key] = total + amount.number * item.task.batches
            told = what_is_added(dose, item.plan, item.handbook.catalogue)
            named.setdefault(dose.chemical, (told, dose))
    ordered = sorted(totals, key=lambda key: _rank(key[0]))
    for chemical, dimension in ordered:
        told, dose = named[chemical]
        shown = bound(show_amount(Amount(totals[chemical, dimension], dimension)))
        if chemical == WATER:
            yield Needed("Water, before filling up", shown)
        else:
            yield Needed(told, shown, _jar(dose, jars))


def _amount(dose: Dose) -> Amount:
    if dose.mass_g is not None:
        return Amount(dose.mass_g, Dimension.MASS)
    return Amount(dose.poured_mL, Dimension.VOLUME)


def _rank(chemical: str) -> int:
    if chemical == WATER:
        return 2
    return 1 if chemical.startswith("recipe:") else 0


def _jar(dose: Dose, jars: tuple[Jar, ...]) -> str:
    """``jar TS-0412, 98 %``; the assay the amounts are reckoned with."""
    lots = ", ".join(
        bound(f"jar {jar.lot}")
        for jar in jars
        if jar.chemical == dose.chemical and jar.lot
    )
    assay = dose.assay_percent
    told = "" if assay == PURE else bound(f"reckoned at {plain(assay)} %")
    return ", ".join(part for part in (lots, told) if part)


def _hazards(plans: Sequence[TaskPlan], settings: Settings) -> Iterator[CardNote]:
    """Of each solution what it can do, and what it must never meet."""
    said = dict.fromkeys(_task_hazard(item, settings) for item in plans)
    for name, words in said:
        yield CardNote(name, words)


def _task_hazard(item: TaskPlan, settings: Settings) -> tuple[str, Words]:
    hazard = _hazard(item, settings)
    recipe = item.plan.recipe
    never = never_with_line(item.plan, item.handbook)
    if hazard.none_reached:
        words: Words = hazard.none_reached
    else:
        signal = f"{hazard.signal}. " if hazard.signal else ""
        told = " ".join((*hazard.statements, *hazard.open_points))
        words = (Run(signal, strong=True), Run(told))
    if never:
        words = (*words, Run(f" {never}", strong=True))
    return f"{recipe.title} {recipe.part}".strip(), words


def _before(plans: Sequence[TaskPlan], settings: Settings) -> Iterator[CardNote]:
    """What is weighed and what to wear, nothing twice."""
    powders = tuple(
        note.text
        for item in plans
        for note in notes_for(item.plan, item.handbook, settings)
        if note.term == "The powders"
    )
    if powders:  # a name and what it can do, again and again, then what to wear
        each = dict.fromkeys(one for words in powders for one in _named(words[:-1]))
        told = (run for one in each for run in one)
        yield CardNote("The powders", (*told, powders[0][-1]))
    wear = dict.fromkeys(text for item in plans for text in _cautions(item, Kind.WEAR))
    if wear:
        yield CardNote("Wear", (Run(" ".join(wear)),))


def _named(words: Words) -> Iterator[Words]:
    """A chemical's name, which is strong, and what it can do, for each of them."""
    found: list[list[Run]] = []
    for run in words:
        if run.strong or not found:
            found.append([])
        found[-1].append(run)
    yield from map(tuple, found)


def _remarks(plans: Sequence[TaskPlan]) -> Iterator[CardNote]:
    """What the plans warn of, nothing twice."""
    for item in plans:
        told: dict[str, None] = {}
        for check in item.plan.checks:
            if check.level in MARKS:
                told.setdefault(f"{MARKS[check.level]}: {check.text}", None)
        if told:
            yield CardNote(item.plan.recipe.title, (Run(" ".join(told)),))


def _cautions(item: TaskPlan, kind: Kind) -> Iterator[str]:
    catalogue, handling = item.handbook.catalogue, item.handbook.handling
    for caution in handling_for(item.plan, catalogue, handling):
        if caution.kind is kind:
            yield caution.text


def _first_help(plans: Sequence[TaskPlan]) -> Words:
    """What a helper does at once, and what the chemicals of the day add to that."""
    helps = dict.fromkeys(
        text for item in plans for text in _cautions(item, Kind.FIRST_HELP)
    )
    *runs, call = first_words((), what="page")
    more = tuple(Run(f"{text} ") for text in helps)
    return (*runs, *more, call)


def _holds(workshop: Workshop) -> str:
    cards = sum(task.copies for task in workshop.tasks if task.card)
    sheets = sum(task.batches for task in workshop.tasks if task.weigh_out)
    parts = [
        f"{count} {word}{'s' if count != 1 else ''}"
        for count, word in ((cards, "mixing card"), (sheets, "weighing-out sheet"))
        if count
    ]
    return f"In this pack: {' and '.join(parts)}." if parts else ""
