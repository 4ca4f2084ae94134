"""Serious eye damage and eye irritation: Annex I, 3.3."""

from collections.abc import Iterable
from decimal import Decimal

from labelkit.hazards.additivity import (
    Sum,
    added_up_to,
    each_alone,
    if_not_additive,
    left_out,
    most_severe,
)
from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import (
    CUT_OFFS,
    EYE,
    carried,
    cut_off,
    own_limit,
    rows,
)
from labelkit.hazards.mixture import Ingredient, Reason
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
    parts = [i for i in mixture.skin_eye if _concerns_eye(i.data)]
    relevant = [i for i in parts if i.percent >= _cut_off(i.data)]
    below = [i for i in parts if i.percent < _cut_off(i.data)]
    flagged = (
        [] if mixture.one_substance else [i for i in relevant if i.data.non_additive]
    )
    tried = (
        _damage(relevant),
        _non_additive(flagged, DAMAGE),
        _by_ph(ph),
        _with_skin(skin),
        _irritant(relevant, regime),
        _non_additive(flagged, IRRITANT),
    )
    found = most_severe(tried)
    dropped = (left_out(i, _cut_off(i.data), "Eye") for i in below)
    more = Verdict(reasons=(*_if_not_additive(relevant, found), *dropped))
    return merge((found, more))


def _concerns_eye(data: HazardData) -> bool:
    extreme = data.non_additive and data.tags & {"strong-acid", "strong-base"}
    classed = carried(data, *_CONCERNED) or rows(data, *_CONCERNED)
    return bool(classed or extreme)


def _cut_off(data: HazardData) -> Decimal:
    return cut_off(data, CUT_OFFS["Eye"], *_CONCERNED)


def _damages(data: HazardData) -> bool:
    families = ("Skin Corr.", "Eye Dam.")
    return bool(carried(data, *families) or rows(data, *families))


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
    return bool(carried(data, "Eye Irrit.") or rows(data, "Eye Irrit."))


def _irritant_limit(data: HazardData) -> Decimal:
    own = own_limit(data, "Eye Irrit.")
    if own is not None:
        return own
    return IRRITANT_FROM_DAMAGE if _damages(data) else IRRITANT_FROM_IRRITANT


def _non_additive(flagged: Iterable[Ingredient], target: HazardClass) -> Verdict:
    """Table 3.3.4, for ingredients flagged so by a chemist; each alone."""
    pairs = ((i, limit) for i in flagged if (limit := _limit_alone(i.data, target)))
    return each_alone(pairs, target, TABLE_NON_ADDITIVE)


def _limit_alone(data: HazardData, target: HazardClass) -> Decimal | None:
    """The limit of Table 3.3.4 for one ingredient; its own limits go before."""
    if target == DAMAGE:
        own = own_limit(data, "Eye Dam.") or own_limit(data, "Skin Corr.")
        if own is not None:
            return own
        extreme = data.tags & {"strong-acid", "strong-base"}
        return DAMAGE_NON_ADDITIVE if _damages(data) or extreme else None
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


def _if_not_additive(relevant: list[Ingredient], found: Verdict) -> list[Reason]:
    """What Table 3.3.4 would say of ingredients without limits of their own."""
    if DAMAGE in found.classes:
        return []
    return [
        if_not_additive(i, DAMAGE_NON_ADDITIVE, DAMAGE, TABLE_NON_ADDITIVE)
        for i in relevant
        if _damages(i.data)
        and not rows(i.data, *_CONCERNED)
        and i.percent >= DAMAGE_NON_ADDITIVE
    ]
