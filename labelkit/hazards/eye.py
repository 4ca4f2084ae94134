"""Serious eye damage and eye irritation: Annex I, 3.3."""

from decimal import Decimal

from labelkit.hazards.additivity import (
    Sum,
    added_up_to,
    most_severe,
    relevant_ingredients,
)
from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import (
    CUT_OFFS,
    EYE,
    carried,
    cut_off,
    named,
    own_limit,
    rows,
)
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.non_additive import (
    each_alone,
    flagged,
    if_not_additive,
    is_extreme,
)
from labelkit.hazards.ph_rule import PhFinding
from labelkit.hazards.regimes import Regime
from labelkit.hazards.verdict import Finding, Verdict, merge

__all__ = ["judge_eye"]

TABLE = "Table 3.3.3"
TABLE_NON_ADDITIVE = "Table 3.3.4"

# Table 3.3.3, generic limits [% w/w of the mixture]. Skin Corr. 1 and Eye Dam. 1 count
# together, an ingredient once.
DAMAGE_FROM_DAMAGE = Decimal(3)
IRRITANT_FROM_DAMAGE = Decimal(1)  # ten times the share against 10 %
IRRITANT_FROM_IRRITANT = Decimal(10)

# Table 3.3.4, ingredients to which adding up does not apply [% w/w]
DAMAGE_NON_ADDITIVE = Decimal(1)
IRRITANT_NON_ADDITIVE = Decimal(3)

DAMAGE, IRRITANT, IRRITANT_2B = (
    HazardClass("Eye Dam.", "1"),
    HazardClass("Eye Irrit.", "2"),
    HazardClass("Eye Irrit.", "2B"),
)
_CONCERNED = ("Skin Corr.", *EYE)


def judge_eye(
    mixture: Composition, ph: PhFinding, skin: Verdict, regime: Regime
) -> Verdict:
    """Eye Dam. 1, Eye Irrit. 2, or neither."""
    concerned = (i for i in mixture.skin_eye if _concerns_eye(i.data))
    relevant, dropped = relevant_ingredients(concerned, _cut_off, "Eye")
    alone = flagged(mixture, relevant)
    tried = (
        _damage(relevant),
        each_alone(alone, _damage_alone, DAMAGE, TABLE_NON_ADDITIVE),
        _by_ph(ph),
        _with_skin(skin),
        _irritant(relevant, regime),
        each_alone(alone, _irritant_alone, IRRITANT, TABLE_NON_ADDITIVE),
    )
    found = most_severe(tried)
    more = Verdict(reasons=(*_if_not_additive(relevant, found), *dropped))
    return merge((found, more))


def _concerns_eye(data: HazardData) -> bool:
    return named(data, *_CONCERNED) or is_extreme(data)


def _cut_off(data: HazardData) -> Decimal:
    return cut_off(data, CUT_OFFS["Eye"], *_CONCERNED)


def _damages(data: HazardData) -> bool:
    return named(data, "Skin Corr.", "Eye Dam.")


def _damage(relevant: list[Ingredient]) -> Verdict:
    """Table 3.3.3, row 1."""
    total = Sum.of((i, _damage_limit(i.data)) for i in relevant if _damages(i.data))
    return added_up_to(total, DAMAGE, TABLE)


def _damage_limit(data: HazardData) -> Decimal:
    """Its own Eye Dam. limit, else its lowest Skin Corr. limit, else 3 %.

    A limit for skin without one for the eye stands for both: the range below it is the
    entry's own Eye Irrit. row. Where the entry also names Eye Dam. 1 by itself, the
    generic 3 % still binds it.
    """
    own = own_limit(data, "Eye Dam.")
    if own is not None:
        return own
    skin = own_limit(data, "Skin Corr.")
    if skin is None:
        return DAMAGE_FROM_DAMAGE
    return min(skin, DAMAGE_FROM_DAMAGE) if carried(data, "Eye Dam.") else skin


def _irritant(relevant: list[Ingredient], regime: Regime) -> Verdict:
    """Table 3.3.3, rows 2 to 4, in one sum."""
    irritants = [i for i in relevant if _damages(i.data) or _irritates(i.data)]
    total = Sum.of((i, _irritant_limit(i.data)) for i in irritants)
    verdict = added_up_to(total, IRRITANT, TABLE)
    only_2b = all(carried(i.data, *_CONCERNED) == (IRRITANT_2B,) for i in irritants)
    if verdict.findings and regime.eye_2b and only_2b:
        return Verdict(findings=(Finding(IRRITANT_2B),), reasons=verdict.reasons)
    return verdict


def _irritates(data: HazardData) -> bool:
    return named(data, "Eye Irrit.")


def _irritant_limit(data: HazardData) -> Decimal:
    own = own_limit(data, "Eye Irrit.")
    if own is not None:
        return own
    return IRRITANT_FROM_DAMAGE if _damages(data) else IRRITANT_FROM_IRRITANT


def _damage_alone(data: HazardData) -> Decimal | None:
    """Table 3.3.4, rows 1 to 3, for one ingredient; its own limits go before."""
    if not (_damages(data) or is_extreme(data)):
        return None
    own = own_limit(data, "Eye Dam.") or own_limit(data, "Skin Corr.")
    return own or DAMAGE_NON_ADDITIVE


def _irritant_alone(data: HazardData) -> Decimal:
    """Table 3.3.4, row 4, for one ingredient; its own limits go before."""
    return own_limit(data, "Eye Irrit.") or IRRITANT_NON_ADDITIVE


def _by_ph(ph: PhFinding) -> Verdict:
    """An extreme pH gives both classes; the reason stands with the skin."""
    if ph.corrosive or ph.assumed:
        return Verdict(findings=(Finding(DAMAGE, ph.names),))
    return Verdict()


def _with_skin(skin: Verdict) -> Verdict:
    """Skin Corr. 1 always carries Eye Dam. 1 with it (footnote to Table 3.3.5)."""
    for finding in skin.findings:
        if finding.hazard_class.family == "Skin Corr.":
            text = f"comes with {finding.hazard_class}"
            return Verdict(
                findings=(Finding(DAMAGE, finding.names),),
                reasons=(Reason(str(DAMAGE), "Table 3.3.5", text),),
            )
    return Verdict()


def _if_not_additive(relevant: list[Ingredient], found: Verdict) -> tuple[Reason, ...]:
    """What Table 3.3.4 would say of ingredients without limits of their own."""
    if DAMAGE in found.classes:
        return ()
    meant = (i for i in relevant if _damages(i.data) and not rows(i.data, *_CONCERNED))
    return if_not_additive(meant, DAMAGE_NON_ADDITIVE, DAMAGE, TABLE_NON_ADDITIVE)
