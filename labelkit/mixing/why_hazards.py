"""Where the hazard classes of a plan come from: rule, sum, each chemical's entry."""

from collections.abc import Iterator

from labelkit.hazards.data import Basis, HazardData
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan
from labelkit.mixing.trace import Trace

__all__ = ["why_hazards"]

LAW = {
    "eu-clp": "Regulation (EC) No 1272/2008 (CLP), Annex I",
    "gb-clp": "GB CLP (retained Regulation (EC) No 1272/2008), Annex I",
    "un-ghs": "UN GHS",
    "us-hcs": "29 CFR 1910.1200 (HCS), Appendix A",
}
BASES = {
    Basis.OWN: "a person's own file",
    Basis.HARMONISED: "harmonised entry",
    Basis.GROUP: "group entry",
    Basis.SELF: "notifiers' own classification",
    Basis.COPIED: "as the anhydrous form",
}


def why_hazards(plan: Plan, handbook: Handbook) -> Iterator[Trace]:
    """Every class reached, then the classes of each chemical it was reckoned from."""
    hazard = plan.hazard
    law = LAW.get(hazard.regime, hazard.regime)
    for reason in hazard.because:
        if reason.hazard_class in (*hazard.classes, *hazard.euh):
            yield Trace(reason.hazard_class, reason.text, f"{law}, {reason.rule}")
    for part in plan.solution.parts(handbook.catalogue):
        yield _of(part.data)


def _of(data: HazardData) -> Trace:
    classes = ", ".join(data.classes) if data.classes else "none"
    limits = "; ".join(
        f"{limit.hazard_class} from {limit.minimum} %" for limit in data.limits
    )
    if data.classes is None:
        return Trace(f"classes of {data.id}", "no data", data.source or "none")
    how = f"{classes}; own limits: {limits}" if limits else classes
    basis = BASES[data.basis] if data.basis else "no official entry"
    source = ", ".join(word for word in (basis, data.confidence) if word)
    return Trace(f"classes of {data.id}", how, f"{data.source or 'none'} ({source})")
