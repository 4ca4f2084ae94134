"""Which share of each chemical each group of rules looks at.

As long as nothing reacts they all look at the same. Where a reaction was declared
(`labelkit.hazards.as_formed`) they do not.
"""

from collections.abc import Iterable
from decimal import Decimal
from math import isfinite

from msgspec import Struct

from labelkit.errors import BadInput, Fault
from labelkit.hazards.checking import check_data
from labelkit.hazards.mixture import Acidity, Ingredient, Mixture, Reason

__all__ = ["Composition", "added_up", "check_ph", "composition_of"]

# Shares that make the mixture the substance itself [% w/w]
_WHOLE = Decimal("99.99")
# Sums over 100 % [% w/w] that come from rounded shares and not from a mistake
_ROUNDING = Decimal("0.01")


class Composition(Struct, frozen=True):
    """The mixture as the rules see it; shares in % w/w.

    Attributes:
        skin_eye: for skin and eye.
        other: for every other class.
        boron: borates in the form weighed in, for Note 11.
        now: what the bottle holds, for the pH rule.
        remarks: what happened to consumed chemicals.
    """

    skin_eye: tuple[Ingredient, ...]
    other: tuple[Ingredient, ...]
    boron: tuple[Ingredient, ...]
    now: tuple[Ingredient, ...]
    ph: Acidity | None = None
    ph_bounds: tuple[float, float] | None = None
    solid: bool = False
    for_public: bool = True
    flash_point_C: Decimal | None = None
    remarks: tuple[Reason, ...] = ()

    @property
    def one_substance(self) -> bool:
        """Whether the bottle holds nothing but one substance."""
        return len(self.now) == 1 and self.now[0].percent >= _WHOLE


def composition_of(mixture: Mixture) -> Composition:
    """The view of a mixture in which nothing reacts.

    Raises:
        BadInput: shares that cannot be, or hazard data that cannot be read.
    """
    whole = added_up(mixture.ingredients)
    check_ph(mixture.ph)
    return Composition(
        skin_eye=whole,
        other=whole,
        boron=whole,
        now=whole,
        ph=mixture.ph,
        ph_bounds=mixture.ph_bounds,
        solid=mixture.solid,
        for_public=mixture.for_public,
        flash_point_C=mixture.flash_point_C,
    )


def check_ph(ph: Acidity | None) -> None:
    """Refuse a pH that is no number.

    Raises:
        BadInput: as said.
    """
    figures = () if ph is None else (ph.value, ph.low, ph.high)
    if not all(isfinite(figure) for figure in figures):
        raise BadInput("this pH is no number", place="pH", remedy="Write one like 9.2.")


def added_up(ingredients: Iterable[Ingredient]) -> tuple[Ingredient, ...]:
    """Each chemical once, by name, without those that are not there.

    Raises:
        BadInput: a share below 0 %, a sum above 100 %, or faulty hazard data.
    """
    shares: dict[str, Ingredient] = {}
    faults: list[Fault] = []
    for one in ingredients:
        faults += _faults_of(one)
        before = shares.get(one.data.id)
        more = before.percent if before else Decimal(0)
        shares[one.data.id] = Ingredient(one.data, one.percent + more)
    if not faults:
        faults += _faults_of_sum(i.percent for i in shares.values())
    if faults:
        raise BadInput.of(dict.fromkeys(faults))
    there = (one for one in shares.values() if one.percent > 0)
    return tuple(sorted(there, key=lambda one: one.data.id))


def _faults_of(one: Ingredient) -> list[Fault]:
    faults = check_data(one.data)
    if not one.percent.is_finite() or one.percent < 0:
        problem = f"a share of {one.percent} % cannot be"
        faults.append(Fault(one.data.id, problem, "Give 0 to 100 % by mass."))
    return faults


def _faults_of_sum(shares: Iterable[Decimal]) -> list[Fault]:
    total = sum(shares, Decimal(0))
    if total <= 100 + _ROUNDING:
        return []
    return [
        Fault(
            "",
            f"the ingredients add up to {total.normalize():f} % of the mixture",
            "Weigh every part, or measure the density.",
        )
    ]
