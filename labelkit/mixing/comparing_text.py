"""What is said of versions that stand side by side, a sentence or two each."""

from collections.abc import Iterator
from decimal import Decimal

from labelkit.chemistry.display import figures, show_amount
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.comparing import AGREE, Comparison, Reading, Version
from labelkit.mixing.naming import form_word

__all__ = ["verdicts"]


def verdicts(comparison: Comparison, catalogue: Catalogue) -> tuple[str, ...]:
    """The verdict on each version, in their order."""
    by = comparison.versions[comparison.measure]
    return tuple(
        " ".join(_said(version, by, comparison, catalogue))
        for version in comparison.versions
    )


def _said(
    version: Version, by: Version, comparison: Comparison, catalogue: Catalogue
) -> Iterator[str]:
    name = version.recipe.name
    yield f"{name}: {_strength_words(version, comparison, catalogue)}."
    yield from _adding_up(version, catalogue)
    if version is by:
        yield "The others are measured by it."
    elif version.agrees:
        yield f"It agrees with {by.recipe.name} to {_percent(version.off)}."
    else:
        yield from _differing(version, by, catalogue)
    if version.reading is not None:
        yield _as_read(version, version.reading, by, comparison, catalogue)


def _strength_words(
    version: Version, comparison: Comparison, catalogue: Catalogue
) -> str:
    if len(comparison.told_in) > 1:
        return f"{len(version.added)} chemicals per litre"
    form = comparison.told_in[0]
    told = figures(version.carried[form], 3) if version.carried[form] > 0 else "0"
    return f"{told} g/L {catalogue.substance(form).name}"


def _adding_up(version: Version, catalogue: Catalogue) -> Iterator[str]:
    if not version.plan.solution.runs:
        return
    if not version.leftovers or version.adds_up:
        most = max((left.percent for left in version.leftovers), default=Decimal(0))
        small = f" ({figures(most, 2)} % over)" if most >= Decimal("0.05") else ""
        yield f"It adds up{small}."
    for left in version.leftovers:
        if left.percent > AGREE * 100:
            yield (
                f"It leaves {figures(left.g_per_L, 2)} g/L of "
                f"{catalogue.substance(left.chemical).name} over "
                f"({figures(left.percent, 2)} %): {figures(left.more_g_per_L, 2)} g/L "
                f"more of {catalogue.substance(left.more_of).name} would use it up."
            )


def _differing(version: Version, by: Version, catalogue: Catalogue) -> Iterator[str]:
    assert version.off is not None
    if len(version.carried) == 1:
        way = "stronger" if version.off > 0 else "weaker"
        yield f"It is {_percent(version.off)} {way} than {by.recipe.name}."
    else:
        yield f"It differs from {by.recipe.name}."
    if version.thinner is not None:
        yield _same_ratio(version, version.thinner, by)
        return
    for chemical, grams in version.added.items():
        theirs = by.added.get(chemical)
        if theirs and abs(grams / theirs - 1) > AGREE:
            yield (
                f"{figures(grams, 3)} g/L of {catalogue.substance(chemical).name} "
                f"against {figures(theirs, 3)} g/L."
            )
    for lead, one, other in (("Only here", version, by), ("Missing", by, version)):
        parents = {catalogue.substance(c).parent for c in other.added}
        names = [
            catalogue.substance(c).name
            for c in one.added
            if catalogue.substance(c).parent not in parents
        ]
        if names:
            yield f"{lead}: {', '.join(names)}."


def _same_ratio(version: Version, times: Decimal, by: Version) -> str:
    make = version.recipe.makes
    return (
        f"Its amounts stand in the same ratio, each {figures(times, 2)} times as "
        f"large: made up to about {figures(make.number * times, 2)} mL instead of "
        f"{show_amount(make)} it would be as strong as {by.recipe.name}."
    )


def _as_read(
    version: Version,
    reading: Reading,
    by: Version,
    comparison: Comparison,
    catalogue: Catalogue,
) -> str:
    out, into = catalogue.substance(reading.out), catalogue.substance(reading.into)
    told = ""
    if len(comparison.told_in) == 1:
        told = f" ({figures(reading.g_per_L, 3)} g/L)"
    return (
        f"Read with {into.name} for {out.name} it adds up and agrees with "
        f"{by.recipe.name}{told}: the {form_word(into)} was most likely meant."
    )


def _percent(share: Decimal | None) -> str:
    value = abs(share or Decimal(0)) * 100
    if value < Decimal("0.05"):
        return "0.1 % or better"
    return f"{figures(value, 2)} %"
