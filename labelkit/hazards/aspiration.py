"""Aspiration hazard: Annex I, 3.10."""

from decimal import Decimal

from labelkit.hazards.additivity import Sum, added_up_to, left_out
from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.limits import CUT_OFFS, carried, own_limit
from labelkit.hazards.mixture import Reason
from labelkit.hazards.verdict import Verdict, merge

__all__ = ["judge_aspiration"]

RULE = "3.10.3.3.1"
ASPIRATION = HazardClass("Asp. Tox.", "1")

# 3.10.3.3.1 [% w/w], each ingredient from 1 % on
LIMIT = Decimal(10)


def judge_aspiration(mixture: Composition) -> Verdict:
    """Asp. Tox. 1 by the sum.

    The law asks besides for a kinematic viscosity of 20.5 mm2/s or less at 40 degC;
    nobody measures that at a bench, so a low one is taken.
    """
    concerned = [
        (i, own_limit(i.data, "Asp. Tox.") or LIMIT)
        for i in mixture.other
        if carried(i.data, "Asp. Tox.") or own_limit(i.data, "Asp. Tox.")
    ]
    cut = CUT_OFFS["Asp. Tox."]
    relevant = [(i, limit) for i, limit in concerned if i.percent >= min(cut, limit)]
    below = [pair for pair in concerned if pair not in relevant]
    verdict = added_up_to(Sum.of(relevant), ASPIRATION, RULE)
    dropped = tuple(left_out(i, min(cut, lim), str(ASPIRATION)) for i, lim in below)
    if verdict.findings:
        text = "viscosity not measured: taken as low, to be safe"
        dropped = (Reason(str(ASPIRATION), RULE, text), *dropped)
    return merge((verdict, Verdict(reasons=dropped)))
