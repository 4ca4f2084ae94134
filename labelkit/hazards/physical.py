"""Physical hazards: Annex I part 2. Little can be computed; the rest is said."""

from collections.abc import Iterable
from decimal import Decimal

from labelkit.hazards.classes import HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import carried, rows, shown
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.verdict import Finding, Verdict, merge

__all__ = ["METAL_CORROSION", "judge_physical"]

METAL_CORROSION = "metal corrosion"  # Table 2.16.1: a test in steel and aluminium

# Table 2.6.1, flash point [degC]: below 23 category 2 (1 where it boils at 35 or less),
# from 23 to 60, both inclusive, category 3
FLASH_2_BELOW_C = Decimal(23)
FLASH_3_UP_TO_C = Decimal(60)

_OXIDISING = ("Ox. Liq.", "Ox. Sol.", "Ox. Gas")
_FLAMMABLE = ("Flam. Liq.", "Flam. Sol.", "Flam. Gas")
_EXPLOSIVE = ("Expl.", "Self-react.", "Org. Perox.")
_BY_CONTACT = ("Water-react.", "Pyr. Liq.", "Pyr. Sol.")
_FAMILIES = (
    *_EXPLOSIVE,
    *_FLAMMABLE,
    *_BY_CONTACT,
    *_OXIDISING,
    "Self-heat.",
    "Press. Gas",
    "Met. Corr.",
)
# What an ingredient of these classes leaves open: tests only (2.1 to 2.16)
_LEFT_OPEN = (
    (_OXIDISING, "oxidiser", "oxidising"),
    (_FLAMMABLE, "flammable", "flammability"),
    (_EXPLOSIVE, "explosive", "explosion"),
    (("Self-heat.",), "", "self-heating"),
    (_BY_CONTACT, "", "fire with water or air"),
)
_ATTACKS_METAL = {"strong-acid", "strong-base", "copper", "persulfate"}


def judge_physical(mixture: Composition) -> Verdict:
    """Classes that follow from limits, flash point or purity, and what stays open."""
    if mixture.one_substance:
        found = _substance_itself(mixture.now[0].data)
    else:
        found = merge(
            (
                _by_flash_point(mixture),
                _by_own_limits(mixture.other),
                _assumed_oxidiser(mixture),
            )
        )
    return merge((_most_severe(found), _open(mixture, found), _hints(mixture)))


def _substance_itself(data: HazardData) -> Verdict:
    """A bottle that holds one substance has the classes of the substance."""
    classes = carried(data, *_FAMILIES)
    text = f"{data.name} alone: its own class"
    return Verdict(
        findings=tuple(Finding(one) for one in classes),
        reasons=tuple(Reason(str(one), "Annex VI", text) for one in classes),
    )


def _by_flash_point(mixture: Composition) -> Verdict:
    flash = mixture.flash_point_C
    if flash is None:
        return Verdict()
    text = f"flash point {shown(flash)} °C"
    if flash > FLASH_3_UP_TO_C:
        text = f"not reached: {text} > {FLASH_3_UP_TO_C} °C"
        return Verdict(reasons=(Reason("Flam. Liq. 3", "Table 2.6.1", text),))
    category = "3"
    if flash < FLASH_2_BELOW_C:
        boils_low = HazardClass("Flam. Liq.", "1")
        low = any(boils_low in carried(i.data, "Flam. Liq.") for i in mixture.other)
        category = "1" if low else "2"
    reached = HazardClass("Flam. Liq.", category)
    reason = Reason(str(reached), "Table 2.6.1", text)
    return Verdict(findings=(Finding(reached),), reasons=(reason,))


def _by_own_limits(parts: Iterable[Ingredient]) -> Verdict:
    """Annex VI gives limits for peroxide and nitric acid; they may be applied."""
    found, reasons = [], []
    for i in parts:
        for reached, limit in rows(i.data, *_FAMILIES):
            if i.percent >= limit:
                text = f"{i.data.name} {shown(i.percent)} % ≥ {shown(limit)} %"
                found.append(Finding(reached))
                reasons.append(Reason(str(reached), "own limit of the entry", text))
    return Verdict(findings=tuple(found), reasons=tuple(reasons))


def _assumed_oxidiser(mixture: Composition) -> Verdict:
    """A dry mixture with an oxidising powder is taken to be one (2.14: tests only)."""
    if not mixture.solid:
        return Verdict()
    found, reasons = [], []
    for i in mixture.other:
        for one in carried(i.data, "Ox. Sol."):
            text = f"assumed: dry, and holds {i.data.name} {shown(i.percent)} %"
            found.append(Finding(one))
            reasons.append(Reason(str(one), "2.14", text))
    return Verdict(findings=tuple(found), reasons=tuple(reasons))


def _most_severe(verdict: Verdict) -> Verdict:
    """One category a class."""
    kept: dict[str, Finding] = {}
    for finding in sorted(verdict.findings, key=lambda f: f.hazard_class.category):
        kept.setdefault(finding.hazard_class.family, finding)
    return Verdict(findings=tuple(kept.values()), reasons=verdict.reasons)


def _open(mixture: Composition, found: Verdict) -> Verdict:
    """What only a test could tell of this mixture."""
    words = [] if mixture.solid else [METAL_CORROSION]
    settled = {one.family for one in found.classes}
    reasons = []
    for families, tag, word in _LEFT_OPEN:
        if settled & set(families):
            continue
        if word == "flammability" and mixture.flash_point_C is not None:
            continue
        causes = [i for i in mixture.other if _has(i.data, families, tag)]
        if causes:
            words.append(word)
            held = ", ".join(f"{i.data.name} {shown(i.percent)} %" for i in causes)
            text = f"not determined: contains {held}; only a test can tell"
            reasons.append(Reason(word, "Annex I part 2", text))
    return Verdict(not_determined=tuple(words), reasons=tuple(reasons))


def _has(data: HazardData, families: tuple[str, ...], tag: str) -> bool:
    return bool(carried(data, *families)) or (bool(tag) and tag in data.tags)


def _hints(mixture: Composition) -> Verdict:
    """What a chemist would warn of although no rule gives a class."""
    tags = {tag for i in mixture.now for tag in i.data.tags}
    notices = []
    if not mixture.solid and (_may_attack_metal(mixture) or _extreme(mixture)):
        notices.append("May attack metal: keep in glass or plastic.")
    if mixture.solid and {"oxidiser", "reducer"} <= tags:
        notices.append("Oxidiser and reducer dry together can burn: do not combine.")
    ammonia = "ammonia" in tags or (
        "ammonium" in tags and tags & {"base", "strong-base"}
    )
    if "silver" in tags and ammonia:
        notices.append("Silver with ammonia can explode once dry: never store it.")
    return Verdict(notices=tuple(notices))


def _may_attack_metal(mixture: Composition) -> bool:
    tags = [i.data.tags for i in mixture.now]
    return any(one & _ATTACKS_METAL or {"iron3", "chloride"} <= one for one in tags)


def _extreme(mixture: Composition) -> bool:
    """2.16 as a hint: pH 2 and less, 11.5 and more."""
    ph = mixture.ph
    return ph is not None and (ph.low <= 2 or ph.high >= 11.5)
