"""The hazard block on the terminal, alike for a plan and for a batch."""

from collections.abc import Iterator

from labelkit.cli.words import filled
from labelkit.mixing.words import HazardText, Words

__all__ = ["hazard_block", "spoken"]


def hazard_block(
    hazard: HazardText, first_words: Words, emergency: str, never_with: str
) -> Iterator[str]:
    """Signal word, statements, precautions, what to do first, whom to call."""
    if hazard.none_reached:
        yield filled(spoken(hazard.none_reached))
    else:
        pictograms = ", ".join(pictogram.word for pictogram in hazard.pictograms)
        yield f"{hazard.signal}   {pictograms}".strip()
        alert = f"{hazard.alert}." if hazard.alert else ""
        told = [alert, *hazard.statements, hazard.contains, *hazard.open_points]
        yield filled(" ".join(word for word in told if word))
        yield filled(" ".join(spoken(words) for words in hazard.precautions))
    yield filled(spoken(first_words))
    if emergency:
        yield f"Call {emergency}"
    if never_with:
        yield filled(never_with)


def spoken(words: Words) -> str:
    """Words without their weight."""
    return "".join(run.text for run in words)
