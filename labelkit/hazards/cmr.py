"""Germ-cell mutagenicity, carcinogenicity, reproductive toxicity: Annex I, 3.5 to 3.7.

Each ingredient counts alone, except for Notes 11 and 12 of Annex VI.
"""

from collections.abc import Iterable
from decimal import Decimal

from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import carried, own_limit, rows, shown
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.regimes import Regime
from labelkit.hazards.verdict import Finding, Verdict, merge

__all__ = ["judge_cmr"]

TABLES = {
    "Muta.": "Table 3.5.2",
    "Carc.": "Table 3.6.2",
    "Repr.": "Table 3.7.2",
    "Lact.": "Table 3.7.2",
}

# Table 3.5.2 and 3.6.2 [% w/w]; Carc. 2, Repr. and Lact. differ by regime
MUTA_1 = Decimal("0.1")
MUTA_2 = Decimal("1.0")
CARC_1 = Decimal("0.1")

# Annex VI, 1.1.3.2, Note 11 (boron compounds) and Note 12 (2-ethylhexanoic acid and its
# salts), added by Delegated Regulation (EU) 2023/1434: summed as such [% w/w]
NOTE_SUM = Decimal("0.3")
NOTE_11, NOTE_12 = "Note 11", "Note 12"
# Every boron entry under Note 11 carries both letters; taken for a borate without any
BORON_LETTERS = "FD"


def judge_cmr(mixture: Composition, regime: Regime) -> Verdict:
    """The most severe category of each of the four classes."""
    borates = [i for i in mixture.boron if _is_borate(i.data)]
    others = [i for i in mixture.other if not _is_borate(i.data)]
    for_repr = [*others, *borates]
    verdicts = [
        _judge(mixture.other, "Muta.", regime),
        _judge(mixture.other, "Carc.", regime),
        _judge(for_repr, "Lact.", regime),
        _repr(others if regime.boron_sum else for_repr, borates, regime),
    ]
    return merge(verdicts)


def _is_borate(data: HazardData) -> bool:
    """Any borate counts: in water all are the same one."""
    return "11" in data.notes or "borate" in data.tags


def _repr(
    alone: list[Ingredient], borates: list[Ingredient], regime: Regime
) -> Verdict:
    """Repr. by single ingredients and by the sums of the notes, letters together."""
    acids = [i for i in alone if "12" in i.data.notes]
    verdicts = [_judge(alone, "Repr.", regime)]
    if regime.boron_sum:
        verdicts.append(_by_note(borates, NOTE_11))
        verdicts.append(_by_note(acids, NOTE_12))
    whole = merge(verdicts)
    if not whole.findings:
        return whole
    top = _together([finding.hazard_class for finding in whole.findings])
    names = dict.fromkeys(name for f in whole.findings for name in f.names)
    found = Finding(top, tuple(names), names_each=True)
    return Verdict(
        findings=(found,), reasons=whole.reasons, notices=_notices(regime, whole)
    )


def _notices(regime: Regime, verdict: Verdict) -> tuple[str, ...]:
    noted = any(r.rule == NOTE_11 and "≥" in r.text for r in verdict.reasons)
    if noted and regime.name == "gb-clp":
        return ("Boron compounds summed as in the EU: check the GB mandatory list.",)
    return ()


def _by_note(parts: list[Ingredient], note: str) -> Verdict:
    """Compounds under one note add up to Repr. 1B."""
    if not parts:
        return Verdict()
    total = sum((i.percent for i in parts), Decimal(0))
    added = " + ".join(f"{i.data.name} {shown(i.percent)} %" for i in parts)
    equals = f" = {shown(total)} %" if len(parts) > 1 else ""
    reached = HazardClass("Repr.", "1B", _letters_of(parts))
    if total < NOTE_SUM:
        text = f"not reached: {added}{equals} < {NOTE_SUM} %"
        return Verdict(reasons=(Reason(str(reached), note, text),))
    found = Finding(reached, tuple(i.data.name for i in parts), names_each=True)
    reason = Reason(str(reached), note, f"{added}{equals} ≥ {NOTE_SUM} %")
    return Verdict(findings=(found,), reasons=(reason,))


def _letters_of(parts: list[Ingredient]) -> str:
    classes = [c for i in parts for c in carried(i.data, "Repr.") if c.category != "2"]
    return _together(classes).detail if classes else BORON_LETTERS


def _judge(parts: Iterable[Ingredient], family: str, regime: Regime) -> Verdict:
    """One class, each ingredient alone; the most severe category is kept."""
    found: list[tuple[HazardClass, str]] = []
    reasons = []
    for i in parts:
        for reached, limit in _limits(i.data, family, regime):
            text = f"{i.data.name} {shown(i.percent)} %"
            if i.percent >= limit:
                found.append((reached, i.data.name))
                text = f"{text} ≥ {shown(limit)} %"
            else:
                text = f"not reached: {text} < {shown(limit)} %"
            reasons.append(Reason(str(reached), TABLES[family], text))
    if not found:
        return Verdict(reasons=tuple(reasons))
    top = _together([reached for reached, _ in found])
    finding = Finding(top, tuple(name for _, name in found), names_each=True)
    return Verdict(findings=(finding,), reasons=tuple(reasons))


def _limits(
    data: HazardData, family: str, regime: Regime
) -> list[tuple[HazardClass, Decimal]]:
    """The classes it can give, each with the limit that holds for it."""
    limited = [(_with_letters(data, one), limit) for one, limit in rows(data, family)]
    free = [
        (one, _generic(one, regime))
        for one in carried(data, family)
        if own_limit(data, family, one.category) is None
    ]
    return [*limited, *free]


def _with_letters(data: HazardData, of_row: HazardClass) -> HazardClass:
    """A limit written without letters means the class as the entry carries it."""
    for one in carried(data, of_row.family):
        if one.category == of_row.category and not of_row.detail:
            return one
    return of_row


def _generic(one: HazardClass, regime: Regime) -> Decimal:
    if one.family == "Lact.":
        return regime.lact
    first = one.category.startswith("1")
    limits = {
        "Muta.": (MUTA_1, MUTA_2),
        "Carc.": (CARC_1, regime.carc_2),
        "Repr.": (regime.repr_1, regime.repr_2),
    }
    return limits[one.family][0 if first else 1]


def _together(classes: list[HazardClass]) -> HazardClass:
    """The most severe category, with the letters of all that were reached."""
    top = min(classes, key=lambda one: one.category)
    if top.family == "Repr.":
        return HazardClass(top.family, top.category, _joined_letters(classes))
    if top.family == "Carc.":
        same = [c for c in classes if c.category[:1] == top.category[:1]]
        only_inhaled = all(c.detail == "i" for c in same)
        return HazardClass(top.family, top.category, "i" if only_inhaled else "")
    return top


def _joined_letters(classes: list[HazardClass]) -> str:
    """F and D of category 1, f and d of what is only suspected: F and d give Fd.

    A category 1 class without letters leaves the effect open and so does the result,
    unless the others already name both. One of category 2 without letters is taken to
    suspect both.
    """
    first = [c for c in classes if c.category != "2"]
    second = [c.detail or "fd" for c in classes if c.category == "2"]
    known = set("".join(c.detail for c in first)) & {"F", "D"}
    if first and known != {"F", "D"} and not all(c.detail for c in first):
        return ""
    if not first and not all(c.detail for c in classes):
        return ""
    suspected = set("".join([*second, *(c.detail for c in first)])) & {"f", "d"}
    suspected -= {letter.lower() for letter in known}
    if known == {"D"} and suspected == {"f"}:
        return "Df"
    order = "FfDd"
    return "".join(sorted(known | suspected, key=order.index))
