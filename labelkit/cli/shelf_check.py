"""What is wrong with the bottles on the shelf, for ``labelkit check --shelf``."""

from typing import Any

from labelkit.cli.workplace import Workplace
from labelkit.errors import Fault
from labelkit.mixing.neighbours import Stood, Trouble, tags_in, troubles
from labelkit.mixing.said import NBSP
from labelkit.mixing.standing import standings

__all__ = ["fault_of", "shelf_troubles", "trouble_json"]


def shelf_troubles(place: Workplace) -> tuple[Trouble, ...]:
    """Everything that is wrong on the bench's shelf, the deadly first."""
    from labelkit.files.handling import read_handling

    numbers = [bottle.number for bottle in place.shelf.standing()]
    stood = []
    for kept in place.shelf.told(numbers, whole=True):
        tags = tags_in(kept.record)
        states = standings(kept.record, kept.events)
        stood += [Stood(state, tags) for state in states if state.stands]
    return troubles(stood, read_handling().apart, place.now)


def fault_of(trouble: Trouble) -> Fault:
    """The trouble as a line: what, why by which source, and what to do."""
    source = f" (Source: {trouble.source}.)" if trouble.source else ""
    return Fault("", _plain(f"{trouble.text}."), _plain(f"{trouble.remedy}{source}"))


def trouble_json(trouble: Trouble) -> dict[str, Any]:
    """The trouble as JSON: the keys of a fault, and its own."""
    return {
        "place": trouble.place or "shelf",
        "problem": _plain(trouble.text),
        "remedy": trouble.remedy,
        "kind": trouble.kind,
        "bottles": list(trouble.bottles),
        "others": list(trouble.others),
        "severity": trouble.severity or None,
        "source": trouble.source or None,
    }


def _plain(text: str) -> str:
    return text.replace(NBSP, " ")
