"""Between which pH values a solution must lie, even where no estimate can be given."""

import math
from collections.abc import Iterable

from msgspec import Struct

from labelkit.chemistry.acid_roles import (
    ACID_SIDE,
    ALKALINE_SIDE,
    AcidityTable,
    Role,
    Solute,
    reacting_pair,
    totals_of,
)
from labelkit.chemistry.equilibria import Medium, solve

__all__ = ["PhBounds", "ph_bounds"]

# To spare on either side, for what no activity model settles.
SPARE = 0.5


class PhBounds(Struct, frozen=True):
    """The pH lies from ``low`` to ``high``; infinite where a side is open."""

    low: float
    high: float


def ph_bounds(solutes: Iterable[Solute], table: AcidityTable) -> PhBounds | None:
    """Bound the pH of a solution of ``solutes`` in water at 25 degC.

    The charge balance rises with every base and falls with every acid, so its zero is
    bounded by the zero of a balance that holds at least as much base, or as much acid.
    Each side is the worse of two solutions, with activities as concentrations and with
    Davies activities, and has 0.5 to spare. On the alkaline side every doubtful
    constant is weaker by its doubt and metal ions keep off hydroxide; on the acid side
    constants are stronger, polyols bind all the borate they can, and a metal ion takes
    every other acid's anion for itself. For one weak base of concentration c this
    comes to (14 + pKa + log c) / 2 + 0.5, for one weak acid to (pKa - log c) / 2 - 0.5,
    and for a strong one to the log of its concentration.

    This is proven only as far as its premises go: the list of solutes is complete, the
    declared reactions have run to their end, nothing else reacts, nothing leaves as
    gas, everything is dissolved, and most of the liquid is water. Solutions of gelatin,
    gum and ferric ammonium citrate enter with the recalled range of their own pH, since
    two solutions that only exchange H+ meet between their own values.

    Returns:
        None where nothing is proven: an unknown chemical, an unknown amount, or a
        strong oxidiser beside a reducer.
    """
    present = sorted(
        (s for s in solutes if s.molality is None or s.molality > 0),
        key=lambda s: s.chemical,
    )
    if not all(_is_told(s, table) for s in present) or reacting_pair(present):
        return None
    roles = [table.role(solute) for solute in present]
    return _opened(_widened(_reckoned(present, table), roles), roles)


def _is_told(solute: Solute, table: AcidityTable) -> bool:
    """Whether what it is and how much of it there is are known well enough."""
    if not table.knows(solute):
        return False
    return solute.molality is not None or table.role(solute).own_range is not None


def _reckoned(solutes: list[Solute], table: AcidityTable) -> PhBounds:
    doubted = frozenset(solute.chemical for solute in solutes)
    low, high = (
        [_ph(solutes, table, side, doubted, ideal=ideal) for ideal in (True, False)]
        for side in (ACID_SIDE, ALKALINE_SIDE)
    )
    return PhBounds(min(low) - SPARE, max(high) + SPARE)


def _ph(
    solutes: list[Solute],
    table: AcidityTable,
    side: int,
    doubted: frozenset[str],
    *,
    ideal: bool,
) -> float:
    totals = totals_of(solutes, table, side, doubted)
    balance = solve(totals, Medium(table.water, ideal=ideal))
    return side * math.inf if balance is None else balance.ph


def _widened(bounds: PhBounds, roles: list[Role]) -> PhBounds:
    """The same, reaching to the own range of each that has one."""
    ranges = [role.own_range for role in roles if role.own_range]
    return PhBounds(
        min([bounds.low, *(low for low, _ in ranges)]),
        max([bounds.high, *(high for _, high in ranges)]),
    )


def _opened(bounds: PhBounds, roles: list[Role]) -> PhBounds:
    """The same, open on each side on which nothing is proven."""
    open_sides = {role.no_bound for role in roles}
    unlisted_metal = any(role.metal for role in roles)
    if unlisted_metal and any(role.brings for role in roles):
        open_sides.add("low")
    return PhBounds(
        -math.inf if "low" in open_sides else bounds.low,
        math.inf if "high" in open_sides else bounds.high,
    )
