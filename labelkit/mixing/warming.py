"""How warm mixing gets, told in one figure and one sentence."""

from collections.abc import Sequence

from msgspec import Struct

from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.vessels import Moment

__all__ = ["Warming", "warming_of"]

# Below this nobody notices; common practice, no source.
NOTICED_K = 2.0


class Warming(Struct, frozen=True):
    """The warmest that mixing gets.

    Attributes:
        rise_K: of the step that warms its vessel most; negative where all of them cool.
        peak_C: the highest temperature of any vessel at any step.
        not_counted: what the figures leave out.
        text: the steps that a hand would feel, in a sentence.
    """

    rise_K: float
    peak_C: float
    not_counted: tuple[str, ...]
    text: str


def warming_of(moments: Sequence[Moment], catalogue: Catalogue) -> Warming | None:
    """The warming of a job; None where nothing dissolves whose heat is known."""
    dissolving = [moment for moment in moments if moment.dissolves]
    if not dissolving:
        return None
    strongest = max(dissolving, key=lambda m: m.rise_K)
    not_counted = tuple(dict.fromkeys(c for m in dissolving for c in m.not_counted))
    return Warming(
        strongest.rise_K,
        max(max(m.before_C, m.after_C) for m in moments),
        not_counted,
        _sentence(dissolving, catalogue),
    )


def _sentence(dissolving: Sequence[Moment], catalogue: Catalogue) -> str:
    told = [
        _clause(moment, catalogue)
        for moment in dissolving
        if abs(moment.rise_K) >= NOTICED_K
    ]
    if not told:
        return "less than 2 K at every step"
    return f"{'; '.join(told)}. Reaction heat and losses are not counted"


def _clause(moment: Moment, catalogue: Catalogue) -> str:
    name = " and ".join(catalogue.substance(c).name for c in moment.dissolves)
    way = "warms" if moment.rise_K > 0 else "cools"
    where = f"the {moment.vessel}" if moment.vessel else "it"
    return (
        f"{name} {way} {where} by {abs(moment.rise_K):.0f} K to {moment.after_C:.0f} °C"
    )
