"""Hazards to the aquatic environment: Annex I, 4.1, summation with M-factors."""

from collections.abc import Iterable
from decimal import Decimal

from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import CUT_OFFS, carried, shown
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.regimes import Regime
from labelkit.hazards.verdict import Finding, Verdict, merge

__all__ = ["judge_aquatic"]

ACUTE, CHRONIC = "Aquatic Acute", "Aquatic Chronic"
TABLES = {ACUTE: "Table 4.1.1", CHRONIC: "Table 4.1.2"}

# Tables 4.1.1 and 4.1.2: every weighted sum against this [% w/w]
LIMIT = Decimal(25)
# 4.1.3.5.5: weights of the more severe categories in the sum for a milder one. Acute 2
# and 3 are the UN system's alone.
WEIGHTS = {
    1: {1: Decimal(1)},
    2: {1: Decimal(10), 2: Decimal(1)},
    3: {1: Decimal(100), 2: Decimal(10), 3: Decimal(1)},
}
SAFETY_NET = HazardClass(CHRONIC, "4")  # categories 1 to 4 added up without M
M_UNKNOWN = Decimal(1)


def judge_aquatic(mixture: Composition, regime: Regime) -> Verdict:
    """Aquatic Acute and Aquatic Chronic, each in its most severe category."""
    if not regime.environment:
        return Verdict()
    parts = mixture.other
    acute = _judge(parts, ACUTE, 3 if regime.aquatic_2_3 else 1)
    chronic = _judge(parts, CHRONIC, 3)
    if not chronic.findings:
        chronic = merge((_safety_net(parts), chronic))
    return merge((acute, chronic, _without_factor(parts), _below(parts, regime)))


def _judge(parts: Iterable[Ingredient], family: str, steps: int) -> Verdict:
    """The first category whose weighted sum reaches 25 %, from the top."""
    terms = [
        (i, category) for i in parts if (category := _relevant(i, family)) is not None
    ]
    reasons = []
    for step in range(1, steps + 1):
        target = HazardClass(family, str(step))
        counted = [(i, c) for i, c in terms if c in WEIGHTS[step]]
        weighted = [(i, _weight(i.data, family, c, step)) for i, c in counted]
        total = sum((i.percent * weight for i, weight in weighted), Decimal(0))
        if not weighted:
            continue
        text = _added(weighted, total)
        if total >= LIMIT:
            found = (Finding(target, _by_size(weighted)),)
            return Verdict(
                findings=found, reasons=(Reason(str(target), TABLES[family], text),)
            )
        text = f"not reached: {text}"
        reasons.append(Reason(str(target), TABLES[family], text))
    return Verdict(reasons=tuple(reasons))


def _relevant(i: Ingredient, family: str) -> int | None:
    """The ingredient's category where it is not below its cut-off."""
    category = _category(i.data, family)
    if category is None or i.percent < _cut_off(i.data, family, category):
        return None
    return category


def _category(data: HazardData, family: str) -> int | None:
    return min((int(c.category) for c in carried(data, family)), default=None)


def _cut_off(data: HazardData, family: str, category: int) -> Decimal:
    """Table 1.1: 0.1 % ÷ M for category 1, else 1 %."""
    if category == 1:
        return CUT_OFFS["Aquatic 1"] / _factor(data, family)
    return CUT_OFFS["Aquatic"]


def _factor(data: HazardData, family: str) -> Decimal:
    own = data.m_acute if family == ACUTE else data.m_chronic
    return own or M_UNKNOWN


def _weight(data: HazardData, family: str, category: int, step: int) -> Decimal:
    weight = WEIGHTS[step][category]
    return weight * _factor(data, family) if category == 1 else weight


def _added(weighted: list[tuple[Ingredient, Decimal]], total: Decimal) -> str:
    added = " + ".join(
        f"{i.data.name} {shown(i.percent)} %" + (f" × {w:f}" if w != 1 else "")
        for i, w in weighted
    )
    sign = "≥" if total >= LIMIT else "<"
    equals = (
        "" if len(weighted) == 1 and weighted[0][1] == 1 else f" = {shown(total)} %"
    )
    return f"{added}{equals} {sign} {LIMIT} %"


def _by_size(weighted: list[tuple[Ingredient, Decimal]]) -> tuple[str, ...]:
    largest = sorted(
        weighted, key=lambda pair: (-pair[0].percent * pair[1], pair[0].data.name)
    )
    return tuple(i.data.name for i, _ in largest)


def _safety_net(parts: Iterable[Ingredient]) -> Verdict:
    """Table 4.1.2, last row: categories 1 to 4 without M."""
    counted = [(i, Decimal(1)) for i in parts if _relevant(i, CHRONIC) is not None]
    total = sum((i.percent for i, _ in counted), Decimal(0))
    if not counted:
        return Verdict()
    text = _added(counted, total)
    if total < LIMIT:
        text = f"not reached: {text}"
        return Verdict(reasons=(Reason(str(SAFETY_NET), TABLES[CHRONIC], text),))
    return Verdict(
        findings=(Finding(SAFETY_NET, _by_size(counted)),),
        reasons=(Reason(str(SAFETY_NET), TABLES[CHRONIC], text),),
    )


def _without_factor(parts: Iterable[Ingredient]) -> Verdict:
    """A missing M-factor is a gap in the data: 1 may be far too low."""
    missing = [
        (i.data.name, family)
        for i in parts
        for family, own in ((ACUTE, i.data.m_acute), (CHRONIC, i.data.m_chronic))
        if own is None and _category(i.data, family) == 1
    ]
    names = tuple(dict.fromkeys(name for name, _ in missing))
    if not names:
        return Verdict()
    text = "no M-factor known: taken as 1, which may be too low"
    return Verdict(
        reasons=tuple(
            Reason(f"{family} 1", "4.1.3.5.5", f"{name}: {text}")
            for name, family in missing
        ),
        notices=(f"{', '.join(names)}: {text} for water life.",),
    )


def _below(parts: Iterable[Ingredient], regime: Regime) -> Verdict:
    """Ingredients below their cut-off."""
    reasons = []
    for i in parts:
        for family in (ACUTE, CHRONIC):
            category = _category(i.data, family)
            counts = family == CHRONIC or regime.aquatic_2_3 or category == 1
            if category is None or not counts or _relevant(i, family) is not None:
                continue
            limit = shown(_cut_off(i.data, family, category))
            text = f"{i.data.name} {shown(i.percent)} % is below its cut-off of"
            text = f"{text} {limit} %: left out"
            reasons.append(Reason(f"{family} {category}", "Table 1.1", text))
    return Verdict(reasons=tuple(reasons))
