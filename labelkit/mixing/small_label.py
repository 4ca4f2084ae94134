"""Labels with other statements than were first printed: a small pack's, or with codes.

Both go by the frozen record: its classes and codes, and the words beside them.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec.structs import replace

from labelkit.chemistry.display import plain
from labelkit.errors import BadInput, ShelfError
from labelkit.hazards.mixture import Classification
from labelkit.hazards.precaution import CHILDREN, DISPOSAL, SAID_BY
from labelkit.hazards.small_pack import (
    SMALL_UP_TO_ML,
    US_SMALL_UP_TO_ML,
    for_small_pack,
)
from labelkit.mixing.words import BottleText, HazardText, Run, Words

__all__ = ["ONLY_WHERE", "small_pack", "with_codes"]

# Annex I, 1.5.1.1 and Article 29
ONLY_WHERE = (
    "A small pack may leave these off only where neither a fold-out, a tag nor an "
    "outer pack can carry the whole label; local rules come first."
)
_RULES = {
    "eu-clp": "CLP, Annex I, 1.5.2",
    "gb-clp": "GB CLP, Annex I, 1.5.2",
    "us-hcs": "29 CFR 1910.1200(f)(12)",
}
_PLACE = "--small-pack"
_WHOLE = "Leave --small-pack out: print the whole label."

Frozen = Mapping[str, Any]


def small_pack(
    text: BottleText, hazard: Frozen, *, for_public: bool
) -> tuple[BottleText, str]:
    """The words of a bottle without what a small pack may lawfully leave off.

    Args:
        text: as it was first printed.
        hazard: the classification as it was frozen with it.
        for_public: supplied to the public, which allows less.

    Returns:
        The words, and the sentence in them that says what was left off and why.

    Raises:
        BadInput: it is no small pack, its regime knows none, or nothing may go.
        ShelfError: the record's words do not go with its codes.
    """
    rule = _rule(text, hazard)
    whole = _verdict(hazard)
    small = for_small_pack(whole, text.volume_mL, for_public=for_public)
    kept_p = [code for code in whole.p if _is_kept(code, small.p)]
    kept = (*small.pictograms, small.signal, *small.label_h, *kept_p)
    every = (*whole.pictograms, whole.signal, *whole.label_h, *whole.p)
    gone = [code for code in every if code and code not in kept]
    if not gone:
        raise BadInput(
            f"{text.name} reaches no class that may leave a statement off",
            place=_PLACE,
            remedy=_WHOLE,
        )
    said = f"Small pack: {_listed(gone)} left off under {rule}."
    if whole.regime == "us-hcs":
        said = f"{said} The outer pack carries the whole label."
    shown = _shown(text.hazard, whole, small, kept_p)
    points = (*shown.open_points, said)
    return replace(text, hazard=replace(shown, open_points=points)), said


def _rule(text: BottleText, hazard: Frozen) -> str:
    """The rule that allows it."""
    regime = hazard["regime"]
    if regime not in _RULES:
        raise BadInput(
            f"{regime} has no rule for small packs: each country writes its own",
            place=_PLACE,
            remedy=_WHOLE,
        )
    most = US_SMALL_UP_TO_ML if regime == "us-hcs" else SMALL_UP_TO_ML
    if text.volume_mL > most:
        raise BadInput(
            f"a bottle of {plain(text.volume_mL)} mL is no small pack",
            place=_PLACE,
            remedy=f"{_RULES[regime]} is for up to {most} mL. {_WHOLE}",
        )
    return _RULES[regime]


def _verdict(hazard: Frozen) -> Classification:
    return Classification(
        regime=hazard["regime"],
        signal=hazard["signal"],
        pictograms=tuple(hazard["pictograms"]),
        classes=tuple(hazard["classes"]),
        h=tuple(hazard["h"]),
        label_h=tuple(hazard["label_h"]),
        euh=tuple(hazard["euh"]),
        p=tuple(hazard["p"]),
    )


def _is_kept(code: str, chosen: Sequence[str]) -> bool:
    """Whether a statement stays: chosen, or said by one that is; the label has it.

    What belongs to no class stays while any other does.
    """
    if code in (CHILDREN, DISPOSAL):
        return bool(chosen)
    return any(code == one or code in SAID_BY.get(one, ()) for one in chosen)


def _shown(
    hazard: HazardText,
    whole: Classification,
    small: Classification,
    kept_p: Sequence[str],
) -> HazardText:
    _require_match(hazard, whole)
    count = len(whole.label_h)
    told = zip(whole.label_h, hazard.statements[:count], strict=True)
    advice = zip(whole.p, hazard.precautions, strict=True)
    return replace(
        hazard,
        signal=hazard.signal if small.signal else "",
        pictograms=tuple(p for p in hazard.pictograms if p.code in small.pictograms),
        statements=(
            *(sentence for code, sentence in told if code in small.label_h),
            *hazard.statements[count:],
        ),
        precautions=tuple(words for code, words in advice if code in kept_p),
    )


def with_codes(text: BottleText, hazard: Frozen) -> BottleText:
    """The words with the code of each statement at the end of its sentence.

    Raises:
        ShelfError: the record's words do not go with its codes.
    """
    shown, whole = text.hazard, _verdict(hazard)
    if shown.none_reached:
        return text
    _require_match(shown, whole)
    codes = (*whole.label_h, *whole.euh)
    told = shown.statements
    named = tuple(map(_named, told[: len(codes)], codes))
    advice = zip(shown.precautions, whole.p, strict=True)
    precautions = tuple(_words_named(words, code) for words, code in advice)
    return replace(
        text,
        hazard=replace(
            shown, statements=(*named, *told[len(codes) :]), precautions=precautions
        ),
    )


def _named(sentence: str, code: str) -> str:
    return f"{sentence.removesuffix('.')} ({code})."


def _words_named(words: Words, code: str) -> Words:
    last = words[-1]
    return (*words[:-1], Run(_named(last.text, code), last.strong))


def _require_match(hazard: HazardText, whole: Classification) -> None:
    """That the words are those of the codes, one for one."""
    told = len(hazard.statements) >= len(whole.label_h) + len(whole.euh)
    if not told or len(hazard.precautions) != len(whole.p):
        raise ShelfError(
            "the statements of this record do not go with its codes",
            remedy="Print the label as it was: leave --small-pack and --codes out.",
        )


def _listed(codes: Sequence[str]) -> str:
    *first, last = codes
    return f"{', '.join(first)} and {last}" if first else last
