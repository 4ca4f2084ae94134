"""Aspiration hazard: Annex I, 3.10."""

from decimal import Decimal

from labelkit.hazards.additivity import Sum, added_up_to, relevant_ingredients
from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import CUT_OFFS, cut_off, named, own_limit
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
    concerned = (i for i in mixture.other if named(i.data, "Asp. Tox."))
    relevant, dropped = relevant_ingredients(concerned, _cut_off, str(ASPIRATION))
    total = Sum.of((i, _limit(i.data)) for i in relevant)
    verdict = added_up_to(total, ASPIRATION, RULE)
    if verdict.findings:
        text = "viscosity not measured: taken as low, to be safe"
        dropped = (Reason(str(ASPIRATION), RULE, text), *dropped)
    return merge((verdict, Verdict(reasons=dropped)))


def _cut_off(data: HazardData) -> Decimal:
    return cut_off(data, CUT_OFFS["Asp. Tox."], "Asp. Tox.")


def _limit(data: HazardData) -> Decimal:
    return own_limit(data, "Asp. Tox.") or LIMIT
