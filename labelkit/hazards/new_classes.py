"""Endocrine disruption, PBT, vPvB, PMT and vPvM: Annex I, 3.11 and 4.2 to 4.4.

Delegated Regulation (EU) 2023/707; new mixtures from 1 May 2026.
"""

from decimal import Decimal

from labelkit.hazards.composition import Composition
from labelkit.hazards.limits import carried, own_limit, rows, shown
from labelkit.hazards.mixture import Reason
from labelkit.hazards.regimes import Regime
from labelkit.hazards.verdict import Finding, Verdict

__all__ = ["FAMILIES", "STATEMENTS", "judge_new_classes"]

# Table 3.11.2 and, from memory, those of 4.2 to 4.4 [% w/w]; each ingredient alone
LIMITS = {
    "ED HH 1": Decimal("0.1"),
    "ED HH 2": Decimal(1),
    "ED ENV 1": Decimal("0.1"),
    "ED ENV 2": Decimal(1),
    "PBT": Decimal("0.1"),
    "vPvB": Decimal("0.1"),
    "PMT": Decimal("0.1"),
    "vPvM": Decimal("0.1"),
}
# These codes act as the hazard statements; there are no pictograms
STATEMENTS = {
    "ED HH 1": "EUH380",
    "ED HH 2": "EUH381",
    "ED ENV 1": "EUH430",
    "ED ENV 2": "EUH431",
    "PBT": "EUH440",
    "vPvB": "EUH441",
    "PMT": "EUH450",
    "vPvM": "EUH451",
}
FAMILIES = ("ED HH", "ED ENV", "PBT", "vPvB", "PMT", "vPvM")


def judge_new_classes(mixture: Composition, regime: Regime) -> Verdict:
    """Every one of the new classes that an ingredient reaches."""
    if not regime.new_classes:
        return Verdict()
    found: dict[str, Finding] = {}
    reasons = []
    for i in mixture.other:
        limited = (row[0] for row in rows(i.data, *FAMILIES))
        for one in dict.fromkeys((*carried(i.data, *FAMILIES), *limited)):
            limit = own_limit(i.data, one.family, one.category) or LIMITS[str(one)]
            text = f"{i.data.name} {shown(i.percent)} %"
            if i.percent >= limit:
                names = found[str(one)].names if str(one) in found else ()
                found[str(one)] = Finding(one, (*names, i.data.name), names_each=True)
                text = f"{text} ≥ {shown(limit)} %"
            else:
                text = f"not reached: {text} < {shown(limit)} %"
            reasons.append(Reason(str(one), "Table 3.11.2", text))
    kept = [f for text, f in found.items() if _stricter(text) not in found]
    return Verdict(
        findings=tuple(kept),
        reasons=tuple(reasons),
        euh=tuple(STATEMENTS[str(one.hazard_class)] for one in kept),
    )


def _stricter(text: str) -> str:
    """The category above: ED HH 1 for ED HH 2; of no other class is there one."""
    return f"{text.removesuffix('2')}1" if text.endswith("2") else ""
