"""What a hand must know before it opens a jar, in few words."""

from collections.abc import Iterator

from msgspec.structs import replace

from labelkit.hazards.statements import precaution_sentences
from labelkit.mixing.bench import Settings
from labelkit.mixing.card_text import notes_for
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.dates import written
from labelkit.mixing.desk import Head
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.hazard_text import hazard_text, never_with_line
from labelkit.mixing.plan import Plan
from labelkit.mixing.said import first_words, uncertainty_sentence
from labelkit.mixing.words import Run, Words

__all__ = ["facts_of", "head_of"]

# P280: wear protective gloves and so on; Regulation (EC) No 1272/2008, Annex IV.
WEAR = "P280"
POWDERS = "The powders"


def head_of(plan: Plan, handbook: Handbook, settings: Settings) -> Head:
    """The hazards of what comes of it, what to wear, and what the powders can do."""
    notes = notes_for(plan, handbook, settings)
    return Head(
        hazard=hazard_text(plan.hazard, handbook, settings, dry=plan.solution.dry),
        wear=_wear(plan, handbook),
        powders=next((note.text for note in notes if note.term == POWDERS), ()),
        never_with=never_with_line(plan, handbook),
        first_words=first_words(plan.hazard.p, what="page"),
    )


def facts_of(
    plan: Plan, catalogue: Catalogue, settings: Settings
) -> tuple[tuple[str, str], ...]:
    """How well it is known, acidity, warming, date: each a term and a sentence."""
    return tuple(
        (term, told) for term, told in _facts(plan, catalogue, settings) if told
    )


def _facts(
    plan: Plan, catalogue: Catalogue, settings: Settings
) -> Iterator[tuple[str, str]]:
    yield "Known", uncertainty_sentence(plan, catalogue, settings)
    if plan.ph is not None and plan.ph.measured:
        yield "pH", f"{plan.ph.value:g}, measured."
    elif plan.ph is not None:
        low, high = plan.ph.low, plan.ph.high
        yield "pH", f"About {plan.ph.value:.1f} ({low:.1f} to {high:.1f}), estimated."
    yield "Warms", plan.warming.text if plan.warming else ""
    day = written(plan.discard_after)
    yield "Discard after", f"{day}, if it is mixed now." if day else ""


def _wear(plan: Plan, handbook: Handbook) -> Words:
    if WEAR not in plan.hazard.p:
        return ()
    only = replace(plan.hazard, p=(WEAR,))
    sentences = precaution_sentences(handbook.statements, only, dry=plan.solution.dry)
    return tuple(Run(text, strong) for text, strong in sentences[0])
