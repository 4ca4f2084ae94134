"""The ledger of a solution: every gram that went in, and what became of it."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.reactions import Equation, Run, Species, balance, run
from labelkit.chemistry.substances import State, Substance
from labelkit.errors import BadInput
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.recipe import ReactionSpec

__all__ = ["EMPTY", "Ledger", "Line", "react"]

NOTHING = Decimal(0)
# What is left of a reagent by the last digit of a division is nothing left.
LAST_DIGIT = Decimal("1e-18")


class Line(Struct, frozen=True):
    """One chemical: grams of the pure form, of the solute for a solution.

    Attributes:
        added_g: put in.
        consumed_g: of that and of what was formed, used up by a reaction.
        formed_g: made by a reaction.
        into: ids of what it turned into.
    """

    chemical: str
    added_g: Decimal = NOTHING
    consumed_g: Decimal = NOTHING
    formed_g: Decimal = NOTHING
    into: tuple[str, ...] = ()

    @property
    def present_g(self) -> Decimal:
        """What stands in the solution now [g]."""
        return self.added_g + self.formed_g - self.consumed_g

    def scaled(self, factor: Decimal) -> "Line":
        """The same line for ``factor`` times the amounts."""
        return replace(
            self,
            added_g=self.added_g * factor,
            consumed_g=self.consumed_g * factor,
            formed_g=self.formed_g * factor,
        )

    def plus(self, other: "Line") -> "Line":
        """Both lines of the same chemical as one."""
        return Line(
            self.chemical,
            self.added_g + other.added_g,
            self.consumed_g + other.consumed_g,
            self.formed_g + other.formed_g,
            tuple(dict.fromkeys(self.into + other.into)),
        )


class Ledger(Struct, frozen=True):
    """What went into a solution and what it became.

    Attributes:
        lines: by chemical id, in the order in which they first went in.
        water_g: water poured in, water of solutions, water of reactions [g].
        inert_g: what a jar's assay leaves over, of solids [g].
    """

    lines: Mapping[str, Line]
    water_g: Decimal = NOTHING
    inert_g: Decimal = NOTHING

    @property
    def mass_g(self) -> Decimal:
        """The mass of everything that is in it [g]."""
        present = sum((line.present_g for line in self.lines.values()), NOTHING)
        return present + self.water_g + self.inert_g

    def present_g(self, chemical: str) -> Decimal:
        """Grams of ``chemical`` that stand in it now."""
        line = self.lines.get(chemical)
        return line.present_g if line else NOTHING

    def scaled(self, factor: Decimal) -> "Ledger":
        """The ledger of ``factor`` times the amounts."""
        return Ledger(
            {c: line.scaled(factor) for c, line in self.lines.items()},
            self.water_g * factor,
            self.inert_g * factor,
        )

    def plus(self, other: "Ledger") -> "Ledger":
        """Both poured together; nothing reacts."""
        lines = dict(self.lines)
        for chemical, line in other.lines.items():
            old = lines.get(chemical)
            lines[chemical] = old.plus(line) if old else line
        return Ledger(lines, self.water_g + other.water_g, self.inert_g + other.inert_g)

    def with_water(self, water_g: Decimal) -> "Ledger":
        """The same with more water [g]."""
        return replace(self, water_g=self.water_g + water_g)

    def with_chemical(
        self, substance: Substance, mass_g: Decimal, assay_percent: Decimal
    ) -> "Ledger":
        """The same with ``mass_g`` [g] out of a jar of that assay [%]."""
        pure_g = mass_g * assay_percent / 100 * substance.solute_share
        rest_g = mass_g - pure_g
        added = Ledger(
            {substance.id: Line(substance.id, added_g=pure_g)},
            inert_g=rest_g if substance.state is State.SOLID else NOTHING,
            water_g=NOTHING if substance.state is State.SOLID else rest_g,
        )
        return self.plus(added)


EMPTY = Ledger({})


def react(
    ledger: Ledger, declared: Iterable[ReactionSpec], catalogue: Catalogue
) -> tuple[Ledger, tuple[Run, ...]]:
    """Run the declared reactions one after the other, in the order of the file.

    Raises:
        BadInput: a reaction cannot be balanced, has two readings, names a chemical
            without a formula, or a reagent that was not added.
    """
    runs = []
    for number, spec in enumerate(declared, start=1):
        try:
            done = _run(ledger, spec, catalogue)
        except BadInput as error:
            raise error.at(f"reaction {number}") from None
        runs.append(done)
        ledger = _after(ledger, done)
    return ledger, tuple(runs)


def _run(ledger: Ledger, spec: ReactionSpec, catalogue: Catalogue) -> Run:
    equation = _balanced(
        tuple(_species(c, catalogue) for c in spec.reactants),
        tuple(_species(c, catalogue) for c in spec.products),
    )
    available_g = {c: ledger.present_g(c) for c in spec.reactants}
    for chemical, mass_g in available_g.items():
        if mass_g <= 0:
            raise BadInput(
                f"{chemical} is to react but no step adds it",
                place="from",
                remedy="Add it in a step, or name the form that is added.",
            )
    done = run(equation, available_g)
    return replace(
        done,
        consumed_g={c: _all_of(available_g[c], g) for c, g in done.consumed_g.items()},
    )


@lru_cache(maxsize=64)
def _balanced(
    reactants: tuple[Species, ...], products: tuple[Species, ...]
) -> Equation:
    """The same reaction is run many times over: for each dose's share, at each step."""
    return balance(reactants, products)


def _all_of(available_g: Decimal, used_g: Decimal) -> Decimal:
    close = abs(available_g - used_g) <= LAST_DIGIT * available_g
    return available_g if close else used_g


def _species(chemical: str, catalogue: Catalogue) -> Species:
    formula = catalogue.substance(chemical).formula
    if formula is None:
        raise BadInput(
            f"{chemical} has no formula, so no reaction with it can be balanced",
            remedy="Leave the reaction out: the solution is then taken as added.",
        )
    return Species(chemical, formula)


def _after(ledger: Ledger, done: Run) -> Ledger:
    into = tuple(done.formed_g)
    lines = {
        chemical: Line(chemical, consumed_g=mass_g, into=into)
        for chemical, mass_g in done.consumed_g.items()
    }
    lines |= {c: Line(c, formed_g=mass_g) for c, mass_g in done.formed_g.items()}
    return ledger.plus(Ledger(lines, water_g=done.water_g))
