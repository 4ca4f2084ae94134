"""A mixture in which chemicals were turned into others, classified as it now is.

Where a recipe declares a reaction, products and leftovers count at their own share. So
that a reaction never lowers a class by itself, a consumed chemical keeps all its
classes but skin and eye at the share it was added, unless all that was formed has
harmonised entries. Skin and eye of a consumed acid or base give way to the pH rule only
where there is a pH. Boron counts in the form weighed in, whatever borate it ends up as.
(Ours; the law does not speak of reactions.)
"""

from collections.abc import Callable, Iterable, Sequence

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import BadInput
from labelkit.hazards.classify import classify_composition
from labelkit.hazards.composition import Composition, added_up, check_ph
from labelkit.hazards.data import Basis, HazardData
from labelkit.hazards.limits import EYE, SKIN, carried, shown
from labelkit.hazards.mixture import (
    Acidity,
    Classification,
    Ingredient,
    MixedPart,
    Reason,
)
from labelkit.hazards.ph_rule import is_acid_or_base
from labelkit.hazards.regimes import regime_named

__all__ = ["classify_as_formed"]

RULE = "reaction"
WATER = "water"


class _Bottle(Struct, frozen=True):
    """What is the same for the mixture as formed and as added."""

    ph: Acidity | None
    ph_bounds: tuple[float, float] | None
    solid: bool
    for_public: bool


def classify_as_formed(
    parts: Sequence[MixedPart],
    *,
    ph: Acidity | None,
    regime: str = "eu-clp",
    ph_bounds: tuple[float, float] | None = None,
    solid: bool = False,
    for_public: bool = True,
) -> Classification:
    """The verdict on a mixture as formed, with the one on the list as added beside it.

    Args:
        parts: every chemical as it went in and as it stands now [% w/w].
        ph: measured or estimated; None where there is no figure.
        regime: ``eu-clp``, ``gb-clp``, ``un-ghs`` or ``us-hcs``.
        ph_bounds: between which pH it is proven to lie; None where nothing is proven.
        solid: a dry mixture.
        for_public: supplied to private persons.

    Raises:
        BadInput: an unknown regime, shares that cannot be, or faulty hazard data.
    """
    rules = regime_named(regime)
    check_ph(ph)
    _check(parts)
    whole = _by_chemical(parts)
    bottle = _Bottle(ph, ph_bounds, solid, for_public)
    added = added_up(Ingredient(part.data, part.added) for part in whole)
    as_added = classify_composition(_viewed(bottle, added, added, added, added), rules)
    if not any(part.consumed or part.formed for part in whole):
        return as_added
    as_formed = classify_composition(_as_formed(whole, added, bottle), rules)
    return replace(as_formed, as_added=as_added)


def _check(parts: Iterable[MixedPart]) -> None:
    """Refuse shares that cannot be: negative ones, more consumed than there was."""
    for part in parts:
        shares = (part.added, part.consumed, part.formed)
        if not all(share.is_finite() and share >= 0 for share in shares):
            raise BadInput(
                "a share below 0 % cannot be",
                place=part.data.id,
                remedy="Give 0 to 100 % by mass.",
            )
        if part.present < 0:
            raise BadInput(
                f"{part.consumed} % consumed of {part.added + part.formed} % there",
                place=part.data.id,
                remedy="Consume at most what was added or formed.",
            )


def _by_chemical(parts: Iterable[MixedPart]) -> list[MixedPart]:
    """Each chemical once, by id."""
    found: dict[str, MixedPart] = {}
    for part in parts:
        if part.data.id in found:
            before = found[part.data.id]
            part = MixedPart(
                part.data,
                before.added + part.added,
                before.consumed + part.consumed,
                before.formed + part.formed,
            )
        found[part.data.id] = part
    return [found[key] for key in sorted(found)]


def _viewed(
    bottle: _Bottle,
    skin_eye: tuple[Ingredient, ...],
    other: tuple[Ingredient, ...],
    boron: tuple[Ingredient, ...],
    now: tuple[Ingredient, ...],
    remarks: tuple[Reason, ...] = (),
) -> Composition:
    return Composition(
        skin_eye=skin_eye,
        other=other,
        boron=boron,
        now=now,
        ph=bottle.ph,
        ph_bounds=bottle.ph_bounds,
        solid=bottle.solid,
        for_public=bottle.for_public,
        remarks=remarks,
    )


def _as_formed(
    parts: Sequence[MixedPart], added: tuple[Ingredient, ...], bottle: _Bottle
) -> Composition:
    now = _shares(parts, lambda _: False)
    keeps = not _products_have_entries(parts)
    stays = bottle.ph is None
    return _viewed(
        bottle,
        skin_eye=_shares(parts, lambda part: stays and is_acid_or_base(part.data)),
        other=_shares(parts, lambda _: keeps),
        boron=added,
        now=now,
        remarks=tuple(_remarks(parts, bottle.ph, keeps)),
    )


def _products_have_entries(parts: Iterable[MixedPart]) -> bool:
    """Whether Annex VI speaks of everything that was formed, water apart."""
    formed = [part.data for part in parts if part.formed and part.data.id != WATER]
    return bool(formed) and all(data.basis == Basis.HARMONISED for data in formed)


def _shares(
    parts: Iterable[MixedPart], stays: Callable[[MixedPart], bool]
) -> tuple[Ingredient, ...]:
    """What is there now; of a consumed chemical that stays, what was added."""
    shares = (
        (part.data, max(part.added, part.present) if stays(part) else part.present)
        for part in parts
    )
    return tuple(Ingredient(data, share) for data, share in shares if share > 0)


def _remarks(
    parts: Iterable[MixedPart], ph: Acidity | None, keeps: bool
) -> Iterable[Reason]:
    """What became of the classes of everything that was used up."""
    for part in parts:
        if not part.consumed:
            continue
        used = f"{part.data.name}: {shown(part.consumed)} % used up"
        if carried(part.data, *SKIN, *EYE):
            fate = _skin_and_eye(part.data, ph)
            yield Reason("", RULE, f"{used}; its skin and eye classes {fate}")
        if _has_more(part.data):
            fate = "stay at the share added" if keeps else "follow what was formed"
            yield Reason("", RULE, f"{used}; its other classes {fate}")


def _skin_and_eye(data: HazardData, ph: Acidity | None) -> str:
    if not is_acid_or_base(data):
        return "went with it"
    if ph is None:
        return "stay as added, because there is no pH"
    return f"give way to the pH of {ph.value:g} ({ph.source})"


def _has_more(data: HazardData) -> bool:
    return len(data.classes or ()) > len(carried(data, *SKIN, *EYE))
