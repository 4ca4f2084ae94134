"""Versions of a recipe on the terminal and as JSON."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import islice, takewhile
from typing import Any

from labelkit.chemistry.display import figures
from labelkit.cli.words import WIDTH, filled
from labelkit.mixing.answers import number
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.comparing import Comparison, Version
from labelkit.mixing.comparing_text import verdicts

__all__ = ["comparison_json", "comparison_lines"]

NAMES = 34
ABREAST = 4
NONE = "-"


def comparison_json(comparison: Comparison, catalogue: Catalogue) -> dict[str, Any]:
    """A comparison as JSON."""
    said = verdicts(comparison, catalogue)
    by = comparison.versions[comparison.measure].recipe.name
    return {
        "items": [
            _version_json(version, words)
            for version, words in zip(comparison.versions, said, strict=True)
        ],
        "measured_by": by,
        "told_in": list(comparison.told_in),
    }


def comparison_lines(comparison: Comparison, catalogue: Catalogue) -> Iterator[str]:
    """The versions in columns of grams per litre, then what is to be said of each."""
    for group in _abreast(comparison.versions):
        yield from _table(group, comparison, catalogue)
        yield ""
    for words in verdicts(comparison, catalogue):
        yield filled(words)
        yield ""
    yield filled(
        "Agree means within 3 %. A published version may hold an error of the press: "
        "what adds up by its equation is not yet right for its purpose."
    )


def _abreast(versions: Sequence[Version]) -> Iterator[Sequence[Version]]:
    rest = iter(versions)
    while group := list(islice(rest, ABREAST)):
        yield group


def _table(
    group: Sequence[Version], comparison: Comparison, catalogue: Catalogue
) -> Iterator[str]:
    shared = _shared_start([v.recipe.name for v in comparison.versions])
    width = (WIDTH - NAMES) // len(group) - 1
    heads = [v.recipe.name.removeprefix(shared) for v in group]
    yield _row(f"{shared}… g/L" if shared else "g/L", [_cut(h, width) for h in heads])
    yield "=" * WIDTH
    for chemical in dict.fromkeys(c for v in group for c in v.added):
        name = catalogue.substance(chemical).name
        yield _row(name, [_told(v.added.get(chemical)) for v in group])
    if any(v.plan.solution.runs for v in group):
        yield "after the reaction"
        for form in comparison.told_in:
            name = catalogue.substance(form).name
            yield _row(f"  {name}", [_told(v.carried[form]) for v in group])
        over = dict.fromkeys(left.chemical for v in group for left in v.leftovers)
        for chemical in over:
            name = f"  left: {catalogue.substance(chemical).name}"
            yield _row(name, [_told(_left(v, chemical)) for v in group])


def _left(version: Version, chemical: str) -> Decimal | None:
    return next(
        (each.g_per_L for each in version.leftovers if each.chemical == chemical), None
    )


def _told(value: Decimal | None) -> str:
    return figures(value, 3) if value is not None and value > 0 else NONE


def _row(name: str, cells: Sequence[str]) -> str:
    width = (WIDTH - NAMES) // len(cells)
    columns = "".join(f"{cell:>{width}}" for cell in cells)
    return f"{_cut(name, NAMES - 1):<{NAMES}}{columns}".rstrip()


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 1]}…"


def _shared_start(names: Sequence[str]) -> str:
    """The words, joined by hyphens, that all names begin with; none of a whole name."""
    words = [name.split("-")[:-1] for name in names]
    shared = takewhile(lambda same: len(set(same)) == 1, zip(*words, strict=False))
    return "".join(f"{same[0]}-" for same in shared)


def _version_json(version: Version, words: str) -> dict[str, Any]:
    reading = version.reading
    return {
        "recipe": version.recipe.name,
        "title": version.recipe.title,
        "makes_mL": number(version.plan.job.volume_mL),
        "added": _grams(version.added),
        "carried": _grams(version.carried),
        "leftover": [
            {
                "chemical": left.chemical,
                "g_per_L": number(left.g_per_L),
                "percent": number(left.percent),
                "more_of": left.more_of,
                "more_g_per_L": number(left.more_g_per_L),
            }
            for left in version.leftovers
        ],
        "equations": [str(run.equation) for run in version.plan.solution.runs],
        "adds_up": version.adds_up,
        "agrees": version.agrees,
        "off_percent": number(None if version.off is None else version.off * 100),
        "times": number(version.thinner),
        "meant": None
        if reading is None
        else {
            "written": reading.out,
            "meant": reading.into,
            "g_per_L": number(reading.g_per_L),
        },
        "verdict": words,
    }


def _grams(by_chemical: dict[str, Decimal]) -> list[dict[str, Any]]:
    return [
        {"chemical": chemical, "g_per_L": number(grams)}
        for chemical, grams in by_chemical.items()
    ]
