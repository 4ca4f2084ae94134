"""That what is written can be printed: the printed type does not have every letter."""

from collections.abc import Iterable, Iterator

from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, Fault
from labelkit.mixing.batch import Batch, bottles_from
from labelkit.mixing.bottle_text import bottle_texts_for
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["refuse_without_a_label", "unprintable", "without_a_label"]

Texts = Iterable[tuple[str, str]]  # place and text

_NUMBER = "0000-0000-0"  # of no batch
_WITHOUT_A_LABEL = "Its label could not be printed."
_SETTINGS = ("room", "address", "phone", "emergency", "disposal")


def unprintable(texts: Texts) -> Iterator[Fault]:
    """A fault for each text with characters that are not in the printed type."""
    from labelkit.printing.fonts import clean

    for place, text in texts:
        try:
            clean(text, place)
        except BadInput as error:
            yield from error.faults


def refuse_without_a_label(
    place: Workplace, plan: Plan, handbook: Handbook, by: str = ""
) -> None:
    """Refuse to begin what no label could ever be printed for.

    Raises:
        BadInput: as `without_a_label` tells it.
    """
    faults = without_a_label(place, plan, handbook, by)
    if faults:
        raise BadInput.of(
            fault._replace(remedy=f"{_WITHOUT_A_LABEL} {fault.remedy}")
            for fault in faults
        )


def without_a_label(
    place: Workplace, plan: Plan, handbook: Handbook, by: str = "", said: str = "--by"
) -> tuple[Fault, ...]:
    """Why no label could be printed for what is to be mixed; () where one could.

    Each text that holds characters which are not in the printed type is told where it
    is written.

    Args:
        place: for the settings and the bench's own chemicals.
        plan: of what is to be mixed.
        handbook: what was looked up for it.
        by: who mixes it.
        said: where that is said.
    """
    from labelkit.printing.said import printable

    batch = Batch(_NUMBER, (), plan, by, bottles_from(None, plan))
    (label,) = bottle_texts_for(batch, handbook, place.settings)
    try:
        printable(label)
    except BadInput as error:
        texts = [*_written(place, plan, handbook), (said, by)]
        return tuple(unprintable(texts)) or error.faults
    return ()


def _written(
    place: Workplace, plan: Plan, handbook: Handbook
) -> Iterator[tuple[str, str]]:
    """What a person wrote that may come to stand on the label."""
    from labelkit.files.printed import label_texts

    recipe = plan.recipe
    file = f"{recipe.name}.toml"
    yield from label_texts(recipe.document, file)
    for name in handbook.parts.values():
        yield f"{file}, use, with", name
    for key in _SETTINGS:
        yield f"labelkit.toml, {key}", getattr(place.settings, key)
    brought = {entry.substance.id for entry in recipe.own_chemicals}
    for chemical in plan.solution.ledger.lines:
        if chemical in place.catalogue.own and chemical not in brought:
            name = place.catalogue.substance(chemical).name
            yield f"chemicals.toml, {chemical}, names", name
