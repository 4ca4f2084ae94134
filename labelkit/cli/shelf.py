"""``labelkit shelf``: what stands on the shelf."""

from collections.abc import Iterable

import click

from labelkit.cli.params import answer, in_a_workplace, json_option
from labelkit.cli.workplace import Workplace
from labelkit.errors import NoAnswer
from labelkit.mixing.ports import Standing

__all__ = ["command"]


@click.command("shelf")
@click.option("--due", is_flag=True, help="Only what is past its date; exits 1 if any.")
@json_option
@in_a_workplace
def command(place: Workplace, due: bool, as_json: bool) -> None:
    """List the bottles that stand on the shelf, newest first."""
    late = place.shelf.due(place.now)
    bottles = late if due else place.shelf.standing()
    if as_json:
        answer({"items": [_as_json(bottle, late) for bottle in bottles]})
    else:
        click.echo(_as_text(bottles, late))
    if due and bottles:
        raise NoAnswer(
            f"{len(bottles)} past their date", remedy="Discard or test them."
        )


def _as_json(bottle: Standing, late: Iterable[Standing]) -> dict[str, object]:
    return {
        "batch": bottle.number,
        "bottle": bottle.bottle,
        "bottles": bottle.bottles,
        "recipe": bottle.recipe,
        "title": bottle.title,
        "mixed_on": f"{bottle.mixed_on:%Y-%m-%d %H:%M}",
        "made_by": bottle.made_by,
        "discard_after": bottle.discard_after,
        "past": bottle in late,
    }


def _as_text(bottles: Iterable[Standing], late: Iterable[Standing]) -> str:
    lines = [_line(bottle, past=bottle in late) for bottle in bottles]
    return "\n".join(lines) if lines else "Nothing."


def _line(bottle: Standing, *, past: bool) -> str:
    number = bottle.number
    if bottle.bottles > 1:
        number = f"{number}/{bottle.bottle}"
    discard = bottle.discard_after or "no date known"
    mark = "  PAST ITS DATE" if past else ""
    return f"{number:<15} {bottle.title:<28} discard after {discard}{mark}"
