"""``labelkit layouts``: the label, card and sheet layouts there are."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from labelkit.chemistry.numbers import quoted
from labelkit.cli.params import answer, in_a_workplace, json_option
from labelkit.cli.prints import write
from labelkit.cli.sheet_choice import job_for
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, Unknown
from labelkit.resources import templates_dir

__all__ = ["command"]

_USED_BY = {"label": "label BATCH", "card": "card RECIPE", "sheet": "label BATCH"}


@click.command("layouts")
@click.option(
    "--calibrate", metavar="SHEET", help="Print the calibration page of a sheet."
)
@click.option(
    "--skip", type=click.IntRange(min=0), default=0, help="Labels gone from the sheet."
)
@click.option(
    "--copy", metavar="NAME", help="Copy a layout into layouts/, to make it your own."
)
@click.option("-o", "out", type=click.Path(dir_okay=False, path_type=Path))
@json_option
@in_a_workplace
def command(
    place: Workplace,
    calibrate: str | None,
    skip: int,
    copy: str | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """List the label, card and sheet layouts there are, with their sizes."""
    if calibrate:
        _calibration(place, calibrate, skip, out)
        return
    if copy:
        click.echo(_copied(place, copy))
        return
    items = list(_items(place))
    if as_json:
        answer({"items": items})
        return
    for item in items:
        w, h = item["size_mm"]
        click.echo(f"{item['kind']:<6} {item['name']:<18} {w:g} x {h:g} mm")


def _items(place: Workplace) -> Iterator[dict[str, Any]]:
    from labelkit.printing.card_layout import built_in_cards, card_layout
    from labelkit.printing.layouts import built_in
    from labelkit.printing.sheet_files import read_sheet, sheet_names

    for layout in (*built_in(), *place.layouts):
        size = [layout.width, layout.height]
        yield {"kind": "label", "name": layout.name, "size_mm": size}
    cards = {key: card_layout(key) for key in built_in_cards()}
    for key, card in (cards | place.own_layouts.cards()).items():
        yield {"kind": "card", "name": key, "size_mm": [card.width, card.height]}
    sheets = {name: read_sheet(name) for name in sheet_names()}
    for name, sheet in (sheets | place.own_layouts.sheets()).items():
        yield {"kind": "sheet", "name": name, "size_mm": list(sheet.label)}


def _copied(place: Workplace, name: str) -> str:
    """Copy a built-in layout into the bench under a name of its own.

    Raises:
        Unknown: there is none of that name, or no bench.
        BadInput: such a copy is there already.
    """
    kind, text = _built_in_text(name)
    own = f"my-{name}"
    path = place.the_bench().layouts / f"{own}.toml"
    if path.exists():
        raise BadInput(
            "is there already", place=str(path), remedy="Rename it, or change that one."
        )
    text = re.sub(r'^name( *)= ".*"', rf'name\1= "{own}"', text, count=1, flags=re.M)
    write(path, text.encode())
    option = "--sheet" if kind == "sheet" else "--layout"
    return (
        f"{path}\nChange it, then print with: labelkit {_USED_BY[kind]} {option} {own}"
    )


def _built_in_text(name: str) -> tuple[str, str]:
    """Of which kind a built-in layout is, and its file as text."""
    for kind in _USED_BY:
        for file in (templates_dir() / f"{kind}s").iterdir():
            if file.name == f"{name}.toml":
                return kind, file.read_text("utf-8")
    raise Unknown(
        f"there is no layout {quoted(name)}",
        place="--copy",
        remedy="Name one of those that labelkit layouts lists.",
    )


def _calibration(place: Workplace, name: str, skip: int, out: Path | None) -> None:
    """The page as this bench's printer would now lay labels on the sheet."""
    from labelkit.printing.calibration import calibration_paper
    from labelkit.printing.pdf import draw_papers
    from labelkit.printing.sheet_files import read_sheet

    sheet = place.own_layouts.sheets().get(name) or read_sheet(name)
    pdf = draw_papers(
        [calibration_paper(sheet, job_for(place.settings, skip=skip))],
        title=f"Calibration page, {name}",
        author=place.settings.room,
        subject="Calibration page",
    )
    folder = place.bench.prints if place.bench else Path()
    path = out or folder / f"calibrate-{name}.pdf"
    write(path, pdf)
    click.echo(str(path))
