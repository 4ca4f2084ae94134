"""Supplemental statements: Annex II parts 1 and 2."""

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction

from labelkit.hazards.classes import INHALATION, HazardClass
from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import carried, shown
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.new_classes import FAMILIES as NEW_FAMILIES
from labelkit.hazards.regimes import Regime
from labelkit.hazards.sensitisation import elicits
from labelkit.hazards.verdict import Verdict, merge

__all__ = ["judge_euh"]

# Annex II part 1 gives no limit for a mixture ("dangerous amounts"). Ours: printed from
# this share of all that carry the code [% w/w], unless the entry has a limit of its own
PRINTED_FROM = Decimal(1)
# Annex II, 1.2.5 [% w/w]
EUH070_FROM = Decimal("0.1")
# Annex II, 2.6: active chlorine, 0.95 of the hypochlorite, taken as all of it [% w/w]
EUH206_ABOVE = Decimal(1)
# Annex II, 2.10 [% w/w]
EUH210_CMR_FROM = Decimal("0.1")
EUH210_OTHER_FROM = Decimal(1)

_PART_1 = ("EUH029", "EUH031", "EUH032", "EUH066", "EUH071")
_ONLY_DRY = ("EUH014", "EUH044")  # water, or heat under confinement: not a solution's

_GAS = {
    "EUH029": "With water {names} can give off a toxic gas.",
    "EUH031": "With acid {names} can give off a toxic gas.",
    "EUH032": "With acid {names} can give off a very toxic gas.",
}
# Common practice: what gives off gas although no entry says so
_ADVICE = (
    (
        {"sulfite-source", "thiosulfate"},
        "With acid {names} can give off sulfur dioxide.",
    ),
    (
        {"cyanide-complex"},
        "With hot or strong acid or in sun {names} can give off hydrogen cyanide.",
    ),
    ({"sulfide"}, "With acid {names} can give off hydrogen sulfide."),
)


def judge_euh(
    mixture: Composition, reached: tuple[HazardClass, ...], regime: Regime
) -> Verdict:
    """The statements that are due, and gas warnings in plain words where none is.

    Part 1 binds classified mixtures only (Article 25(1)), part 2 all (25(6)).
    """
    codes = _part_1(mixture, reached) if regime.euh and reached else Verdict()
    more = _part_2(mixture, reached) if regime.euh else Verdict()
    return merge((codes, more, _advice(mixture.other, codes.euh)))


def _part_1(mixture: Composition, reached: tuple[HazardClass, ...]) -> Verdict:
    verdicts = [_by_sum(mixture.other, code) for code in _PART_1]
    if mixture.solid:
        verdicts += [_by_sum(mixture.other, code) for code in _ONLY_DRY]
    verdicts.append(_toxic_by_eye(mixture.other))
    whole = merge(verdicts)
    kept = tuple(code for code in whole.euh if _fits(code, reached))
    return Verdict(euh=kept, reasons=whole.reasons)


def _by_sum(parts: Iterable[Ingredient], code: str) -> Verdict:
    """The shares of all that carry the code, each over its limit."""
    bearers = [i for i in parts if code in i.data.euh]
    if not bearers:
        return Verdict()
    pairs = [(i, _own_limit(i.data, code) or PRINTED_FROM) for i in bearers]
    total = sum((Fraction(i.percent) / Fraction(lim) for i, lim in pairs), Fraction(0))
    held = " + ".join(
        f"{i.data.name} {shown(i.percent)} of {lim} %" for i, lim in pairs
    )
    if total < 1:
        return Verdict(
            reasons=(Reason(code, "Annex II part 1", f"not reached: {held}"),)
        )
    return Verdict(euh=(code,), reasons=(Reason(code, "Annex II part 1", held),))


def _own_limit(data: HazardData, code: str) -> Decimal | None:
    own = (limit.minimum for limit in data.limits if limit.hazard_class == code)
    return min(own, default=None)


def _toxic_by_eye(parts: Iterable[Ingredient]) -> Verdict:
    code = "EUH070"
    bearers = [i for i in parts if code in i.data.euh and i.percent >= EUH070_FROM]
    if not bearers:
        return Verdict()
    held = ", ".join(f"{i.data.name} {shown(i.percent)} %" for i in bearers)
    return Verdict(euh=(code,), reasons=(Reason(code, "Annex II, 1.2.5", held),))


def _fits(code: str, reached: tuple[HazardClass, ...]) -> bool:
    """1.2.4: not on a skin irritant. 1.2.6: with an inhalation class or Skin Corr."""
    families = {one.family for one in reached}
    if code == "EUH066":
        return not families & {"Skin Corr.", "Skin Irrit."}
    if code == "EUH071":
        inhaled = any(
            one.family == "Acute Tox." and one.detail in INHALATION for one in reached
        )
        return inhaled or "Skin Corr." in families
    return True


def _part_2(mixture: Composition, reached: tuple[HazardClass, ...]) -> Verdict:
    verdicts = []
    chlorine = [i for i in mixture.other if "hypochlorite" in i.data.tags]
    share = sum((i.percent for i in chlorine), Decimal(0))
    if share > EUH206_ABOVE and mixture.for_public:
        text = f"hypochlorite {shown(share)} % > {EUH206_ABOVE} %"
        reason = Reason("EUH206", "Annex II, 2.6", text)
        verdicts.append(Verdict(euh=("EUH206",), reasons=(reason,)))
    if not reached and not mixture.for_public:
        verdicts.append(_sheet_on_request(mixture.other))
    return merge(verdicts)


def _sheet_on_request(parts: Iterable[Ingredient]) -> Verdict:
    """EUH210 on an unclassified mixture that is not for the public (Annex II, 2.10)."""
    causes = [i for i in parts if _asks_for_sheet(i)]
    if not causes:
        return Verdict()
    held = ", ".join(f"{i.data.name} {shown(i.percent)} %" for i in causes)
    return Verdict(euh=("EUH210",), reasons=(Reason("EUH210", "Annex II, 2.10", held),))


def _asks_for_sheet(i: Ingredient) -> bool:
    data, percent = i.data, i.percent
    if elicits(data, percent):
        return True
    second_ed = any(c.category == "2" for c in carried(data, "ED HH", "ED ENV"))
    cmr = carried(data, "Carc.", "Repr.", "Lact.")
    if percent >= EUH210_CMR_FROM and (cmr or second_ed):
        return True
    return percent >= EUH210_OTHER_FROM and bool(
        carried(data, *_HEALTH, *_ENVIRONMENT, *NEW_FAMILIES)
    )


_HEALTH = (
    "Acute Tox.",
    "Skin Corr.",
    "Skin Irrit.",
    "Eye Dam.",
    "Eye Irrit.",
    "Resp. Sens.",
    "Skin Sens.",
    "Muta.",
    "STOT SE",
    "STOT RE",
    "Asp. Tox.",
)
_ENVIRONMENT = ("Aquatic Acute", "Aquatic Chronic")


def _advice(parts: Iterable[Ingredient], printed: tuple[str, ...]) -> Verdict:
    """Gas warnings in plain words, where no statement says so already."""
    there = tuple(parts)
    notices = []
    warned: set[str] = set()
    for code, sentence in _GAS.items():
        bearers = [i.data.name for i in there if code in i.data.euh]
        warned |= set(bearers)
        if bearers and code not in printed:
            notices.append(sentence.format(names=" and ".join(bearers)))
    for tags, sentence in _ADVICE:
        names = [i.data.name for i in there if i.data.tags & tags]
        names = [name for name in names if name not in warned]
        if names:
            notices.append(sentence.format(names=" and ".join(names)))
    return Verdict(notices=tuple(notices))
