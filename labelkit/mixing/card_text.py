"""The words of a mixing card, front and back."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from math import ceil

from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.display import show_amount
from labelkit.hazards.classify import classify
from labelkit.hazards.mixture import Classification, Ingredient, Mixture
from labelkit.mixing.bench import Settings
from labelkit.mixing.caution import Caution
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.handling import few_of, handling_for
from labelkit.mixing.hazard_text import hazard_text, never_with_line
from labelkit.mixing.payload import recipe_payload
from labelkit.mixing.plan import Plan
from labelkit.mixing.said import (
    AID_FULL,
    NBSP,
    bound,
    capital,
    first_words,
    kept_words,
    reaction_sentences,
    sum_of_strength,
)
from labelkit.mixing.steps_text import step_rows
from labelkit.mixing.words import CardColumn, CardNote, CardText, Run, Words

__all__ = ["card_text", "cautions_beside", "notes_for"]

# Beakers [mL] and the room to stir in them; common practice, no source.
BEAKERS_mL = (50, 100, 250, 500, 1000, 2000, 5000, 10_000)
ROOM_TO_STIR = Decimal("1.5")
MOST_POWDERS = 3
# How far cautions may fill the back of a card A5 [lines], and the characters of a line:
# of a note beside its term, and of the hazard block. Backs filled with texts of every
# length stopped fitting at 37 to 40 lines; a few less keep the type from shrinking.
BACK_LINES = 31.0
NOTE_LINE, WIDE_LINE = 60, 100
BETWEEN_NOTES = 0.5


def card_text(
    plans: Sequence[Plan], handbook: Handbook, settings: Settings
) -> CardText:
    """The card of one recipe, with a column for each of ``plans``."""
    plan = plans[len(plans) // 2]
    recipe = plan.recipe
    summary = f"{sum_of_strength(plan)} {kept_words(plan)}".strip()
    card = CardText(
        name=recipe.title,
        headline=plan.headline,
        summary=summary,
        columns=tuple(_column(p) for p in plans),
        rows=step_rows(plans, handbook.catalogue, settings),
        hazard=hazard_text(plan.hazard, handbook, settings, dry=plan.solution.dry),
        first_words=first_words(plan.hazard.p, what="card"),
        never_with=never_with_line(plan, handbook),
        notes=notes_for(plan, handbook, settings),
        aid_full=AID_FULL,
        code=recipe_payload(
            recipe.name,
            base_url=settings.base_url,
            title=recipe.title,
            revision=recipe.revision,
        ),
        code_means=f"Code: the page of the recipe {recipe.title}",
        volume_mL=plan.job.volume_mL or plan.job.make.number,
        part=plan.part,
        revision=f"revision {recipe.revision}" if recipe.revision else "",
        room=_room(settings),
        emergency=settings.emergency,
    )
    return replace(card, notes=(*card.notes, *_handling_notes(card, plan, handbook)))


def notes_for(
    plan: Plan, handbook: Handbook, settings: Settings
) -> tuple[CardNote, ...]:
    """What to know beyond the solution itself: powders, mixing, spills, keeping."""
    return tuple(_notes(plan, handbook, settings))


def cautions_beside(
    notes: Iterable[CardNote],
    never_with: str,
    plan: Plan,
    handbook: Handbook,
    *,
    remarks: Iterable[str] = (),
) -> tuple[Caution, ...]:
    """The cautions that notes, remarks and the line NEVER WITH do not say already."""
    told = " ".join((*(_plain(note.text) for note in notes), *remarks))
    return handling_for(
        plan,
        handbook.catalogue,
        handbook.handling,
        told=told,
        never_with=never_with,
    )


def _handling_notes(
    card: CardText, plan: Plan, handbook: Handbook
) -> Iterator[CardNote]:
    """The few cautions that the back still has room for."""
    room = BACK_LINES - _block_lines(card)
    room -= sum(_note_lines(_plain(note.text)) for note in card.notes)
    cautions = cautions_beside(card.notes, card.never_with, plan, handbook)
    for caution in few_of(cautions, room, _note_lines):
        yield CardNote(caution.kind.card_term, (Run(caution.text),), gives_way=True)


def _note_lines(text: str) -> float:
    return ceil(len(text) / NOTE_LINE) + BETWEEN_NOTES


def _block_lines(card: CardText) -> float:
    """What stands over the notes [lines]."""
    hazard = card.hazard
    runs = (hazard.none_reached, card.first_words, *hazard.precautions)
    lines = (hazard.alert, hazard.contains, *hazard.statements, *hazard.open_points)
    told = "".join((*map(_plain, runs), *lines, card.never_with))
    return len(told) / WIDE_LINE


def _notes(plan: Plan, handbook: Handbook, settings: Settings) -> Iterator[CardNote]:
    notes = plan.recipe.bench_notes
    powders = _powders(plan, handbook, settings)
    keep_in = f"{capital(plan.recipe.keep_in)}. " if plan.recipe.keep_in else ""
    disposal = notes.disposal or _disposal(settings)
    told: list[tuple[str, Words]] = [
        ("The powders", powders),
        ("While mixing", _words(notes.mixing)),
        ("If it spills", _words(notes.spill)),
        ("Storage", _words(f"{keep_in}{notes.storage}".strip())),
        ("Disposal", _words(disposal)),
        ("Test", _words(plan.recipe.test)),
        ("Why", _words(" ".join(reaction_sentences(plan, handbook.catalogue)))),
        ("Note", _words(plan.recipe.note)),
    ]
    for term, words in told:
        if words:
            yield CardNote(term, words)


def _plain(words: Words) -> str:
    return "".join(run.text for run in words)


def _words(text: str) -> Words:
    if not text:
        return ()
    stop = "" if text.endswith((".", "!", "?")) else "."
    return (Run(f"{text}{stop}".replace(" degC", f"{NBSP}°C")),)


def _disposal(settings: Settings) -> str:
    where = settings.disposal
    return f"To {where}. Not down the sink." if where else "As hazardous waste."


def _powders(plan: Plan, handbook: Handbook, settings: Settings) -> Words:
    """What is weighed may be worse than what it becomes; the worst are named."""
    worse = list(_worse_powders(plan, handbook, settings.regime))
    worst = sorted(worse, key=lambda powder: powder[1].signal != "Danger")
    runs: list[Run] = []
    for name, verdict in (p for p in worse if p in worst[:MOST_POWDERS]):
        words = hazard_text(verdict, handbook, settings)
        statements = " ".join(words.statements)
        runs += [
            Run(f"{capital(name)}: {_stopped(words.signal)}", strong=True),
            Run(f"{statements} "),
        ]
    if not runs:
        return ()
    runs.append(Run("Gloves and goggles before the jar is opened; no dust."))
    return tuple(run for run in runs if run.text.strip())


def _stopped(signal: str) -> str:
    """``DANGER. ``, or nothing where a class has no signal word."""
    return f"{signal}. " if signal else ""


def _worse_powders(
    plan: Plan, handbook: Handbook, regime: str
) -> Iterator[tuple[str, Classification]]:
    """What is weighed, by name, where it says what the solution does not."""
    told = set(plan.hazard.label_h)
    for chemical in dict.fromkeys(dose.chemical for dose in plan.job.doses):
        entry = handbook.catalogue.entries.get(chemical)
        if entry is None or not entry.hazard.classes:
            continue
        pure = Mixture((Ingredient(entry.hazard, Decimal(100)),), solid=True)
        verdict = classify(pure, regime)
        if set(verdict.label_h) - told:
            yield entry.substance.name, verdict


def _column(plan: Plan) -> CardColumn:
    volume_mL = plan.job.volume_mL
    if volume_mL is None:
        return CardColumn(bound(show_amount(plan.job.make)), "")
    quantity = show_amount(Amount(volume_mL, Dimension.VOLUME))
    wanted = volume_mL * ROOM_TO_STIR
    beaker = next((b for b in BEAKERS_mL if b >= wanted), None)
    told = (
        show_amount(Amount(Decimal(beaker), Dimension.VOLUME)) if beaker else "bucket"
    )
    return CardColumn(bound(quantity), bound(told))


def _room(settings: Settings) -> str:
    scan = "Scan for this recipe and its batches." if settings.base_url else ""
    room = f"{settings.room}." if settings.room else ""
    return f"{room} {scan}".strip()
