"""Whether hazard data can be what they say they are."""

from collections import defaultdict
from collections.abc import Iterable
from decimal import Decimal
from itertools import pairwise

from labelkit.errors import BadInput, Fault
from labelkit.hazards.classes import ROUTES, HazardClass, read_class
from labelkit.hazards.data import HazardData, Limit
from labelkit.hazards.limits import EYE, SKIN

__all__ = ["EUH_CODES", "check_data"]

# Annex II part 1 and part 2 as far as raw chemicals carry them, and the statements of
# Delegated Regulation (EU) 2023/707
EUH_CODES = (
    "EUH014",
    "EUH029",
    "EUH031",
    "EUH032",
    "EUH044",
    "EUH066",
    "EUH070",
    "EUH071",
    "EUH206",
    "EUH208",
    "EUH210",
    "EUH380",
    "EUH381",
    "EUH430",
    "EUH431",
    "EUH440",
    "EUH441",
    "EUH450",
    "EUH451",
)


def check_data(data: HazardData) -> list[Fault]:
    """Every fault in the hazard data of one chemical; places are key paths."""
    faults = [
        *_class_faults(data),
        *_limit_faults(data),
        *_ate_faults(data),
        *_factor_faults(data),
        *_code_faults(data),
    ]
    return [fault.at(data.id) for fault in faults]


def _class_faults(data: HazardData) -> Iterable[Fault]:
    for text in data.classes or ():
        yield from _unread(text, "classes")


def _unread(text: str, key: str) -> tuple[Fault, ...]:
    try:
        read_class(text)
    except BadInput as error:
        return error.at(key).faults
    return ()


def _limit_faults(data: HazardData) -> Iterable[Fault]:
    kept: dict[str, list[Limit]] = defaultdict(list)
    for limit in data.limits:
        found = (*_limit_class_faults(limit), *_range_faults(limit))
        yield from found
        if not found and not limit.hazard_class.startswith("EUH"):
            kept[_scale(read_class(limit.hazard_class))].append(limit)
    for limits in kept.values():
        yield from _overlaps(limits)
    if data.acid_or_base and not kept["skin"] and not kept["eye"]:
        yield Fault(
            "acid_or_base",
            "true, but there is no skin or eye limit that could cover the pH",
            "Give the limits in scl, or leave acid_or_base out.",
        )


def _limit_class_faults(limit: Limit) -> Iterable[Fault]:
    text = limit.hazard_class
    if text.startswith("EUH"):
        if text not in EUH_CODES:
            yield Fault("scl", f"'{text}' is no EUH code", "Write one like EUH031.")
        return
    yield from _unread(text, "scl")
    if text.startswith("Aquatic"):
        yield Fault(
            "scl",
            f"'{text}' takes a multiplying factor, not a limit",
            "Write m = { acute = 10, chronic = 1 }.",
        )


def _range_faults(limit: Limit) -> Iterable[Fault]:
    top = Decimal(100) if limit.below is None else limit.below
    finite = limit.minimum.is_finite() and top.is_finite()
    if not finite or not 0 < limit.minimum <= 100:
        problem = f"{limit.hazard_class} from {limit.minimum} % cannot be"
        yield Fault("scl", problem, "Write min above 0 and up to 100.")
    elif limit.below is not None and limit.below <= limit.minimum:
        yield Fault(
            "scl",
            f"{limit.hazard_class} from {limit.minimum} % to below {limit.below} %"
            " holds nothing",
            "Write below greater than min.",
        )


def _scale(found: HazardClass) -> str:
    """Which limits may not overlap: those of one hazard, route by route."""
    if found.family in SKIN:
        return "skin"
    if found.family in EYE:
        return "eye"
    kind = found.detail if found.family in ("Acute Tox.", "STOT SE") else ""
    return f"{found.family} {kind}"


def _overlaps(limits: list[Limit]) -> Iterable[Fault]:
    in_order = sorted(limits, key=lambda limit: limit.minimum)
    for lower, upper in pairwise(in_order):
        if lower.below is None or lower.below > upper.minimum:
            yield Fault(
                "scl",
                f"{lower.hazard_class} from {lower.minimum} % overlaps"
                f" {upper.hazard_class} from {upper.minimum} %",
                f"Write below = {upper.minimum} for the first.",
            )


def _ate_faults(data: HazardData) -> Iterable[Fault]:
    for route, ate in data.ate.items():
        if route not in ROUTES:
            yield _no_route(route, "ate")
        elif not ate.is_finite() or ate <= 0:
            yield Fault(
                f"ate, {route}",
                f"{ate} is no acute toxicity estimate",
                "Write a figure above 0, or leave it out.",
            )
    for route in data.unknown_acute:
        if route not in (*ROUTES, "inhalation"):
            yield _no_route(route, "unknown_acute")


def _no_route(route: str, key: str) -> Fault:
    return Fault(key, f"'{route}' is no route", f"Write one of: {', '.join(ROUTES)}.")


def _factor_faults(data: HazardData) -> Iterable[Fault]:
    for key, factor in (("acute", data.m_acute), ("chronic", data.m_chronic)):
        if factor is not None and not (factor.is_finite() and factor >= 1):
            yield Fault(
                f"m, {key}",
                f"{factor} is no multiplying factor",
                "Write 1, 10, 100 and so on.",
            )


def _code_faults(data: HazardData) -> Iterable[Fault]:
    for code in data.euh:
        if code not in EUH_CODES:
            yield Fault("euh", f"'{code}' is no EUH code", "Write one like EUH031.")
