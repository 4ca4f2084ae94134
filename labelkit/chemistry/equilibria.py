"""Acids and bases in water: which forms they take at a pH, and the pH they settle at.

The charges in a solution must add up to nothing. At a given pH and ionic strength every
form of every acid follows from its total, so the sum of charges is a function of the pH
alone; it never rises with the pH, and bisection finds where it is zero.
"""

import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct, field

__all__ = ["Acid", "Balance", "Medium", "Polymer", "Totals", "davies_slope", "solve"]

KELVIN = 273.15
GAS_CONSTANT_kJ = 8.314462618e-3  # [kJ/(mol K)], exact in the SI of 2019
REFERENCE_C = 25.0

# Davies (1962): log g = -A z^2 (sqrt(I) / (1 + sqrt(I)) - 0.3 I). Above 0.5 mol/kg the
# linear term runs away, so I is held there in this formula and nowhere else.
DAVIES_LINEAR = 0.3
DAVIES_HOLDS_TO = 0.5

LOWEST_PH, NEUTRAL, HIGHEST_PH = -2.0, 7.0, 16.0
PH_EXACT_TO = 1e-11
STRENGTH_EXACT_TO = 1e-9  # [mol/kg]
# While the ionic strength still moves, the pH need be no finer than this part of it.
FINER_THAN_MOVE = 0.01
DAMPING = 0.5
MOST_ROUNDS = 200


class Polymer(Struct, frozen=True):
    """``units`` B(OH)3 = one anion of charge -``protons`` + ``protons`` H+ + water."""

    units: int
    protons: int
    log_k: float


class Acid(Struct, frozen=True):
    """A substance that gives off H+ in steps.

    Attributes:
        charge: of the form that holds all its H+.
        pk: of each step, at 25 degC and ionic strength 0.
        enthalpy_kJ: of each step [kJ/mol]; None where it is not known.
        equation: (A, B, C) of pK = A/T + B T + C for a single step [K].
        polymers: what its neutral form condenses to.
        doubt: how far every pK may be off.
        rough: so poorly known that no number rests on it.
        metal: a metal ion, which may take any anion of the solution for itself.
        bound_pk: the strongest it becomes when something binds it.
    """

    id: str
    charge: int
    pk: tuple[float, ...]
    enthalpy_kJ: tuple[float, ...] | None = None
    equation: tuple[float, float, float] | None = None
    polymers: tuple[Polymer, ...] = ()
    doubt: float = 0.0
    rough: bool = False
    metal: bool = False
    bound_pk: float | None = None

    @property
    def knows_temperature(self) -> bool:
        """Whether its constants are known away from 25 degC, polymers apart."""
        return self.enthalpy_kJ is not None or self.equation is not None

    def pk_at(self, at_C: float) -> tuple[float, ...]:
        """The pK of each step at ``at_C`` [degC], by van 't Hoff or by ``equation``.

        The equation gives the difference from 25 degC, so that both agree there. Where
        neither is known the value at 25 degC is returned.
        """
        if at_C == REFERENCE_C:
            return self.pk
        now, then = at_C + KELVIN, REFERENCE_C + KELVIN
        if self.equation:
            a, b, _ = self.equation
            return (self.pk[0] + a * (1 / now - 1 / then) + b * (now - then),)
        per_kJ = (1 / now - 1 / then) / (GAS_CONSTANT_kJ * math.log(10))
        heats = self.enthalpy_kJ or (0.0,) * len(self.pk)
        return tuple(p + h * per_kJ for p, h in zip(self.pk, heats, strict=True))


class Medium(Struct, frozen=True):
    """The water everything is dissolved in.

    Attributes:
        water: the ion product of water, as an acid of one step.
        ideal: activities are taken as concentrations, as textbooks do.
    """

    water: Acid
    at_C: float = REFERENCE_C
    ideal: bool = False


class Totals(Struct, frozen=True):
    """What a solution holds [mol/kg water], in no particular form.

    Attributes:
        acids: every acid with its total, whatever H+ it came with.
        strong: charge of the ions that never take or give H+, by ``(charge, total)``.
    """

    acids: tuple[tuple[Acid, float], ...] = ()
    strong: tuple[tuple[int, float], ...] = ()

    @property
    def strong_charge(self) -> float:
        """Net charge of the strong ions [mol/kg]; positive where base is left over."""
        return sum(charge * total for charge, total in self.strong)

    def with_strong(self, charge: int, total: float) -> "Totals":
        """The same with ``total`` [mol/kg] more of a strong ion."""
        return Totals(self.acids, (*self.strong, (charge, total)))


class Balance(Struct, frozen=True):
    """A solution whose charges add up.

    Attributes:
        ph: -log of the activity of H+, as a meter reads it.
        ionic_strength: [mol/kg].
        forms: of each acid by id, its forms from the one with all its H+ down
            [mol/kg]; what is condensed is not among them.
    """

    ph: float
    ionic_strength: float
    forms: Mapping[str, tuple[float, ...]] = field(default_factory=dict)


def davies_slope(at_C: float) -> float:
    """A of the Davies equation: 0.509 at 25 degC, elsewhere as (e T)^-1.5.

    e, the dielectric constant of water: Malmberg and Maryott, J. Res. NBS 56 (1956) 1,
    from memory.
    """
    ratio = _dielectric(REFERENCE_C) * (REFERENCE_C + KELVIN)
    ratio /= _dielectric(at_C) * (at_C + KELVIN)
    return 0.509 * math.pow(ratio, 1.5)


def _dielectric(at_C: float) -> float:
    return 87.740 - 0.40008 * at_C + 9.398e-4 * at_C**2 - 1.410e-6 * at_C**3


def solve(totals: Totals, medium: Medium) -> Balance | None:
    """The pH at which the charges of ``totals`` add up to nothing.

    The ionic strength is found by going half-way to its new value until it moves less
    than 1e-9. Returns None where it does not settle or no pH from -2 to 16 will do.
    """
    strength, moved, ph = 0.0, 1.0, NEUTRAL
    for _ in range(MOST_ROUNDS):
        solution = _at_strength(totals, medium, strength)
        exact_to = max(PH_EXACT_TO, FINER_THAN_MOVE * abs(moved))
        window = _window(solution, ph, exact_to)
        if window is None:
            return None
        ph = _zero_of_charge(solution, *window, exact_to)
        moved = solution.ionic_strength(ph) - strength
        if abs(moved) < STRENGTH_EXACT_TO:
            return Balance(ph, strength, solution.forms(ph))
        strength += DAMPING * moved
    return None


class _AcidAt(Struct, frozen=True):
    """One acid at one ionic strength: constants that meet an H+ activity."""

    id: str
    total: float
    charge: int
    ratios: tuple[float, ...]  # of each form to the first, times h^steps
    polymers: tuple[tuple[int, int, float], ...]

    def sums(self, h: float) -> tuple[float, float]:
        """Charge, and sum of c z^2, of all its forms [mol/kg]."""
        first, powers, charge, squares = self._first(h), 1.0, self.charge, 0.0
        net = first * charge
        squares = first * charge * charge
        for ratio in self.ratios:
            powers /= h
            charge -= 1
            amount = first * ratio * powers
            net += amount * charge
            squares += amount * charge * charge
        for units, protons, constant in self.polymers:
            amount = constant * first**units / h**protons
            net -= amount * protons
            squares += amount * protons * protons
        return net, squares

    def forms(self, h: float) -> tuple[float, ...]:
        first = self._first(h)
        steps = enumerate(self.ratios, start=1)
        return (first, *(first * ratio / h**step for step, ratio in steps))

    def _first(self, h: float) -> float:
        """The form with all its H+ [mol/kg]."""
        share, powers = 1.0, 1.0
        for ratio in self.ratios:
            powers /= h
            share += ratio * powers
        if not self.polymers:
            return self.total / share
        return self._monomer(share, h)

    def _monomer(self, share: float, h: float) -> float:
        # The mass balance rises and curves upward, so Newton from above goes straight
        # down to its only root.
        terms = [(n, n * constant / h**p) for n, p, constant in self.polymers]
        free = self.total / share
        for _ in range(MOST_ROUNDS):
            over = free * share - self.total
            slope = share
            for units, factor in terms:
                power = factor * free ** (units - 1)
                over += power * free
                slope += units * power
            step = over / slope
            free -= step
            if step <= 1e-13 * free:
                break
        return free


class _SolutionAt(Struct, frozen=True):
    """A solution at one ionic strength."""

    acids: tuple[_AcidAt, ...]
    strong_charge: float
    strong_squares: float
    per_h: float  # concentration of H+ for one unit of activity
    hydroxide: float  # [OH-] times the activity of H+

    def charge(self, ph: float) -> float:
        h: float = 10.0**-ph
        acids = sum([acid.sums(h)[0] for acid in self.acids])
        return self.strong_charge + acids + h * self.per_h - self.hydroxide / h

    def ionic_strength(self, ph: float) -> float:
        h: float = 10.0**-ph
        squares = sum([acid.sums(h)[1] for acid in self.acids])
        return 0.5 * (
            self.strong_squares + squares + h * self.per_h + self.hydroxide / h
        )

    def forms(self, ph: float) -> dict[str, tuple[float, ...]]:
        return {acid.id: acid.forms(10.0**-ph) for acid in self.acids}


def _at_strength(totals: Totals, medium: Medium, strength: float) -> _SolutionAt:
    held = min(strength, DAVIES_HOLDS_TO)
    root = math.sqrt(held)
    bracket = 0.0 if medium.ideal else root / (1 + root) - DAVIES_LINEAR * held
    unit = davies_slope(medium.at_C) * bracket  # -log g of an ion of charge 1
    (water_pk,) = medium.water.pk_at(medium.at_C)
    return _SolutionAt(
        tuple(_acid_at(a, c, medium.at_C, unit) for a, c in totals.acids if c > 0),
        totals.strong_charge,
        sum(charge * charge * total for charge, total in totals.strong),
        per_h=10.0**unit,
        hydroxide=10.0 ** (unit - water_pk),
    )


def _acid_at(acid: Acid, total: float, at_C: float, unit: float) -> _AcidAt:
    return _AcidAt(
        acid.id,
        total,
        acid.charge,
        tuple(_ratios(acid.charge, acid.pk_at(at_C), unit)),
        tuple(
            (p.units, p.protons, 10.0 ** (p.log_k + unit * p.protons**2))
            for p in acid.polymers
        ),
    )


def _ratios(charge: int, pks: Sequence[float], unit: float) -> Iterator[float]:
    """Product of the constants up to each step, activities already divided out."""
    log_ratio = 0.0
    for step, pk in enumerate(pks, start=1):
        log_ratio -= pk
        yield 10.0 ** (log_ratio + unit * ((charge - step) ** 2 - charge**2))


def _window(
    solution: _SolutionAt, ph: float, exact_to: float
) -> tuple[float, float] | None:
    """The narrowest stretch around ``ph`` found to hold the zero of charge."""
    half = 2 * exact_to
    while True:
        low, high = max(ph - half, LOWEST_PH), min(ph + half, HIGHEST_PH)
        if solution.charge(low) >= 0 >= solution.charge(high):
            return low, high
        if low == LOWEST_PH and high == HIGHEST_PH:
            return None
        half *= 8


def _zero_of_charge(
    solution: _SolutionAt, low: float, high: float, exact_to: float
) -> float:
    while high - low > exact_to:
        middle = (low + high) / 2
        if solution.charge(middle) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2
