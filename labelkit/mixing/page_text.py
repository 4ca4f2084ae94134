"""The words of a batch's record page."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.display import figures, show_amount
from labelkit.mixing.batch import Batch
from labelkit.mixing.bench import Settings
from labelkit.mixing.bottle_text import discard_words, made_words, use_words
from labelkit.mixing.card_text import cautions_beside, notes_for
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import Dose
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.hazard_text import hazard_text, never_with_line
from labelkit.mixing.plan import Plan
from labelkit.mixing.said import (
    AID_FULL,
    contents_words,
    first_words,
    reaction_sentences,
    strength_lines,
    uncertainty_sentence,
)
from labelkit.mixing.shown import shown_dose
from labelkit.mixing.solution import Content
from labelkit.mixing.steps_text import step_rows, what_is_added
from labelkit.mixing.words import (
    CardNote,
    PageCaution,
    PageContent,
    PageReason,
    PageText,
    PageWeighing,
)

__all__ = ["page_text_for"]

RULES = {
    "eu-clp": "the European Union, Regulation (EC) No 1272/2008 (CLP)",
    "gb-clp": "Great Britain, the retained CLP regulation",
    "un-ghs": "the United Nations, GHS",
    "us-hcs": "the United States, 29 CFR 1910.1200 (HCS)",
}


def page_text_for(batch: Batch, handbook: Handbook, settings: Settings) -> PageText:
    """Everything the record page says of a batch, as it was mixed."""
    plan, catalogue = batch.plan, handbook.catalogue
    discard_label, discard, off_when = discard_words(plan)
    strength = plan.solution.strength
    notes = notes_for(plan, handbook, settings)
    return PageText(
        name=plan.recipe.title,
        number=batch.number,
        recipe=plan.recipe.name,
        headline=plan.headline,
        strength=strength_lines(plan),
        contents=tuple(_content(c, catalogue) for c in plan.solution.contents),
        contents_sentence=contents_words(plan, catalogue),
        made=made_words(batch, settings),
        discard_label=discard_label,
        discard=discard,
        off_when=off_when,
        hazard=hazard_text(plan.hazard, handbook, settings, dry=plan.solution.dry),
        first_words=first_words(plan.hazard.p, what="page"),
        never_with=never_with_line(plan, handbook),
        aid_full=AID_FULL,
        weighings=tuple(_weighings(batch, catalogue, settings)),
        steps=step_rows([plan], catalogue, settings),
        notes=notes,
        reasons=_reasons(plan),
        bottles=_bottles(batch),
        mL_per_g=strength.mL_per_g if strength else None,
        part=plan.part,
        use_mark=use_words(batch),
        emergency=settings.emergency,
        room=settings.room,
        keep_in=plan.recipe.keep_in,
        equations=reaction_sentences(plan, catalogue),
        remarks=tuple(check.text for check in plan.checks),
        estimates=tuple(_estimates(plan, catalogue, settings)),
        handling=tuple(_handling(notes, plan, handbook)),
    )


def _content(content: Content, catalogue: Catalogue) -> PageContent:
    return PageContent(
        catalogue.substance(content.chemical).name,
        _with_unit(content.g_per_L, "g/L"),
        _with_unit(content.mol_per_L, "mol/L"),
        _with_unit(content.percent_ww, "% w/w"),
    )


def _with_unit(value: Decimal | None, unit: str) -> str:
    return "" if value is None else f"{figures(value, 3)} {unit}"


def _weighings(
    batch: Batch, catalogue: Catalogue, settings: Settings
) -> Iterator[PageWeighing]:
    planned = {dose.step: dose for dose in batch.planned}
    for dose in batch.plan.job.doses:
        yield PageWeighing(
            dose.step,
            what_is_added(dose, batch.plan, catalogue),
            shown_dose(planned[dose.step], settings),
            _as_read(dose, settings),
        )


def _as_read(dose: Dose, settings: Settings) -> str:
    """The reading, as fine as it was given."""
    if not dose.read:
        return ""
    if dose.mass_g is not None:
        return show_amount(Amount(dose.mass_g, Dimension.MASS))
    return show_amount(Amount(dose.poured_mL, Dimension.VOLUME))


def _reasons(plan: Plan) -> tuple[PageReason, ...]:
    return tuple(
        PageReason(reason.hazard_class, reason.text, reason.rule)
        for reason in plan.hazard.because
    )


def _handling(
    notes: tuple[CardNote, ...], plan: Plan, handbook: Handbook
) -> Iterator[PageCaution]:
    never_with = never_with_line(plan, handbook)
    remarks = [check.text for check in plan.checks]
    for caution in cautions_beside(notes, never_with, plan, handbook, remarks=remarks):
        yield PageCaution(caution.kind.term, caution.text, caution.source)


def _bottles(batch: Batch) -> tuple[str, ...]:
    dry = batch.plan.job.volume_mL is None
    dimension = Dimension.MASS if dry else Dimension.VOLUME
    return tuple(show_amount(Amount(size, dimension)) for size in batch.bottles_mL)


def _estimates(plan: Plan, catalogue: Catalogue, settings: Settings) -> Iterator[str]:
    known = uncertainty_sentence(plan, catalogue, settings)
    if known:
        yield known
    ph = plan.ph
    if ph is None:
        yield f"pH: no figure, because {plan.reasons.get('ph', 'none was measured')}."
    elif ph.measured:
        yield f"pH {ph.value:g}, measured."
    else:
        yield f"pH about {ph.value:.1f} ({ph.low:.1f} to {ph.high:.1f}), estimated."
    density = plan.solution.density
    if density is not None:
        yield f"Density {figures(density.g_per_mL, 3)} g/mL, {density.source}."
    if plan.warming is not None:
        yield f"Warming: {plan.warming.text}."
    yield f"Hazards by the rules of {RULES[plan.hazard.regime]}, as read in 2026."
