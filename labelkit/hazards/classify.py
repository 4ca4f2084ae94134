"""The classification of a mixture from its ingredients, and its label elements."""

from labelkit.hazards.acute import judge_acute
from labelkit.hazards.aquatic import judge_aquatic
from labelkit.hazards.aspiration import judge_aspiration
from labelkit.hazards.cmr import judge_cmr
from labelkit.hazards.composition import Composition, composition_of
from labelkit.hazards.euh import judge_euh
from labelkit.hazards.evidence import evidence, without_data, without_entry
from labelkit.hazards.eye import judge_eye
from labelkit.hazards.label import in_order, label_elements
from labelkit.hazards.mixture import Classification, Mixture, Reason
from labelkit.hazards.names import names_on_label
from labelkit.hazards.new_classes import judge_new_classes
from labelkit.hazards.ph_rule import PhFinding, judge_ph
from labelkit.hazards.physical import METAL_CORROSION, judge_physical
from labelkit.hazards.precaution import choose_precautions
from labelkit.hazards.regimes import Regime, regime_named
from labelkit.hazards.sensitisation import judge_sensitisation
from labelkit.hazards.skin import judge_skin
from labelkit.hazards.stot import judge_stot
from labelkit.hazards.verdict import Verdict, merge

__all__ = ["classify", "classify_composition"]


def classify(mixture: Mixture, regime: str = "eu-clp") -> Classification:
    """What a mixture is classified as, with the elements of its label and the reasons.

    Calculation from ingredients only, as in Regulation (EC) No 1272/2008, Annex I, or
    as the other regimes have it; no test on the mixture itself.

    Args:
        mixture: ingredients in % w/w, with the pH where it is known.
        regime: ``eu-clp``, ``gb-clp``, ``un-ghs`` or ``us-hcs``.

    Raises:
        BadInput: an unknown regime, shares that cannot be, or faulty hazard data.
    """
    rules = regime_named(regime)
    return classify_composition(composition_of(mixture), rules)


def classify_composition(mixture: Composition, regime: Regime) -> Classification:
    """The same for a mixture whose groups of rules look at different shares."""
    ph = judge_ph(mixture)
    skin = judge_skin(mixture, ph, regime)
    classes = merge(
        (
            judge_physical(mixture),
            judge_acute(mixture, regime),
            skin,
            judge_eye(mixture, ph, skin, regime),
            judge_sensitisation(mixture, regime),
            judge_cmr(mixture, regime),
            judge_stot(mixture, regime),
            judge_aspiration(mixture),
            judge_aquatic(mixture, regime),
            judge_new_classes(mixture, regime),
        )
    )
    supplements = judge_euh(mixture, classes.classes, regime)
    said = Verdict(reasons=(*mixture.remarks, *evidence(mixture)))
    verdict = merge((classes, supplements, said))
    return _put_together(mixture, verdict, regime, ph, _assumed(ph, skin))


def _assumed(ph: PhFinding, skin: Verdict) -> bool:
    """Whether it is corrosive for no other reason than that nobody measured the pH."""
    return ph.assumed and ph.reason in skin.reasons[:1]


def _put_together(
    mixture: Composition,
    verdict: Verdict,
    regime: Regime,
    ph: PhFinding,
    assumed: bool,
) -> Classification:
    reached = tuple(str(one) for one in in_order(verdict.classes))
    elements = label_elements(reached, verdict.euh)
    chosen = choose_precautions(reached, for_public=mixture.for_public)
    return Classification(
        regime=regime.name,
        signal=elements.signal,
        pictograms=elements.pictograms,
        classes=reached,
        h=elements.h,
        label_h=elements.label_h,
        euh=elements.euh,
        p=chosen.codes,
        ate_mix=verdict.ate_mix,
        names=names_on_label(verdict),
        euh208_names=verdict.euh208_names,
        unknown=verdict.unknown,
        not_determined=_open_points(verdict, ph),
        no_data=without_data(mixture),
        no_entry=without_entry(mixture),
        because=(*_reached_first(verdict), *_logged(chosen.beyond)),
        notices=verdict.notices,
        assumed_corrosive=assumed,
        organs=verdict.organs,
    )


def _open_points(verdict: Verdict, ph: PhFinding) -> tuple[str, ...]:
    """Metal corrosion first, then the pH, then the rest."""
    metal = [word for word in verdict.not_determined if word == METAL_CORROSION]
    rest = [word for word in verdict.not_determined if word != METAL_CORROSION]
    return (*metal, *(["pH"] if ph.open else []), *rest)


def _reached_first(verdict: Verdict) -> list[Reason]:
    """Reasons of what was reached, in the order of printing, then the others."""
    order = [str(one) for one in in_order(verdict.classes)]
    reached = [
        r
        for text in order
        for r in verdict.reasons
        if r.hazard_class == text and not r.text.startswith("not reached")
    ]
    return [*reached, *(r for r in verdict.reasons if r not in reached)]


def _logged(beyond: int) -> list[Reason]:
    if not beyond:
        return []
    text = f"{beyond} more than six, so that no class loses its first aid"
    return [Reason("precautions", "Article 28(3)", text)]
