"""``labelkit chemicals``: finding a chemical, and all that is known of it."""

from collections.abc import Iterator
from typing import Any

import click

from labelkit.chemistry.display import plain
from labelkit.chemistry.reactions import pretty
from labelkit.chemistry.substances import Figure, Substance
from labelkit.cli.params import answer, in_a_workplace, json_option
from labelkit.cli.words import WIDE_TERM, WIDTH, fact
from labelkit.cli.workplace import Workplace
from labelkit.errors import NoAnswer
from labelkit.files.entry_table import entry_as_table
from labelkit.hazards.data import HazardData
from labelkit.mixing.catalogue import Entry

__all__ = ["command"]


@click.command("chemicals")
@click.argument("words", nargs=-1)
@json_option
@in_a_workplace
def command(place: Workplace, words: tuple[str, ...], as_json: bool) -> None:
    """Find chemicals by name, CAS number or formula; one hit shows the whole entry."""
    catalogue = place.catalogue
    found = catalogue.search(" ".join(words)) if words else catalogue.substances
    if as_json:
        items = [entry_as_table(catalogue[s.id]) for s in found]
        answer({"items": _plain_json(items)})
    elif len(found) == 1:
        click.echo("\n".join(_entry(catalogue[found[0].id])))
    else:
        for substance in found:
            click.echo(_line(substance))
    if not found:
        raise NoAnswer(
            f"no chemical fits '{' '.join(words)}'", remedy="Try a shorter word."
        )


def _line(substance: Substance) -> str:
    formula = pretty(substance.formula or "")
    return f"{substance.id:<34} {formula:<18} {', '.join(substance.names)}"


def _entry(entry: Entry) -> Iterator[str]:
    substance = entry.substance
    yield f"{substance.name}   ({substance.id})"
    yield "=" * WIDTH
    yield _fact("Also", ", ".join(substance.names[1:]))
    yield _fact(
        "Formula", pretty(substance.formula or substance.formula_missing_because)
    )
    if substance.molar_mass is not None:
        yield _fact("Molar mass", f"{plain(substance.molar_mass)} g/mol")
    yield _fact("CAS number", substance.cas)
    yield from _figures(substance)
    for solubility in substance.solubility:
        points = "; ".join(f"{plain(v)} at {plain(t)} °C" for t, v in solubility.points)
        told = f"{points} ({solubility.unit}, {solubility.basis})"
        yield _fact(
            "Dissolves", f"{told}. {solubility.source} [{solubility.confidence}]"
        )
    yield _fact("Beware of", ", ".join(sorted(substance.flags)))
    for remark in substance.remarks:
        yield _fact("Remark", remark)
    yield from _hazard(entry.hazard)


def _figures(substance: Substance) -> Iterator[str]:
    if substance.percent_by_mass is not None:
        yield _fact("Strength", f"{plain(substance.percent_by_mass)} % w/w")
    for term, figure, unit in (
        ("Density", substance.density, "g/mL"),
        ("Heat", substance.heat_of_solution, "kJ/mol on dissolving"),
        *(("pKa", pka, "") for pka in substance.pka),
    ):
        if figure is not None:
            yield _fact(term, _figure(figure, unit))


def _figure(figure: Figure, unit: str) -> str:
    told = f"{plain(figure.value)} {unit}".strip()
    return f"{told}. {figure.source} [{figure.confidence}]"


def _hazard(hazard: HazardData) -> Iterator[str]:
    if hazard.classes is None:
        yield _fact("Hazards", "no data. This does not mean safe.")
    else:
        told = ", ".join(hazard.classes) or "known to carry no class"
        yield _fact("Hazards", f"{told} ({hazard.basis}) [{hazard.confidence}]")
    for limit in hazard.limits:
        below = f" to below {plain(limit.below)}" if limit.below is not None else ""
        yield _fact(
            "Own limit", f"{limit.hazard_class}: {plain(limit.minimum)}{below} % w/w"
        )
    yield _fact("EUH", ", ".join(hazard.euh))
    yield _fact("Hazard source", f"{hazard.source} {hazard.remark}".strip())


def _fact(term: str, text: str) -> str:
    return fact(term, text or "-", WIDE_TERM)


def _plain_json(items: Any) -> Any:
    from labelkit.mixing.plain import to_plain

    return to_plain(items)
