"""Skin corrosion and irritation: Annex I, 3.2."""

from collections.abc import Iterable
from decimal import Decimal

from labelkit.hazards.additivity import (
    Sum,
    added_up_to,
    most_severe,
    reached_by,
    relevant_ingredients,
)
from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import (
    CUT_OFFS,
    SKIN,
    carried,
    cut_off,
    named,
    own_limit,
    rows,
    shown,
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

__all__ = ["judge_skin"]

TABLE = "Table 3.2.3"
TABLE_NON_ADDITIVE = "Table 3.2.4"

# Table 3.2.3, generic limits [% w/w of the mixture]
CORROSIVE_FROM_CORROSIVE = Decimal(5)
IRRITANT_FROM_CORROSIVE = Decimal(1)  # ten times the share against 10 %
IRRITANT_FROM_IRRITANT = Decimal(10)

# Table 3.2.4, ingredients to which adding up does not apply [% w/w]
CORROSIVE_NON_ADDITIVE = Decimal(1)
IRRITANT_NON_ADDITIVE = Decimal(3)

# GHS Table 3.2.3, category 3 (UN only, from memory) [% w/w]
MILD_FROM_WEIGHTED = Decimal(1)  # 10 x category 1 + category 2
MILD_FROM_ALL = Decimal(10)  # 10 x category 1 + category 2 + category 3

CORROSIVE, IRRITANT, MILD = (
    HazardClass("Skin Corr.", "1"),
    HazardClass("Skin Irrit.", "2"),
    HazardClass("Skin Irrit.", "3"),
)
_SUB_CATEGORIES = ("1A", "1B", "1C")


def judge_skin(mixture: Composition, ph: PhFinding, regime: Regime) -> Verdict:
    """Skin Corr. 1 with its sub-category, Skin Irrit. 2, or neither."""
    concerned = (i for i in mixture.skin_eye if _concerns_skin(i.data))
    relevant, dropped = relevant_ingredients(concerned, _cut_off, "Skin")
    alone = flagged(mixture, relevant)
    tried = (
        _corrosive(relevant),
        each_alone(alone, _corrosive_alone, CORROSIVE, TABLE_NON_ADDITIVE),
        _by_ph(ph),
        _irritant(relevant),
        each_alone(alone, _irritant_alone, IRRITANT, TABLE_NON_ADDITIVE),
        _mild(mixture.skin_eye) if regime.skin_3 else Verdict(),
    )
    found = most_severe(tried)
    more = Verdict(reasons=(*_if_not_additive(relevant, found), *dropped))
    return merge((found, more))


def _concerns_skin(data: HazardData) -> bool:
    return named(data, *SKIN) or is_extreme(data)


def _cut_off(data: HazardData) -> Decimal:
    return cut_off(data, CUT_OFFS["Skin"], *SKIN)


def _is_corrosive(data: HazardData) -> bool:
    return named(data, "Skin Corr.")


def _corrosive(relevant: list[Ingredient]) -> Verdict:
    """Table 3.2.3, row 1, and the sub-category by the note below the table."""
    every = [i for i in relevant if _is_corrosive(i.data)]
    if not every:
        return Verdict()
    total = _sum_for("1C", every)
    if not total.reached:
        return added_up_to(total, CORROSIVE, TABLE)
    if any(not _sub_categories(i.data) for i in every):
        return reached_by(total, CORROSIVE, TABLE)
    for category in _SUB_CATEGORIES[:-1]:
        part = _sum_for(category, every)
        if part.reached:
            return reached_by(part, HazardClass("Skin Corr.", category), TABLE)
    return reached_by(total, HazardClass("Skin Corr.", "1C"), TABLE)


def _sub_categories(data: HazardData) -> list[str]:
    """Those it carries itself or has limits of its own for, the strictest first."""
    found = {one.category for one in carried(data, "Skin Corr.")}
    found |= {row[0].category for row in rows(data, "Skin Corr.")}
    return sorted(found - {"1"})


def _sum_for(category: str, every: list[Ingredient]) -> Sum:
    """The sum for a sub-category; milder ingredients do not enter it."""
    return Sum.of(
        (i, _corrosive_limit(i.data, category))
        for i in every
        if (_sub_categories(i.data) or ["1C"])[0] <= category
    )


def _corrosive_limit(data: HazardData, category: str) -> Decimal:
    """Its own limit for the sub-category, else for the next stricter one, else 5 %."""
    stricter = [one for one in _SUB_CATEGORIES if one <= category]
    for one in (*reversed(stricter), "1"):
        own = own_limit(data, "Skin Corr.", one)
        if own is not None:
            return own
    return CORROSIVE_FROM_CORROSIVE


def _irritant(relevant: list[Ingredient]) -> Verdict:
    """Table 3.2.3, rows 2 and 3, in one sum."""
    total = Sum.of((i, _irritant_limit(i.data)) for i in relevant if _additive(i.data))
    return added_up_to(total, IRRITANT, TABLE)


def _additive(data: HazardData) -> bool:
    """Skin Irrit. 3, and an acid that is only flagged, do not enter the sums."""
    irritant = IRRITANT in carried(data, "Skin Irrit.")
    return irritant or _is_corrosive(data) or bool(rows(data, "Skin Irrit."))


def _irritant_limit(data: HazardData) -> Decimal:
    own = own_limit(data, "Skin Irrit.", "2")
    if own is not None:
        return own
    return IRRITANT_FROM_CORROSIVE if _is_corrosive(data) else IRRITANT_FROM_IRRITANT


def _corrosive_alone(data: HazardData) -> Decimal | None:
    """Table 3.2.4, rows 1 to 3, for one ingredient; its own limits go before."""
    if not (_is_corrosive(data) or is_extreme(data)):
        return None
    return own_limit(data, "Skin Corr.") or CORROSIVE_NON_ADDITIVE


def _irritant_alone(data: HazardData) -> Decimal:
    """Table 3.2.4, row 4, for one ingredient; its own limits go before."""
    return own_limit(data, "Skin Irrit.", "2") or IRRITANT_NON_ADDITIVE


def _by_ph(ph: PhFinding) -> Verdict:
    reasons = () if ph.reason is None else (ph.reason,)
    if ph.corrosive or ph.assumed:
        return Verdict(findings=(Finding(CORROSIVE, ph.names),), reasons=reasons)
    return Verdict(reasons=reasons)


def _mild(ingredients: Iterable[Ingredient]) -> Verdict:
    """GHS Table 3.2.3, category 3: weighted shares, each ingredient from 1 % on."""
    weighted, mild, names = Decimal(0), Decimal(0), []
    for i in ingredients:
        if i.percent < CUT_OFFS["Skin"]:
            continue
        if _is_corrosive(i.data):
            weighted += 10 * i.percent
        elif HazardClass("Skin Irrit.", "2") in carried(i.data, "Skin Irrit."):
            weighted += i.percent
        elif MILD in carried(i.data, "Skin Irrit."):
            mild += i.percent
        else:
            continue
        names.append(i.data.name)
    if weighted >= MILD_FROM_WEIGHTED or weighted + mild >= MILD_FROM_ALL:
        text = f"10 × corrosive + irritant = {shown(weighted)} %, mild {shown(mild)} %"
        reason = Reason(str(MILD), TABLE, f"{text} ({', '.join(sorted(names))})")
        return Verdict(findings=(Finding(MILD),), reasons=(reason,))
    return Verdict()


def _if_not_additive(relevant: list[Ingredient], found: Verdict) -> tuple[Reason, ...]:
    """What Table 3.2.4 would say of ingredients without limits of their own."""
    if any(one.family == "Skin Corr." for one in found.classes):
        return ()
    meant = (i for i in relevant if _is_corrosive(i.data) and not rows(i.data, *SKIN))
    return if_not_additive(meant, CORROSIVE_NON_ADDITIVE, CORROSIVE, TABLE_NON_ADDITIVE)
