"""Declared reactions: balanced by the atoms, then run to the end of one reagent."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import combinations
from math import gcd, lcm

from msgspec import Struct

from labelkit.chemistry.formulas import composition, molar_mass
from labelkit.errors import BadInput

__all__ = ["Equation", "Gas", "Run", "Species", "balance", "pretty", "run"]

# Tried one at a time, in this order, when water alone does not balance.
BYPRODUCT_GASES = ("CO2", "SO2", "NH3", "O2")
# Molar volume of an ideal gas at 20 degC and 101.325 kPa: R T / p with
# R = 8.314462618 J/(mol K) (SI Brochure, 9th ed., 2019).
LITRES_PER_MOLE = Decimal("24.055")
WATER = "H2O"
MOST_READINGS = 3  # written out where a reaction has several
MOST_CHEMICALS = 10


class Species(Struct, frozen=True):
    """A chemical that takes part: its id and its formula."""

    chemical: str
    formula: str


class Equation(Struct, frozen=True):
    """A balanced equation.

    Attributes:
        reactants: named chemicals with their coefficients.
        products: named chemicals with their coefficients.
        water: H2O made (positive) or taken up (negative).
        gas: formula and coefficient of a gas that completes the balance.
    """

    reactants: tuple[tuple[Species, int], ...]
    products: tuple[tuple[Species, int], ...]
    water: int = 0
    gas: tuple[str, int] | None = None

    @property
    def coefficients(self) -> dict[str, int]:
        """Coefficient of each named chemical, by id."""
        return {s.chemical: n for s, n in self.reactants + self.products}

    def __str__(self) -> str:
        left = [(s.formula, n) for s, n in self.reactants]
        right = [(s.formula, n) for s, n in self.products]
        if self.water:
            (right if self.water > 0 else left).append((WATER, abs(self.water)))
        if self.gas:
            right.append(self.gas)
        return f"{_side(left)} → {_side(right)}"


class Gas(Struct, frozen=True):
    """Gas given off: grams, and litres at 20 degC."""

    formula: str
    mass_g: Decimal
    volume_L: Decimal


class Run(Struct, frozen=True):
    """What a reaction did to the amounts it was given.

    Attributes:
        limiting: id of the reagent that was used up.
        consumed_g: grams used up, by id.
        formed_g: grams formed, by id.
        water_g: water made (positive) or taken up (negative) [g].
    """

    equation: Equation
    limiting: str
    consumed_g: Mapping[str, Decimal]
    formed_g: Mapping[str, Decimal]
    water_g: Decimal
    gas: Gas | None


def balance(reactants: Sequence[Species], products: Sequence[Species]) -> Equation:
    """Balance a reaction between named chemicals, as their formulas are written.

    Water may stand on either side. Where that is not enough one gas is added to the
    products, the first of `BYPRODUCT_GASES` that leaves exactly one solution.

    Raises:
        BadInput: nothing balances (the elements are named), or more than one way does
            (the simplest are shown), or too many chemicals are named.
    """
    named = {s.chemical for s in (*reactants, *products)}
    if len(named) > MOST_CHEMICALS:
        raise _too_many(len(named))
    for gas in (None, *BYPRODUCT_GASES):
        if gas is not None and gas in {s.formula for s in products}:
            continue
        readings = _readings(reactants, products, gas)
        if {c for reading in readings for c in reading.coefficients} != named:
            continue
        if len(readings) > 1:
            raise _several(reactants, products, readings)
        return readings[0]
    raise _unbalanced(reactants, products)


def run(equation: Equation, available_g: Mapping[str, Decimal]) -> Run:
    """Run a reaction to the end of its limiting reagent.

    Args:
        equation: as balanced.
        available_g: grams of each reactant, by id; pure, as written in its formula.
    """
    extents = {
        s.chemical: available_g[s.chemical] / molar_mass(s.formula) / n
        for s, n in equation.reactants
    }
    limiting = min(extents, key=lambda chemical: extents[chemical])
    extent_mol = extents[limiting]
    return Run(
        equation,
        limiting,
        consumed_g=_grams(equation.reactants, extent_mol)
        | {limiting: available_g[limiting]},
        formed_g=_grams(equation.products, extent_mol),
        water_g=extent_mol * equation.water * molar_mass(WATER),
        gas=_gas(equation, extent_mol),
    )


def pretty(formula: str) -> str:
    """The formula as it is printed, with a raised dot before hydrate water."""
    return formula.replace(".", "·", 1)


def _grams(
    side: tuple[tuple[Species, int], ...], extent_mol: Decimal
) -> dict[str, Decimal]:
    return {s.chemical: extent_mol * n * molar_mass(s.formula) for s, n in side}


def _gas(equation: Equation, extent_mol: Decimal) -> Gas | None:
    if equation.gas is None:
        return None
    formula, coefficient = equation.gas
    moles = extent_mol * coefficient
    return Gas(formula, moles * molar_mass(formula), moles * LITRES_PER_MOLE)


def _side(terms: Sequence[tuple[str, int]]) -> str:
    return " + ".join(
        pretty(formula) if n == 1 else f"{n} {pretty(formula)}" for formula, n in terms
    )


def _readings(
    reactants: Sequence[Species], products: Sequence[Species], gas: str | None
) -> list[Equation]:
    """Every equation that runs forwards and holds no other one within it."""
    left = [s.formula for s in reactants]
    right = [s.formula for s in products]
    if gas is not None:
        right.append(gas)
    forwards = len(left) + len(right)
    if WATER not in (*left, *right):
        right.append(WATER)
    columns = [_atoms(f, +1) for f in left] + [_atoms(f, -1) for f in right]
    return [
        _as_equation(reactants, products, gas, whole)
        for whole in _solutions(columns, forwards)
    ]


def _atoms(formula: str, sign: int) -> dict[str, int]:
    found = composition(formula)
    counts = {element: sign * n for element, n in found.atoms.items()}
    return counts | {"charge": sign * found.charge}


def _solutions(
    columns: Sequence[Mapping[str, int]], forwards: int
) -> list[tuple[int, ...]]:
    """Every elementary way to make the columns add up to nothing.

    Elementary means that no other one uses only some of the same columns. The first
    ``forwards`` columns take no negative numbers.
    """
    free = len(_null_space(columns))
    found = set()
    for left_out in combinations(range(forwards), free - 1) if free else ():
        kept = [i for i in range(len(columns)) if i not in left_out]
        space = _null_space([columns[i] for i in kept])
        if len(space) == 1:
            numbers = dict(zip(kept, _whole(space[0]), strict=True))
            found.add(tuple(numbers.get(i, 0) for i in range(len(columns))))
    usable = (n for n in found if min(n[:forwards]) >= 0)
    return sorted(usable, key=lambda numbers: [n == 0 for n in numbers])


def _null_space(columns: Sequence[Mapping[str, int]]) -> list[list[Fraction]]:
    """Every independent way to make the columns add up to nothing."""
    rows = sorted({element for column in columns for element in column})
    matrix = [[Fraction(c.get(row, 0)) for c in columns] for row in rows]
    pivots = _reduce(matrix, len(columns))
    free = [c for c in range(len(columns)) if c not in pivots]
    return [_solution(matrix, pivots, f, len(columns)) for f in free]


def _reduce(matrix: list[list[Fraction]], width: int) -> list[int]:
    """Bring the matrix to reduced row echelon form; return the pivot columns."""
    pivots: list[int] = []
    for column in range(width):
        top = len(pivots)
        row = next((r for r in range(top, len(matrix)) if matrix[r][column]), None)
        if row is None:
            continue
        matrix[top], matrix[row] = matrix[row], matrix[top]
        matrix[top] = [value / matrix[top][column] for value in matrix[top]]
        for r, values in enumerate(matrix):
            if r != top and values[column]:
                factor = values[column]
                matrix[r] = [
                    v - factor * t for v, t in zip(values, matrix[top], strict=True)
                ]
        pivots.append(column)
    return pivots


def _solution(
    matrix: list[list[Fraction]], pivots: list[int], free: int, width: int
) -> list[Fraction]:
    values = [Fraction(0)] * width
    values[free] = Fraction(1)
    for row, pivot in enumerate(pivots):
        values[pivot] = -matrix[row][free]
    return values


def _as_equation(
    reactants: Sequence[Species],
    products: Sequence[Species],
    gas: str | None,
    numbers: Sequence[int],
) -> Equation:
    """The equation with these numbers: of the chemicals, of the gas, of water."""
    chemicals = len(reactants) + len(products)
    of_gas = numbers[chemicals] if gas is not None else 0
    of_water = numbers[chemicals + (gas is not None) :]
    return Equation(
        _terms(reactants, numbers),
        _terms(products, numbers[len(reactants) :]),
        of_water[0] if of_water else 0,
        (gas, of_gas) if gas is not None and of_gas else None,
    )


def _terms(
    side: Sequence[Species], numbers: Sequence[int]
) -> tuple[tuple[Species, int], ...]:
    return tuple((s, n) for s, n in zip(side, numbers, strict=False) if n)


def _whole(solution: Sequence[Fraction]) -> list[int]:
    """The smallest whole numbers in the same ratio, the first of them positive."""
    scale = lcm(*(value.denominator for value in solution))
    numbers = [int(value * scale) for value in solution]
    divisor = gcd(*numbers)
    if next(n for n in numbers if n) < 0:
        divisor = -divisor
    return [n // divisor for n in numbers]


def _several(
    reactants: Sequence[Species],
    products: Sequence[Species],
    readings: Sequence[Equation],
) -> BadInput:
    simplest = sorted(readings, key=lambda r: sum(r.coefficients.values()))
    written = "; or ".join(str(reading) for reading in simplest[:MOST_READINGS])
    return BadInput(
        f"{_names(reactants)} to {_names(products)} balances in more than one way",
        remedy=f"Write one reaction at a time, such as: {written}.",
    )


def _too_many(named: int) -> BadInput:
    return BadInput(
        f"{named} chemicals are named, more than one reaction has",
        remedy=f"Write one reaction at a time, of at most {MOST_CHEMICALS} chemicals.",
    )


def _unbalanced(reactants: Sequence[Species], products: Sequence[Species]) -> BadInput:
    lost = sorted(_elements(reactants) - _elements(products))
    gained = sorted(_elements(products) - _elements(reactants))
    told = [f"{_listed(lost)} only before" if lost else ""]
    told += [f"{_listed(gained)} only after" if gained else ""]
    why = " and ".join(part for part in told if part) or "no whole numbers fit"
    return BadInput(
        f"{_names(reactants)} to {_names(products)} cannot be balanced: {why}",
        remedy="Name every by-product under 'to'; water, CO2, SO2, NH3 and O2 are "
        "found by labelkit.",
    )


def _elements(side: Sequence[Species]) -> set[str]:
    return {e for s in side for e in composition(s.formula).atoms} - {"H", "O"}


def _listed(items: Sequence[str]) -> str:
    return ", ".join(items)


def _names(side: Sequence[Species]) -> str:
    return " + ".join(s.chemical for s in side)
