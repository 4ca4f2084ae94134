"""What may lawfully be left off a small bottle: Annex I, 1.5.2.

Only where shape or size makes a whole label impossible, and a fold-out, a tag or an
outer pack does not help either (Article 29, 1.5.1.1). Nobody but the person printing
can say so; nothing here happens by itself.
"""

from collections.abc import Callable, Iterable
from decimal import Decimal

from msgspec.structs import replace

from labelkit.hazards.classes import HazardClass, read_class
from labelkit.hazards.label import h_code, label_elements
from labelkit.hazards.mixture import Classification
from labelkit.hazards.precaution import choose_precautions

__all__ = ["for_small_pack", "may_omit"]

SMALL_UP_TO_ML = Decimal(125)  # 1.5.2.1
US_SMALL_UP_TO_ML = Decimal(100)  # 29 CFR 1910.1200(f)(12), 2024

H, P, PICTOGRAM, SIGNAL = "H", "P", "pictogram", "signal"
_H_AND_P = frozenset({H, P})
_ONLY_P = frozenset({P})
_ALL = frozenset({H, P, PICTOGRAM, SIGNAL})
_NOTHING: frozenset[str] = frozenset()

_Fits = Callable[[HazardClass], bool]


def _in(*texts: str) -> _Fits:
    return lambda one: f"{one.family} {one.category}".strip() in texts


# 1.5.2.1.1; pictogram and signal word stay
_H_P = _in(
    "Flam. Liq. 2", "Flam. Liq. 3", "Flam. Sol. 1", "Flam. Sol. 2", "Self-heat. 2",
    "Ox. Gas 1", "Ox. Liq. 2", "Ox. Liq. 3", "Ox. Sol. 2", "Ox. Sol. 3", "Press. Gas",
    "Water-react. 1", "Water-react. 2", "Water-react. 3", "Self-react. C",
    "Self-react. D", "Self-react. E", "Self-react. F", "Org. Perox. C",
    "Org. Perox. D", "Org. Perox. E", "Org. Perox. F", "Skin Irrit. 2", "Eye Irrit. 2",
    "Aquatic Acute 1", "Aquatic Chronic 1", "Aquatic Chronic 2",
)  # fmt: skip
# 1.5.2.1.1, only where not supplied to the public
_H_P_TRADE = _in("Acute Tox. 4", "STOT SE 2", "STOT SE 3", "STOT RE 2")
# 1.5.2.1.2; Lact. and Flam. Gas 2 from memory
_P_ONLY = _in("Aquatic Chronic 3", "Aquatic Chronic 4", "Lact.", "Flam. Gas 2")
# 1.5.2.1.3, from memory
_EVERYTHING = _in("Met. Corr. 1")


def may_omit(
    hazard_class: str, volume_mL: Decimal, *, for_public: bool
) -> frozenset[str]:
    """What one class may leave off: of ``H``, ``P``, ``pictogram``, ``signal``.

    Skin Corr., Eye Dam., Acute Tox. 1 to 3, sensitisers, Muta., Carc., Repr., STOT 1
    and Asp. Tox. may never leave off anything.
    """
    if volume_mL > SMALL_UP_TO_ML:
        return _NOTHING
    one = read_class(hazard_class)
    if _EVERYTHING(one):
        return _ALL
    if _H_P(one) or (_H_P_TRADE(one) and not for_public):
        return _H_AND_P
    return _ONLY_P if _P_ONLY(one) else _NOTHING


def for_small_pack(
    verdict: Classification, volume_mL: Decimal, *, for_public: bool = True
) -> Classification:
    """The same verdict with only what a small bottle must carry, and a notice of it.

    Classes, reasons and every H code of the classification stay.
    """
    if verdict.regime == "us-hcs":
        return _american(verdict, volume_mL)
    if verdict.regime == "un-ghs" or volume_mL > SMALL_UP_TO_ML:
        return verdict
    left_off = {
        text: may_omit(text, volume_mL, for_public=for_public)
        for text in verdict.classes
    }
    if not any(left_off.values()):
        return verdict
    shown = label_elements([t for t, off in left_off.items() if PICTOGRAM not in off])
    spoken = _codes(text for text, off in left_off.items() if H not in off)
    advised = [text for text, off in left_off.items() if P not in off]
    label_h = tuple(code for code in verdict.label_h if set(code.split("+")) & spoken)
    p = choose_precautions(advised, for_public=for_public).codes
    gone = [
        code for code in (*verdict.label_h, *verdict.p) if code not in (*label_h, *p)
    ]
    return replace(
        verdict,
        signal=shown.signal,
        pictograms=shown.pictograms,
        label_h=label_h,
        p=p,
        notices=(*verdict.notices, _said(gone, volume_mL, "Annex I, 1.5.2")),
    )


def _codes(classes: Iterable[str]) -> set[str]:
    return {h_code(read_class(text)) for text in classes}


def _american(verdict: Classification, volume_mL: Decimal) -> Classification:
    """Name, pictograms, signal word, maker and phone; the outer pack says the rest."""
    if volume_mL > US_SMALL_UP_TO_ML:
        return verdict
    gone = [*verdict.label_h, *verdict.p]
    if not gone:
        return verdict
    said = _said(gone, volume_mL, "29 CFR 1910.1200(f)(12)")
    notices = (*verdict.notices, said, "The outer pack must carry the whole label.")
    return replace(verdict, label_h=(), p=(), notices=notices)


def _said(gone: list[str], volume_mL: Decimal, rule: str) -> str:
    codes = ", ".join(gone) or "nothing"
    return f"Left off for {volume_mL.normalize():f} mL by {rule}: {codes}."
