"""An estimate of the pH, with the band it deserves, or the reason why there is none."""

from collections.abc import Iterable, Sequence, Set

from msgspec import Struct

from labelkit.chemistry.acid_roles import (
    ACID_SIDE,
    ALKALINE_SIDE,
    AcidityTable,
    Solute,
    reacting_pair,
    totals_of,
)
from labelkit.chemistry.equilibria import (
    REFERENCE_C,
    Acid,
    Balance,
    Medium,
    Totals,
    solve,
)
from labelkit.chemistry.refusal import Refusal

__all__ = ["Estimate", "estimate_ph"]

ASSUMES = "closed to air, pure reagents, everything dissolved"

# Band of pH up to an ionic strength [mol/kg], from models compared with published
# buffers and with one another; nothing was found to compare with above 1.5.
BANDS = ((0.1, 0.05), (0.5, 0.1), (1.5, 0.3))
SULFITE_BANDS = ((0.5, 0.3), (1.5, 0.4))
UNBUFFERED_BAND = 0.5
STRONGEST = 1.5
# Above this [mol/kg] of one substance the constants of water no longer hold.
MOST_OF_ONE = 2.0
# A trace may move the pH by this much at most; a doubt below it does not count.
TRACE = 0.05
# Almost unbuffered: a per cent more or less of acid or base moves the pH further.
BUFFERED = 0.2
A_PER_CENT = 0.01
# What air and water bring in any case [mol/kg]. Common practice, no source.
IN_ANY_WATER = 1e-4
# Carbon dioxide that water holds under its own pressure of one atmosphere [mol/kg]:
# log K -1.468, PHREEQC 3.8.6, phreeqc.dat.
HELD_CARBON_DIOXIDE = 0.034
# From ten times what water takes from the air, carbon dioxide is lost, and the pH with
# it: a bicarbonate alone holds no pH for long. Common practice, no source.
LOST_CARBON_DIOXIDE = 1e-4
# Polymers have constants for 25 degC only; below this share of their acid they are
# not in play.
POLYMERS_IN_PLAY = 0.05
COLDEST_C, WARMEST_C = 0.0, 60.0


class Estimate(Struct, frozen=True):
    """The pH as a meter would read it, between ``low`` and ``high``.

    Attributes:
        ionic_strength: [mol/kg].
        at_C: the temperature it is for [degC].
        unbuffered: it hardly holds its pH; ``notes`` tell why.
        notes: what it assumes and what to beware of.
    """

    value: float
    low: float
    high: float
    ionic_strength: float
    at_C: float = REFERENCE_C
    unbuffered: bool = False
    notes: tuple[str, ...] = (ASSUMES,)


class _Base(Struct, frozen=True):
    """A solution that has been solved, with what is asked about it next."""

    solutes: tuple[Solute, ...]
    table: AcidityTable
    totals: Totals
    medium: Medium
    balance: Balance
    notes: tuple[str, ...]

    @property
    def carbon_dioxide(self) -> float:
        """Carbonic acid with both its H+ [mol/kg]."""
        return self.balance.forms.get("carbonic", (0.0,))[0]

    def moved_by(self, side: int, doubted: Set[str]) -> float:
        """How far the pH moves when ``doubted`` chemicals lean to one ``side``."""
        totals = totals_of(self.solutes, self.table, side, doubted)
        return self.moved_to(totals)

    def moved_to(self, totals: Totals) -> float:
        other = solve(totals, self.medium)
        return float("inf") if other is None else abs(other.ph - self.balance.ph)


def estimate_ph(
    solutes: Iterable[Solute], table: AcidityTable, at_C: float = REFERENCE_C
) -> Estimate | Refusal:
    """Estimate the pH of a solution of ``solutes`` in water.

    The charges are balanced with Davies activities. The answer is for ``at_C`` [degC]
    where every constant in play is known there, else for 25 degC, which is then said.
    The order of the solutes does not matter; water may be among them.
    """
    there = (s for s in solutes if s.molality is None or s.molality > 0)
    present = tuple(sorted(there, key=lambda s: s.chemical))
    reason = _cannot_begin(present, table)
    if reason:
        return Refusal(reason)
    base = _solved(present, table, at_C)
    if base is None:
        return Refusal("the charges of the solution could not be balanced")
    traces = _traces(base)
    if isinstance(traces, Refusal):
        return traces
    reason = _cannot_stand(base)
    if reason:
        return Refusal(reason)
    return _with_band(base, traces)


def _cannot_begin(solutes: Sequence[Solute], table: AcidityTable) -> str:
    """Why this mixture has no estimate, before anything is reckoned."""
    for solute in solutes:
        if not table.knows(solute):
            return f"no acidity constants for {solute.called}"
        role = table.role(solute)
        if role.own_range or role.no_bound:
            return role.cannot
        if solute.molality is None:
            return f"the amount of {solute.called} in mol is not known"
        if solute.molality > MOST_OF_ONE and solute.chemical != "water":
            return f"too concentrated in {solute.called} for constants in water"
    pair = reacting_pair(solutes)
    if pair:
        return f"{pair[0].called} and {pair[1].called} react with each other"
    return ""


def _solved(
    solutes: tuple[Solute, ...], table: AcidityTable, at_C: float
) -> _Base | None:
    totals = totals_of(solutes, table)
    notes: tuple[str, ...] = (ASSUMES,)
    at_25 = solve(totals, Medium(table.water))
    if at_25 is None:
        return None
    if at_C == REFERENCE_C:
        return _Base(solutes, table, totals, Medium(table.water), at_25, notes)
    if not _known_at(at_C, totals, at_25):
        notes += (f"for 25 °C: not every constant is known at {at_C:g} °C",)
        return _Base(solutes, table, totals, Medium(table.water), at_25, notes)
    medium = Medium(table.water, at_C)
    there = solve(totals, medium)
    return (
        None if there is None else _Base(solutes, table, totals, medium, there, notes)
    )


def _known_at(at_C: float, totals: Totals, at_25: Balance) -> bool:
    if not COLDEST_C <= at_C <= WARMEST_C:
        return False
    return all(
        acid.knows_temperature and not _condensed(acid, total, at_25)
        for acid, total in totals.acids
        if total > 0
    )


def _condensed(acid: Acid, total: float, balance: Balance) -> bool:
    if not acid.polymers:
        return False
    return 1 - sum(balance.forms[acid.id]) / total > POLYMERS_IN_PLAY


def _traces(base: _Base) -> float | Refusal:
    """How far what is hardly known may move the pH; a refusal where it is no trace."""
    doubtful = {s.chemical: s for s in base.solutes if _is_rough(s, base.table)}
    if not doubtful:
        return 0.0
    moved = _both_sides(base, doubtful.keys())
    if moved <= TRACE:
        return moved
    worst = max(doubtful.values(), key=lambda s: _both_sides(base, {s.chemical}))
    return Refusal(base.table.role(worst).cannot)


def _is_rough(solute: Solute, table: AcidityTable) -> bool:
    rough = any(acid.rough for acid in table.acids_of(solute))
    return rough or bool(table.role(solute).binds)


def _both_sides(base: _Base, doubted: Set[str]) -> float:
    return max(base.moved_by(side, doubted) for side in (ACID_SIDE, ALKALINE_SIDE))


def _cannot_stand(base: _Base) -> str:
    """Why the solution, once reckoned, has no estimate."""
    strength = base.balance.ionic_strength
    if strength > STRONGEST:
        return f"too concentrated: ionic strength {strength:.1f}, the limit is 1.5"
    if base.carbon_dioxide > HELD_CARBON_DIOXIDE:
        return "acid sets carbon dioxide free: declare the reaction"
    for solute in base.solutes:
        for name in base.table.role(solute).brings:
            ion = base.table.ions.get(name)
            if ion and ion.needs_ph is not None and base.balance.ph < ion.needs_ph:
                return ion.why
    return ""


def _with_band(base: _Base, traces: float) -> Estimate | Refusal:
    band = max(_band(BANDS, base), _sulfite_band(base)) + traces
    swing = _swing(base)
    if swing > UNBUFFERED_BAND:
        return Refusal(
            "almost unbuffered: a per cent of acid or base more or less decides the pH"
        )
    weak_points = _weak_points(base, swing)
    if weak_points:
        band = max(band, UNBUFFERED_BAND)
    ph = base.balance.ph
    return Estimate(
        ph,
        ph - band,
        ph + band,
        base.balance.ionic_strength,
        base.medium.at_C,
        unbuffered=bool(weak_points),
        notes=(*base.notes, *_trace_notes(base, traces), *weak_points),
    )


def _weak_points(base: _Base, swing: float) -> tuple[str, ...]:
    """Why the solution hardly holds its pH; () where it does."""
    points = []
    if swing > BUFFERED:
        points.append(
            "almost unbuffered: a per cent of acid or base more or less "
            f"moves it by {swing:.1f}"
        )
    if base.carbon_dioxide > LOST_CARBON_DIOXIDE:
        points.append("loses carbon dioxide to the air, and the pH rises")
    return tuple(points)


def _trace_notes(base: _Base, traces: float) -> tuple[str, ...]:
    if not traces:
        return ()
    rough = [s.called for s in base.solutes if _is_rough(s, base.table)]
    return (f"a trace, known only roughly: {', '.join(rough)}",)


def _band(bands: Sequence[tuple[float, float]], base: _Base) -> float:
    strength = base.balance.ionic_strength
    return next(band for up_to, band in bands if strength <= up_to)


def _sulfite_band(base: _Base) -> float:
    """The band of what is doubted though not rough, where it matters; else 0."""
    doubted = {
        solute.chemical
        for solute in base.solutes
        if _is_doubted(solute, base.table) and not _is_rough(solute, base.table)
    }
    if not doubted or base.moved_by(ALKALINE_SIDE, doubted) <= TRACE:
        return 0.0
    return _band(SULFITE_BANDS, base)


def _is_doubted(solute: Solute, table: AcidityTable) -> bool:
    return any(acid.doubt > 0 for acid in table.acids_of(solute))


def _swing(base: _Base) -> float:
    """How far a per cent of the strongest acid or base moves the pH.

    The per cent is of the net charge of the strong ions, or of the most plentiful weak
    acid where that is less: a weak acid alone is not at the mercy of its own amount.
    """
    charge = abs(base.totals.strong_charge)
    weak = max((total for _, total in base.totals.acids), default=0.0)
    amount = A_PER_CENT * (min(charge, weak) if weak else charge)
    amount = max(amount, IN_ANY_WATER)
    sides = (base.totals.with_strong(sign, amount) for sign in (-1, 1))
    return max(base.moved_to(totals) for totals in sides)
