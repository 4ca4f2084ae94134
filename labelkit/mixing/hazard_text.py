"""The hazard block in words: from a classification to what is printed."""

from collections.abc import Iterable

from labelkit.hazards.mixture import Classification
from labelkit.hazards.pictogram_words import pictogram_word
from labelkit.hazards.statements import hazard_sentences, precaution_sentences
from labelkit.mixing.bench import Settings
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan
from labelkit.mixing.rules import never_with
from labelkit.mixing.words import HazardText, Pictogram, Run, Words

__all__ = ["NOT_MEASURED", "hazard_text", "never_with_line"]

NOT_MEASURED = "pH not measured: labelled as corrosive to be safe"
NONE_REACHED = "No hazard class reached by calculation. This does not mean safe."
KEEP_OFF = "Keep off skin, out of eyes, away from children and food."
# Either partner at this share [% w/w] counts as concentrated (see the mixing rules).
CONCENTRATED = 10
# How many things a bottle names: one line, the deadliest first.
MOST_NAMED = 1


def hazard_text(
    hazard: Classification,
    handbook: Handbook,
    settings: Settings,
    *,
    dry: bool = False,
) -> HazardText:
    """Everything the hazard block says of ``hazard``."""
    open_points = tuple(_open_points(hazard))
    if not hazard.classes and not hazard.euh:
        return HazardText(none_reached=_none_reached(open_points))
    precautions = precaution_sentences(
        handbook.statements, hazard, disposal=settings.disposal, dry=dry
    )
    return HazardText(
        signal=hazard.signal.upper(),
        pictograms=tuple(
            Pictogram(code, pictogram_word(code, hazard.classes))
            for code in hazard.pictograms
        ),
        alert=NOT_MEASURED if hazard.assumed_corrosive else "",
        contains=f"Contains {', '.join(hazard.names)}." if hazard.names else "",
        statements=hazard_sentences(handbook.statements, hazard),
        precautions=tuple(_runs(sentence) for sentence in precautions),
        open_points=open_points,
    )


def never_with_line(plan: Plan, handbook: Handbook) -> str:
    """``NEVER WITH acid (stop bath, vinegar): choking gas.``, or ""."""
    contents = plan.solution.contents
    tags = {t for c in contents for t in handbook.catalogue.substance(c.chemical).tags}
    dry = plan.solution.dry
    concentrated = dry or any((c.percent_ww or 0) >= CONCENTRATED for c in contents)
    named = never_with(tags, handbook.rules, concentrated=concentrated)
    return f"NEVER WITH {'; '.join(named[:MOST_NAMED])}." if named else ""


def _none_reached(open_points: Iterable[str]) -> Words:
    rest = " ".join((*open_points, KEEP_OFF))
    return (Run(NONE_REACHED, strong=True), Run(f" {rest}"))


def _open_points(hazard: Classification) -> Iterable[str]:
    """What a reader must know is not known, a sentence each."""
    for lead, items in (
        ("No hazard data for", hazard.no_data),
        ("No official entry", () if hazard.classes else hazard.no_entry),
        ("Not determined", hazard.not_determined),
    ):
        if items:
            yield f"{lead}: {', '.join(items)}."


def _runs(pairs: Iterable[tuple[str, bool]]) -> Words:
    return tuple(Run(text, strong) for text, strong in pairs)
