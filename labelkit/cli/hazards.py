"""``labelkit hazards``: a classification with its reasoning."""

import textwrap
from collections.abc import Iterator
from typing import Any

import click

from labelkit.cli.params import answer, in_a_workplace, json_option
from labelkit.cli.workplace import Workplace

__all__ = ["command"]

WIDTH = 78
INDENT = "    "


@click.command("hazards")
@click.argument("recipe", metavar="RECIPE|BATCH")
@json_option
@in_a_workplace
def command(place: Workplace, recipe: str, as_json: bool) -> None:
    """Explain a classification: which ingredient, at what share, by which rule."""
    hazard = place.hazard_of(recipe)
    if as_json:
        answer(hazard)
    else:
        click.echo("\n".join(hazard_lines(hazard)))


def hazard_lines(hazard: dict[str, Any]) -> Iterator[str]:
    """The classification and how it was reached, from its JSON."""
    yield f"Rules: {hazard['regime']}"
    yield f"Signal word: {hazard['signal'] or 'none'}"
    yield _listed("Classes", hazard["classes"] or ["none reached by calculation"])
    yield _listed("Pictograms", hazard["pictograms"])
    yield _listed("Statements", [*hazard["label_h"], *hazard["euh"], *hazard["p"]])
    for term in ("names", "not_determined", "no_data", "no_entry"):
        yield _listed(term.replace("_", " ").capitalize(), hazard[term])
    yield "\nHow it was reached"
    for reason in hazard["because"]:
        yield _wrapped(f"{reason['class']} ({reason['rule']}): {reason['text']}")
    for notice in hazard["notices"]:
        yield _wrapped(f"Note: {notice}")
    if hazard["as_added"]:
        yield _listed("\nThe list as added would be", hazard["as_added"]["classes"])


def _listed(term: str, items: list[str]) -> str:
    return _wrapped(f"{term}: {', '.join(items) if items else 'none'}")


def _wrapped(text: str) -> str:
    lead = "\n" if text.startswith("\n") else ""
    return lead + textwrap.fill(text.strip(), WIDTH, subsequent_indent=INDENT)
