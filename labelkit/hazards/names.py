"""Which ingredients a label names: Article 18(3) and authority FAQ 0333."""

from collections.abc import Iterable

from labelkit.hazards.label import in_order
from labelkit.hazards.verdict import Finding, Verdict

__all__ = ["names_on_label"]

USUALLY_AT_MOST = (
    4  # Article 18(3), unless nature and severity of the hazards need more
)

# Article 18(3)(b); not for Skin Irrit., Eye Irrit. and the environment
_NAMED_FOR = (
    "Acute Tox.",
    "Skin Corr.",
    "Eye Dam.",
    "Resp. Sens.",
    "Skin Sens.",
    "Muta.",
    "Carc.",
    "Repr.",
    "Lact.",
    "STOT SE",
    "STOT RE",
    "Asp. Tox.",
    "ED HH",
    "ED ENV",
    "PBT",
    "vPvB",
    "PMT",
    "vPvM",
)


def names_on_label(verdict: Verdict) -> tuple[str, ...]:
    """The names after "contains", those of the most severe class first.

    Every class has at least its strongest cause named, even beyond four; further causes
    only as long as there are four or fewer, those that reach a class alone before mere
    contributors to a sum. Sensitisers above the elicitation limit (Annex II, 2.8) come
    on top.
    """
    findings = _in_order(verdict.findings)
    names = list(dict.fromkeys(f.names[0] for f in findings if f.names))
    alone = [name for f in findings if f.names_each for name in f.names[1:]]
    summed = [name for f in findings if not f.names_each for name in f.names[1:]]
    for name in (*alone, *summed):
        if name not in names and len(names) < USUALLY_AT_MOST:
            names.append(name)
    return tuple(dict.fromkeys((*names, *verdict.also_named)))


def _in_order(findings: Iterable[Finding]) -> list[Finding]:
    named = {f.hazard_class: f for f in findings if f.hazard_class.family in _NAMED_FOR}
    return [named[one] for one in in_order(named)]
