"""Respiratory and skin sensitisation: Annex I, 3.4. Nothing is added up."""

from collections.abc import Iterable
from decimal import Decimal

from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import carried, own_limit, rows, shown
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.regimes import Regime
from labelkit.hazards.verdict import Finding, Verdict, merge

__all__ = ["FAMILIES", "elicits", "judge_sensitisation"]

FAMILIES = ("Resp. Sens.", "Skin Sens.")
TABLE = "Table 3.4.5"
TABLE_ELICITATION = "Table 3.4.6"

# Table 3.4.5, solids and liquids [% w/w]; the plain category 1 differs by regime
LIMIT_1A = Decimal("0.1")
LIMIT_1B = Decimal("1.0")

# Table 3.4.6, elicitation in people already allergic [% w/w]; with a specific limit a
# tenth of it (Annex II, 2.10)
ELICITATION = {"1": Decimal("0.1"), "1A": Decimal("0.01"), "1B": Decimal("0.1")}
TENTH = Decimal(10)


def judge_sensitisation(mixture: Composition, regime: Regime) -> Verdict:
    """Resp. Sens. 1 and Skin Sens. 1, and what EUH208 must name."""
    verdict = merge(_judge(mixture.other, family, regime) for family in FAMILIES)
    eliciting = _eliciting(mixture.other, verdict)
    if not eliciting:
        return verdict
    names = tuple(dict.fromkeys(i.data.name for i in eliciting))
    text = ", ".join(f"{i.data.name} {shown(i.percent)} %" for i in eliciting)
    reason = Reason("EUH208", TABLE_ELICITATION, f"{text}: may set off an allergy")
    if verdict.findings:
        more = Verdict(also_named=names, reasons=(reason,))
    elif regime.euh:
        more = Verdict(euh=("EUH208",), euh208_names=names, reasons=(reason,))
    else:
        more = Verdict()
    return merge((verdict, more))


def elicits(data: HazardData, percent: Decimal) -> bool:
    """Whether so much of it may set off an allergy that is already there."""
    return any(percent >= limit for limit in _elicitation_limits(data))


def _elicitation_limits(data: HazardData) -> Iterable[Decimal]:
    for family in FAMILIES:
        own = own_limit(data, family)
        if own is not None:
            yield own / TENTH
        else:
            yield from (ELICITATION[c.category] for c in carried(data, family))


def _judge(parts: Iterable[Ingredient], family: str, regime: Regime) -> Verdict:
    """Sub-categories of the mixture are optional and the label is the same: 1."""
    reached = HazardClass(family, "1")
    names, reasons = [], []
    for i in parts:
        limit = _limit(i.data, family, regime)
        if limit is None:
            continue
        text = f"{i.data.name} {shown(i.percent)} %"
        if i.percent >= limit:
            names.append(i.data.name)
            reasons.append(Reason(str(reached), TABLE, f"{text} ≥ {shown(limit)} %"))
        else:
            text = f"not reached: {text} < {shown(limit)} %"
            reasons.append(Reason(str(reached), TABLE, text))
    found = (Finding(reached, tuple(names), names_each=True),) if names else ()
    return Verdict(findings=found, reasons=tuple(reasons))


def _limit(data: HazardData, family: str, regime: Regime) -> Decimal | None:
    """Its own limit, else that of its category; None where it is no sensitiser."""
    if rows(data, family):
        return own_limit(data, family)
    plain = regime.resp_sens_1 if family == "Resp. Sens." else regime.skin_sens_1
    limits = {"1": plain, "1A": LIMIT_1A, "1B": LIMIT_1B}
    return min((limits[c.category] for c in carried(data, family)), default=None)


def _eliciting(parts: Iterable[Ingredient], verdict: Verdict) -> list[Ingredient]:
    """Those above the elicitation limit that no class has named already."""
    named = {name for finding in verdict.findings for name in finding.names}
    return [i for i in parts if elicits(i.data, i.percent) and i.data.name not in named]
