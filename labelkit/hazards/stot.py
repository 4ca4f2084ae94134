"""Specific target organs, single and repeated exposure: Annex I, 3.8 and 3.9."""

from collections.abc import Iterable
from decimal import Decimal

from labelkit.hazards.additivity import Sum, added_up_to, relevant_ingredients
from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import CUT_OFFS, carried, own_limit, rows, shown
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.regimes import Regime
from labelkit.hazards.verdict import Finding, Verdict, merge

__all__ = ["judge_stot"]

TABLES = {"STOT SE": "Table 3.8.3", "STOT RE": "Table 3.9.4"}
RULE_SE_3 = "3.8.3.4.5"

# Tables 3.8.3 and 3.9.4 [% w/w]; category 1 from category 1, and category 2 from
# category 2, differ by regime
CATEGORY_2_FROM_1 = Decimal(1)

# 3.8.3.4.5, added up for each effect by itself [% w/w]
SE_3 = Decimal(20)
SE_3_EFFECTS = ("H335", "H336")  # airways, drowsiness: never added to one another

H_CODES = {
    "STOT SE 1": "H370",
    "STOT SE 2": "H371",
    "STOT RE 1": "H372",
    "STOT RE 2": "H373",
}


def judge_stot(mixture: Composition, regime: Regime) -> Verdict:
    """STOT SE 1 or 2, STOT RE 1 or 2, and STOT SE 3 for each effect."""
    parts = mixture.other
    return merge(
        (
            _judge(parts, "STOT SE", regime),
            _judge(parts, "STOT RE", regime),
            *(_effect(parts, effect) for effect in SE_3_EFFECTS),
        )
    )


def _judge(parts: Iterable[Ingredient], family: str, regime: Regime) -> Verdict:
    """Categories 1 and 2: each ingredient alone; the most severe is kept."""
    reached: list[tuple[HazardClass, Ingredient]] = []
    reasons = []
    for i in parts:
        tried = _limits(i.data, family, regime)
        got = next((t for t in tried if i.percent >= t[1]), None)
        text = f"{i.data.name} {shown(i.percent)} %"
        if got:
            reached.append((got[0], i))
            text = f"{text} ≥ {shown(got[1])} %"
            reasons.append(Reason(str(got[0]), TABLES[family], text))
        elif tried:
            text = f"not reached: {text} < {shown(tried[-1][1])} %"
            reasons.append(Reason(str(tried[-1][0]), TABLES[family], text))
    if not reached:
        return Verdict(reasons=tuple(reasons))
    top = min((one for one, _ in reached), key=lambda one: one.category)
    causes = [i for one, i in reached if one == top]
    names = tuple(i.data.name for i in causes)
    code = H_CODES[str(top)]
    organs = _organs([i.data for i in causes], code)
    return Verdict(
        findings=(Finding(top, names, names_each=True),),
        reasons=tuple(reasons),
        organs={code: organs} if organs else {},
    )


def _limits(
    data: HazardData, family: str, regime: Regime
) -> list[tuple[HazardClass, Decimal]]:
    """The categories it can give, most severe first, each with its limit."""
    first, second = HazardClass(family, "1"), HazardClass(family, "2")
    classes = (*carried(data, family), *(row[0] for row in rows(data, family)))
    limits = []
    if first in classes:
        limits.append((first, own_limit(data, family, "1") or regime.stot_1))
        limits.append((second, own_limit(data, family, "2") or CATEGORY_2_FROM_1))
    elif second in classes:
        limits.append((second, own_limit(data, family, "2") or regime.stot_2))
    return limits


def _organs(causes: list[HazardData], code: str) -> str:
    """Organs of all causes; "" as soon as one of them names none.

    The general wording covers every organ, a list would leave that one out.
    """
    kin = {"H371": "H370", "H373": "H372"}.get(code, "")
    named = [data.organs.get(code) or data.organs.get(kin, "") for data in causes]
    return "; ".join(dict.fromkeys(named)) if all(named) else ""


def _effect(parts: Iterable[Ingredient], effect: str) -> Verdict:
    """STOT SE 3 for one effect: added up, each ingredient from its cut-off on."""
    target = HazardClass("STOT SE", "3", effect)

    def own(data: HazardData) -> Decimal | None:
        return own_limit(data, "STOT SE", "3", effect)

    def cut_off(data: HazardData) -> Decimal:
        return min(own(data) or SE_3, CUT_OFFS["STOT SE 3"])

    concerned = (
        i for i in parts if target in carried(i.data, "STOT SE") or own(i.data)
    )
    relevant, dropped = relevant_ingredients(concerned, cut_off, str(target))
    total = Sum.of((i, own(i.data) or SE_3) for i in relevant)
    verdict = added_up_to(total, target, RULE_SE_3)
    return merge((verdict, Verdict(reasons=dropped)))
