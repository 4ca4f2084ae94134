"""A chemical in one exact form, with the figures that are known about it."""

from collections.abc import Mapping
from decimal import Decimal
from enum import StrEnum
from typing import Any

from msgspec import Struct, field

__all__ = ["Confidence", "Figure", "Parent", "Solubility", "State", "Substance"]


class Confidence(StrEnum):
    """How far a figure may be relied on."""

    FOUND = "found"
    COMPUTED = "computed"
    MEMORY = "memory"


class State(StrEnum):
    """What the form is as it stands in the jar."""

    SOLID = "solid"
    LIQUID = "liquid"
    SOLUTION = "solution"
    GAS = "gas"


class Figure(Struct, frozen=True):
    """One number with its source; the unit is in the name of its field."""

    value: Decimal
    source: str
    confidence: Confidence
    note: str = ""


class Solubility(Struct, frozen=True):
    """How much of the form dissolves.

    Attributes:
        points: (temperature [degC], solubility [``unit``]) in rising temperature.
        unit: ``g per 100 g water``, ``g per 100 mL`` of solution, ``g per L of water``,
            ``g per 100 mL of water``.
        basis: ``this form`` as weighed, ``anhydrous``, or ``unclear``.
    """

    points: tuple[tuple[Decimal, Decimal], ...]
    unit: str
    basis: str
    source: str
    confidence: Confidence
    note: str = ""


class Parent(Struct, frozen=True):
    """What the forms of one chemistry share.

    Attributes:
        formula: what strengths are counted in; None where nothing can be counted.
        counted_in: what is counted then: mass, or moles of iron.
    """

    id: str
    name: str
    formula: str | None = None
    counted_in: str = ""


class Substance(Struct, frozen=True):
    """One chemical in one form: a hydrate, an anhydrous salt, a solution of a strength.

    Attributes:
        id: the exact name used in files, such as ``borax-decahydrate``.
        names: what people call it; the first is printed.
        parent: the id shared by every form of the same chemistry.
        parent_units: moles of the parent in one formula unit of this form.
        formula: hydrate water after a dot, ``Na2B4O7.10H2O``; None where there is none.
        molar_mass: [g/mol] to 0.001; of the solute for a solution.
        percent_by_mass: [% w/w] of solute, for a solution sold as such.
        density: [g/mL] of a liquid.
        assay_percent: [%] what the jar holds, from a person's own file; else None.
        heat_of_solution: [kJ/mol of this form], positive where the solution cools.
        tags: what the mixing rules ask for, such as ``acid`` or ``borate``.
        more: further sourced tables that only the entry page shows.
    """

    id: str
    names: tuple[str, ...]
    parent: str
    state: State
    parent_units: int = 1
    formula: str | None = None
    formula_missing_because: str = ""
    molar_mass: Decimal | None = None
    cas: str = ""
    percent_by_mass: Decimal | None = None
    density: Figure | None = None
    assay_percent: Decimal | None = None
    assay_advice: str = ""
    heat_of_solution: Figure | None = None
    solubility: tuple[Solubility, ...] = ()
    pka: tuple[Figure, ...] = ()
    miscible: bool = False
    tags: frozenset[str] = frozenset()
    flags: frozenset[str] = frozenset()
    remarks: tuple[str, ...] = ()
    source: str = ""
    more: Mapping[str, Any] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """The name that is printed."""
        return self.names[0]

    @property
    def solute_share(self) -> Decimal:
        """Grams of solute in one gram of the form as it stands in the jar."""
        percent = self.percent_by_mass
        return Decimal(1) if percent is None else percent / 100
