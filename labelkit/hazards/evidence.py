"""How far the classes of the ingredients themselves can be relied on."""

from collections.abc import Iterable

from labelkit.hazards.composition import Composition
from labelkit.hazards.data import Basis, HazardData
from labelkit.hazards.mixture import Reason

__all__ = ["evidence", "without_data", "without_entry"]

WATER = "water"

_BASES = {
    Basis.OWN: "classes from a person's own file",
    Basis.GROUP: "classes of a group entry in Annex VI, not of its own",
    Basis.SELF: "classes as notifiers give them themselves, who may differ",
    Basis.COPIED: "classes copied from the anhydrous form",
}
_MEMORY = "memory"


def without_data(mixture: Composition) -> tuple[str, ...]:
    """Names of the chemicals of which no hazard data are known."""
    silent = (data.name for data in _held(mixture) if data.classes is None)
    return tuple(dict.fromkeys(silent))


def without_entry(mixture: Composition) -> tuple[str, ...]:
    """Names of those classified or cleared without an entry in Annex VI.

    A name that an official entry bears as well, such as "borates", is not among them.
    """
    spoken = [data for data in _held(mixture) if data.classes is not None]
    known = {data.name for data in spoken if data.official}
    return tuple(dict.fromkeys(data.name for data in spoken if data.name not in known))


def evidence(mixture: Composition) -> tuple[Reason, ...]:
    """What rests on anything less than an entry of its own in Annex VI."""
    return tuple(
        Reason("", "evidence", f"{data.name}: {said}")
        for data in _held(mixture)
        if (said := "; ".join(_said_of(data)))
    )


def _said_of(data: HazardData) -> Iterable[str]:
    if data.classes is None:
        yield "no hazard data: whatever it can do is missing here"
        return
    if data.basis in _BASES:
        yield _BASES[data.basis]
    elif data.basis is None:
        yield "no official entry"
    if data.confidence == _MEMORY:
        yield "recalled from memory, to be checked"


def _held(mixture: Composition) -> list[HazardData]:
    """Everything the rules looked at, but water, by name."""
    looked_at = {i.data.id: i.data for i in (*mixture.other, *mixture.now)}
    found = (data for key, data in looked_at.items() if key != WATER)
    return sorted(found, key=lambda data: data.name)
