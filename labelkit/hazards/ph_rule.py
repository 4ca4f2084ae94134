"""The pH rule for skin and eye: 3.2.3.1.2 and 3.3.3.1.2, with its exception."""

from collections.abc import Iterable
from decimal import Decimal

from msgspec import Struct

from labelkit.hazards.composition import Composition
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import CUT_OFFS, EYE, SKIN, cut_off, named, rows
from labelkit.hazards.mixture import Acidity, Ingredient, Reason

__all__ = ["PhFinding", "is_acid_or_base", "judge_ph", "reaches_far"]

RULE = "3.2.3.1.2 and 3.3.3.1.2"

# 3.2.3.1.2 and 3.3.3.1.2: corrosive at or beyond these, both inclusive
ACID_LIMIT_PH = 2.0
BASE_LIMIT_PH = 11.5

# An acid or base that counts towards "pH not measured: labelled as corrosive to be
# safe", from this share on [% w/w]; the same 1 % as Tables 3.2.4 and 3.3.4.
UNMEASURED_FROM = Decimal(1)

# Which tags can carry a solution to pH 2 or 11.5 at all (common knowledge of the pKa,
# from handbooks; the bound in use is ½(pKa - log c) and ½(14 + pKa + log c)):
# - acid, strong-acid: pKa about 3 and less (also acetic, which has own limits)
# - base, strong-base, carbonate: conjugate pKa about 10 and more
# Left out:
# - very-weak-acid (boric, pKa 9.2): 1 mol/L is about pH 4.6
# - mild-acid (acid salts, alums, ascorbic acid; pKa 4 and more): pH 2 needs 1 mol/L
# - weak-base (sulfite, acetate; pKa 7.2 and less): 1 mol/L is about pH 10.6
# - bicarbonate: about pH 8.3 at any strength
FAR_ACID = frozenset({"acid", "strong-acid"})
FAR_BASE = frozenset({"base", "strong-base", "carbonate"})
NEVER_FAR = frozenset({"bicarbonate"})
# - borate: borax stays near 9.2, and metaborate (pKa 9.24) needs more than half a mole
#   per litre, so borates count only from about 0.4 mol/L of the tetrahydrate on [% w/w]
BORATE_FROM = Decimal(5)

# Every tag of an acid or base, however weak: a second one of any strength adds to the
# acid or alkali reserve, so the limits of the first no longer tell the whole
ACID_OR_BASE = FAR_ACID | FAR_BASE | {"mild-acid", "very-weak-acid", "weak-base"}


class PhFinding(Struct, frozen=True):
    """What the pH, or the lack of one, says about skin and eye.

    Attributes:
        corrosive: Skin Corr. 1 and Eye Dam. 1 by the pH rule.
        assumed: the same because nobody measured the pH.
        open: the pH is neither known nor proven to lie between the limits.
        names: the acids and bases behind it, strongest share first.
    """

    corrosive: bool = False
    assumed: bool = False
    open: bool = False
    names: tuple[str, ...] = ()
    reason: Reason | None = None


def judge_ph(mixture: Composition) -> PhFinding:
    """What the pH of a mixture says about skin and eye."""
    if mixture.ph is not None:
        return _known(mixture, *_band(mixture.ph), _told(mixture.ph))
    if mixture.solid:
        return PhFinding(open=True)
    low, high = mixture.ph_bounds or (float("-inf"), float("inf"))
    if high <= ACID_LIMIT_PH or low >= BASE_LIMIT_PH:
        return _known(mixture, low, high, f"pH proven to lie from {low:g} to {high:g}")
    return _unmeasured(mixture, low <= ACID_LIMIT_PH, high >= BASE_LIMIT_PH)


def reaches_far(data: HazardData) -> bool:
    """Whether an acid or base can carry a solution to pH 2 or to pH 11.5."""
    return bool(data.tags & (FAR_ACID | FAR_BASE)) and not data.tags & NEVER_FAR


def is_acid_or_base(data: HazardData) -> bool:
    """Whether it is an acid or a base of whatever strength."""
    return data.acid_or_base or bool(data.tags & ACID_OR_BASE)


def _band(ph: Acidity) -> tuple[float, float]:
    """A measured pH decides as it is, an estimate where its band touches a limit."""
    return (ph.value, ph.value) if ph.measured else (ph.low, ph.high)


def _told(ph: Acidity) -> str:
    if ph.measured:
        return f"measured pH {ph.value:g}"
    return f"pH {ph.low:g} to {ph.high:g} by estimate; measure to settle it"


def _known(mixture: Composition, low: float, high: float, told: str) -> PhFinding:
    acid, base = low <= ACID_LIMIT_PH, high >= BASE_LIMIT_PH
    told = f"{told} (limits {ACID_LIMIT_PH:g} and {BASE_LIMIT_PH:g})"
    if not acid and not base:
        return PhFinding(reason=Reason("Skin Corr. 1", RULE, f"not reached: {told}"))
    alone = _covered_alone(mixture)
    if alone:
        text = f"not reached: {told}, but {alone.data.name} has limits of its own"
        return PhFinding(
            reason=Reason(
                "Skin Corr. 1", RULE, f"{text}, and nothing else acts beside it"
            )
        )
    return PhFinding(
        corrosive=True,
        names=_behind(mixture, acid, base),
        reason=Reason("Skin Corr. 1", RULE, told),
    )


def _behind(mixture: Composition, acid: bool, base: bool) -> tuple[str, ...]:
    """The acids or bases of an extreme pH; the weaker ones only for want of others."""
    tags = (FAR_ACID if acid else frozenset()) | (FAR_BASE if base else frozenset())
    strong = [i for i in mixture.now if i.data.tags & tags and reaches_far(i.data)]
    found = strong or [i for i in mixture.now if is_acid_or_base(i.data)]
    return tuple(i.data.name for i in _largest_first(found))


def _unmeasured(mixture: Composition, acid_open: bool, base_open: bool) -> PhFinding:
    still_open = PhFinding(open=acid_open or base_open)
    behind = _uncovered(mixture, FAR_ACID) if acid_open else []
    behind += _uncovered(mixture, FAR_BASE) if base_open else []
    if not behind:
        return still_open
    shares = ", ".join(f"{i.data.name} {i.percent.normalize():f} %" for i in behind)
    text = f"pH not measured: labelled as corrosive to be safe ({shares})"
    return PhFinding(
        assumed=True,
        open=True,
        names=tuple(dict.fromkeys(i.data.name for i in behind)),
        reason=Reason("Skin Corr. 1", RULE, text),
    )


def _uncovered(mixture: Composition, tags: frozenset[str]) -> list[Ingredient]:
    """Acids or bases at 1 % or more whose pH no limit of their own covers."""
    these = [
        i
        for i in mixture.now
        if i.data.tags & tags and reaches_far(i.data) and not _covered(i.data)
    ]
    borates = [i for i in these if "borate" in i.data.tags]
    others = [i for i in these if "borate" not in i.data.tags]
    found = others if _together(others) >= UNMEASURED_FROM else []
    return _largest_first(
        [*found, *(borates if _together(borates) >= BORATE_FROM else [])]
    )


def _covered(data: HazardData) -> bool:
    """Whether limits of its own on skin already take its pH effect in."""
    return is_acid_or_base(data) and bool(rows(data, *SKIN))


def _covered_alone(mixture: Composition) -> Ingredient | None:
    """The one acid or base with limits of its own, if nothing else acts beside it.

    ECHA guidance, "Mixtures with extreme pH"; German federal helpdesk FAQ 0533: with
    another corrosive or irritant, a second acid or base (also one with limits of its
    own) or a surfactant the pH decides again.
    """
    covered = [i for i in mixture.now if _covered(i.data)]
    if len(covered) != 1:
        return None
    (alone,) = covered
    everything = {i.data.id: i for i in (*mixture.now, *mixture.skin_eye)}
    others = (i for key, i in everything.items() if key != alone.data.id)
    return None if any(_acts(i) for i in others) else alone


def _acts(ingredient: Ingredient) -> bool:
    """Whether an ingredient may influence corrosion or irritation."""
    data, percent = ingredient.data, ingredient.percent
    if "surfactant" in data.tags:
        return True
    if not named(data, *SKIN, *EYE) and not is_acid_or_base(data):
        return False
    return percent >= cut_off(data, CUT_OFFS["Skin"], *SKIN, *EYE)


def _together(ingredients: Iterable[Ingredient]) -> Decimal:
    return sum((i.percent for i in ingredients), Decimal(0))


def _largest_first(ingredients: Iterable[Ingredient]) -> list[Ingredient]:
    return sorted(ingredients, key=lambda i: (-i.percent, i.data.name))
