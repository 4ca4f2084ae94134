"""How names of chemicals are compared, and what taking the wrong form costs."""

import re
from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal
from itertools import groupby

from labelkit.chemistry.substances import State, Substance

__all__ = ["cost_of_confusion", "fold", "form_word", "grams_per_mole"]

_GAPS = re.compile(r"[\s,_\-\u2010\u2011]+")
_HYDRATE = re.compile(r"\.(\d*)H2O$")
_TIMES = {
    "": "mono", "2": "di", "3": "tri", "4": "tetra", "5": "penta", "6": "hexa",
    "7": "hepta", "8": "octa", "9": "nona", "10": "deca", "12": "dodeca",
}  # fmt: skip
# Below this a mistake is told in hundredths: 1.09 times, not 1.1 times.
_TELL_HUNDREDTHS_BELOW = Decimal("1.2")
# What nobody would notice on a balance is not worth a warning.
_SAME_WITHIN = Decimal("1.005")


def fold(word: str) -> str:
    """The word as it is compared: case, spaces, hyphens and commas do not matter.

    Accents do, and "sulphite" is "sulfite".
    """
    folded = _GAPS.sub(" ", word.casefold().replace("sulph", "sulf"))
    return folded.strip()


def form_word(substance: Substance) -> str:
    """What tells this form from its sisters: ``decahydrate``, ``37 %``."""
    if substance.percent_by_mass is not None:
        solid = " flakes" if substance.state is State.SOLID else ""
        return f"{substance.percent_by_mass.normalize():f} %{solid}"
    if substance.formula is None:
        return substance.name
    water = _HYDRATE.search(substance.formula)
    if water is None:
        told = (word for word in ("anhydrous", "solid") if word in substance.name)
        return next(told, substance.name)
    return f"{_TIMES.get(water[1], water[1] + '-')}hydrate"


def grams_per_mole(substance: Substance) -> Decimal | None:
    """Grams of the form, as it stands in the jar, that carry one mole of its parent."""
    if substance.molar_mass is None:
        return None
    return substance.molar_mass / substance.parent_units / substance.solute_share


def cost_of_confusion(forms: Sequence[Substance]) -> str:
    """What choosing wrongly among ``forms`` does to the strength, or "".

    The worst swap is named: "anhydrous for decahydrate: 2.7 times too strong". Forms of
    different chemicals are not the same thing at any strength, and that is said.
    """
    by_parent = [
        list(group)
        for _, group in groupby(
            sorted(forms, key=lambda form: form.parent), lambda form: form.parent
        )
    ]
    told = max((_worst(group) for group in by_parent), default=(Decimal(1), ""))[1]
    parts = [told] if told else []
    if len(by_parent) > 1:
        parts.append("not all are the same chemical")
    return "; ".join(parts)


def _worst(group: Iterable[Substance]) -> tuple[Decimal, str]:
    weights = [(grams, form) for form in group if (grams := grams_per_mole(form))]
    if len(weights) < 2:
        return Decimal(1), ""
    weights.sort(key=lambda pair: pair[0])
    (least, strong), (most, weak) = weights[0], weights[-1]
    ratio = most / least
    if ratio < _SAME_WITHIN:
        return ratio, ""
    places = Decimal("0.01") if ratio < _TELL_HUNDREDTHS_BELOW else Decimal("0.1")
    times = ratio.quantize(places, rounding=ROUND_HALF_UP)
    swap = f"{form_word(strong)} for {form_word(weak)}"
    return ratio, f"{swap}: {times} times too strong"
