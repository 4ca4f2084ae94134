"""Acute toxicity by every route: Annex I, 3.1."""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from msgspec import Struct

from labelkit.hazards.classes import INHALATION, ROUTES, HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import CUT_OFFS, carried, own_limit, shown
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.regimes import Regime
from labelkit.hazards.verdict import Finding, Verdict, merge

__all__ = ["judge_acute"]

TABLE = "Table 3.1.1"
FORMULA = "3.1.3.6.1"
FORMULA_UNKNOWN = "3.1.3.6.2"

# Table 3.1.1, upper ends of categories 1 to 4, inclusive: mg/kg for oral and dermal,
# ppmV for gas, mg/L in 4 h for vapour and dust/mist. The fifth is the UN system's alone
# (2000 to 5000 by mouth and skin; for inhalation it has no figures).
_UPPER_ENDS = {
    "oral": ("5", "50", "300", "2000", "5000"),
    "dermal": ("50", "200", "1000", "2000", "5000"),
    "gas": ("100", "500", "2500", "20000"),
    "vapour": ("0.5", "2.0", "10.0", "20.0"),
    "dust/mist": ("0.05", "0.5", "1.0", "5.0"),
}
UPPER_ENDS: Mapping[str, tuple[Decimal, ...]] = {
    route: tuple(map(Decimal, ends)) for route, ends in _UPPER_ENDS.items()
}

# Table 3.1.2, converted point estimates for categories 1 to 4, same units. UN category
# 5 by mouth and skin: 2500 (GHS Table 3.1.2, from memory).
_CONVERTED = {
    "oral": ("0.5", "5", "100", "500", "2500"),
    "dermal": ("5", "50", "300", "1100", "2500"),
    "gas": ("10", "100", "700", "4500"),
    "vapour": ("0.05", "0.5", "3", "11"),
    "dust/mist": ("0.005", "0.05", "0.5", "1.5"),
}
CONVERTED: Mapping[str, tuple[Decimal, ...]] = {
    route: tuple(map(Decimal, points)) for route, points in _CONVERTED.items()
}

# 3.1.3.6.2 [% w/w]: an ingredient without data counts from 1 % on; above 10 % together
# they are taken out of the 100 of the formula
UNKNOWN_FROM = Decimal(1)
UNKNOWN_IN_FORMULA_ABOVE = Decimal(10)


class _Part(Struct, frozen=True):
    """One ingredient in the sum of a route: its share [% w/w] and its estimate."""

    name: str
    percent: Decimal
    ate: Decimal

    @property
    def load(self) -> Fraction:
        return Fraction(self.percent) / Fraction(self.ate)


def judge_acute(mixture: Composition, regime: Regime) -> Verdict:
    """One answer for each route for which an ingredient has data."""
    return merge(_judge_route(mixture, route, regime) for route in ROUTES)


def _judge_route(mixture: Composition, route: str, regime: Regime) -> Verdict:
    """Formula 3.1.3.6.1, or 3.1.3.6.2 where much is unknown."""
    parts = _parts(mixture, route, regime)
    unknown = _unknown(mixture, route)
    dropped = _dropped(mixture, route, regime)
    by_limit = _by_own_limit(mixture, route)
    if not parts:
        return merge((by_limit, _nothing_to_add(mixture, route, unknown, dropped)))
    above = unknown > UNKNOWN_IN_FORMULA_ABOVE
    basis = _known_share(parts, unknown) if above else Fraction(100)
    load = sum((part.load for part in parts), Fraction(0))
    category = _category(basis / load, route, regime)
    if mixture.one_substance:
        category = _own_category(mixture.now[0].data, route, regime)
    ate = Decimal((basis / load).numerator) / Decimal((basis / load).denominator)
    reason = _reason(route, parts, ate, category, FORMULA_UNKNOWN if above else FORMULA)
    found: tuple[Finding, ...] = ()
    if category:
        reached = HazardClass("Acute Tox.", str(category), route)
        names = _main(parts, basis / Fraction(UPPER_ENDS[route][category - 1]))
        found = (Finding(reached, names),)
    counted = Verdict(
        findings=found,
        reasons=(reason, *dropped),
        ate_mix={route: ate},
        unknown={route: unknown} if unknown else {},
    )
    return _worst((counted, by_limit))


def _parts(mixture: Composition, route: str, regime: Regime) -> list[_Part]:
    """The relevant ingredients whose estimate lies inside a category, largest first."""
    found = []
    for i in mixture.other:
        ate = _estimate(i.data, route, regime)
        if ate is not None and i.percent >= _cut_off(i.data, route, ate, regime):
            found.append(_Part(i.data.name, i.percent, ate))
    return sorted(found, key=lambda part: (-part.load, part.name))


def _own_category(data: HazardData, route: str, regime: Regime) -> int | None:
    """Of a substance by itself: the more severe of its class and its estimate.

    Some converted points of Table 3.1.2 lie on the upper end of the category above (5
    mg/kg for oral category 2): made for sums, they would raise the substance itself.
    """
    given = data.ate.get(route)
    of_given = None if given is None else _category(Fraction(given), route, regime)
    classed = (int(c.category) for c in _classes(data, route, regime))
    return min((*classed, *([of_given] if of_given else [])), default=None)


def _estimate(data: HazardData, route: str, regime: Regime) -> Decimal | None:
    """The estimate to use, or None where it lies outside every category.

    Its own figure goes before the category, unless it is the milder of the two:
    categories of Annex VI are minimum classifications (Annex VI, 1.2.1).
    """
    given = data.ate.get(route)
    classed = [int(c.category) for c in _classes(data, route, regime)]
    category = min(classed, default=None)
    if given is not None:
        of_given = _category(Fraction(given), route, regime)
        if of_given and (category is None or of_given <= category):
            return given
    return None if category is None else CONVERTED[route][category - 1]


def _classes(data: HazardData, route: str, regime: Regime) -> list[HazardClass]:
    steps = _steps(route, regime)
    own = (c for c in carried(data, "Acute Tox.") if c.detail == route)
    return [one for one in own if int(one.category) <= steps]


def _steps(route: str, regime: Regime) -> int:
    """How many categories the route has."""
    return len(UPPER_ENDS[route]) if regime.acute_5 else 4


def _category(ate: Fraction, route: str, regime: Regime) -> int | None:
    """The category an estimate falls into; upper ends belong to it."""
    ends = UPPER_ENDS[route][: _steps(route, regime)]
    return next((n for n, end in enumerate(ends, 1) if ate <= Fraction(end)), None)


def _cut_off(data: HazardData, route: str, ate: Decimal, regime: Regime) -> Decimal:
    """Table 1.1 by the category of the estimate, or the chemical's own lower limit."""
    category = _category(Fraction(ate), route, regime) or 4
    generic = CUT_OFFS[f"Acute Tox. {category}"]
    own = own_limit(data, "Acute Tox.", detail=route)
    return generic if own is None else min(generic, own)


def _unknown(mixture: Composition, route: str) -> Decimal:
    """How much of the mixture has no data on the route [% w/w]."""
    silent = (i for i in mixture.other if _has_no_data(i.data, route))
    shares = (i.percent for i in silent if i.percent >= UNKNOWN_FROM)
    return sum(shares, Decimal(0))


def _has_no_data(data: HazardData, route: str) -> bool:
    named = route in data.unknown_acute
    inhaled = route in INHALATION and "inhalation" in data.unknown_acute
    return named or inhaled or data.classes is None


def _known_share(parts: list[_Part], unknown: Decimal) -> Fraction:
    """100 less the unknown.

    Where a reaction makes chemicals count twice the unknown can reach 100 %; then the
    sum stands for what it holds.
    """
    counted = sum((Fraction(part.percent) for part in parts), Fraction(0))
    known = 100 - Fraction(unknown)
    return known if known > 0 else min(Fraction(100), counted)


def _nothing_to_add(
    mixture: Composition, route: str, unknown: Decimal, dropped: tuple[Reason, ...]
) -> Verdict:
    """No ingredient counts: say so where a chemical is known to lack the data.

    Nothing is said of chemicals without any data; they are named as such.
    """
    flagged = any(
        route in i.data.unknown_acute and i.percent >= UNKNOWN_FROM
        for i in mixture.other
    )
    if not flagged:
        return Verdict(reasons=dropped)
    word = "inhalation" if route in INHALATION else route
    text = f"{shown(unknown)} % has no data, and nothing else counts: no estimate"
    return Verdict(
        reasons=(Reason(f"Acute Tox. ({route})", FORMULA_UNKNOWN, text), *dropped),
        not_determined=(f"{word} toxicity",),
    )


def _dropped(mixture: Composition, route: str, regime: Regime) -> tuple[Reason, ...]:
    """Ingredients left out, and why."""
    return tuple(
        reason
        for i in mixture.other
        if (reason := _why_dropped(i, route, regime)) is not None
    )


def _why_dropped(i: Ingredient, route: str, regime: Regime) -> Reason | None:
    ate = _estimate(i.data, route, regime)
    share = f"{i.data.name} {shown(i.percent)} %"
    where = f"Acute Tox. ({route})"
    if ate is None:
        given = i.data.ate.get(route)
        if given is None:
            return None
        text = f"{share}: its estimate of {given} lies outside every category: left out"
        return Reason(where, TABLE, text)
    limit = _cut_off(i.data, route, ate, regime)
    if i.percent >= limit:
        return None
    text = f"{share} is below its cut-off of {shown(limit)} %: left out"
    return Reason(where, "Table 1.1", text)


def _by_own_limit(mixture: Composition, route: str) -> Verdict:
    """An entry's own limit for an acute class is enough by itself."""
    found, reasons = [], []
    for i in mixture.other:
        for category in "1234":
            limit = own_limit(i.data, "Acute Tox.", category, route)
            if limit is not None and i.percent >= limit:
                reached = HazardClass("Acute Tox.", category, route)
                text = f"{i.data.name} {shown(i.percent)} % ≥ {shown(limit)} %"
                found.append(Finding(reached, (i.data.name,)))
                reasons.append(Reason(str(reached), "own limit of the entry", text))
    return Verdict(findings=tuple(found), reasons=tuple(reasons))


def _worst(verdicts: tuple[Verdict, ...]) -> Verdict:
    """All reasons, but only the most severe category of the route."""
    whole = merge(verdicts)
    in_order = sorted(whole.findings, key=lambda one: one.hazard_class.category)
    return merge((Verdict(findings=tuple(in_order[:1])), _without_findings(whole)))


def _without_findings(verdict: Verdict) -> Verdict:
    return Verdict(
        reasons=verdict.reasons, ate_mix=verdict.ate_mix, unknown=verdict.unknown
    )


def _main(parts: list[_Part], needed: Fraction) -> tuple[str, ...]:
    """The fewest ingredients, largest first, that reach the category by themselves."""
    running, names = Fraction(0), []
    for part in parts:
        if running >= needed:
            break
        running += part.load
        names.append(part.name)
    return tuple(names)


def _reason(
    route: str, parts: list[_Part], ate: Decimal, category: int | None, rule: str
) -> Reason:
    added = " + ".join(f"{p.name} {shown(p.percent)} ÷ {shown(p.ate)}" for p in parts)
    reached = f"Acute Tox. {category}" if category else "Acute Tox."
    verdict = "" if category else "not reached: "
    text = f"{verdict}{added}: estimate {shown(ate)}"
    return Reason(f"{reached} ({route})", rule, text)
