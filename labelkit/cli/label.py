"""``labelkit label``: the labels of a batch, once more."""

from pathlib import Path

import click

from labelkit.chemistry.amounts import Amount
from labelkit.cli.params import AMOUNT, in_a_workplace
from labelkit.cli.prints import LabelOrder, label_pdf, placements, write
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.numbers import read_bottle
from labelkit.mixing.ports import Record
from labelkit.printing.fit import Placement

__all__ = ["command"]


@click.command("label")
@click.argument("batches", metavar="BATCH[/N]...", nargs=-1, required=True)
@click.option("--layout", default="", help="The name of a layout.")
@click.option("--bottle", type=AMOUNT, help="For a bottle of this volume.")
@click.option("--sheet", default="", help="The name of a sheet; else one a page.")
@click.option("--skip", type=click.IntRange(min=0), default=0, help="Slots used up.")
@click.option("--copies", type=click.IntRange(1, 1000), default=1)
@click.option("--png", is_flag=True, help="A picture of each page beside the PDF.")
@click.option("-o", "out", type=click.Path(dir_okay=False, path_type=Path))
@in_a_workplace
def command(
    place: Workplace,
    batches: tuple[str, ...],
    layout: str,
    bottle: Amount | None,
    sheet: str,
    skip: int,
    copies: int,
    png: bool,
    out: Path | None,
) -> None:
    """Print the labels of BATCH, one a bottle, or of its bottle N alone."""
    volume_mL = bottle.number if bottle else None
    order = LabelOrder(layout, sheet, skip, copies, volume_mL)
    labels: list[Placement] = []
    records: list[Record] = []
    for named in batches:
        record, bottles = _named(place, named)
        records.append(record)
        labels += placements(place, record, bottles, order)
    title = ", ".join(f"{record.title} {record.number}" for record in records)
    pdf, used = label_pdf(place, labels, order, title)
    path = out or place.the_bench().prints / _file_name(records)
    write(path, pdf)
    for label in labels:
        for step in label.steps:
            click.echo(f"{label.layout}: {step}", err=True)
    click.echo("\n".join(line for line in (str(path), used) if line))
    if png:
        _pictures(path, pdf)


def _named(place: Workplace, named: str) -> tuple[Record, tuple[int, ...]]:
    number, bottle = read_bottle(named)
    record = place.shelf.get(number)
    if bottle is None:
        return record, ()
    if bottle > record.bottles:
        raise BadInput(
            f"batch {number} has {record.bottles} bottles, not {bottle}",
            place="BATCH/N",
            remedy=f"Name a bottle from 1 to {record.bottles}.",
        )
    return record, (bottle,)


def _file_name(records: list[Record]) -> str:
    first = records[0]
    more = f"-and-{len(records) - 1}-more" if len(records) > 1 else ""
    return f"{first.recipe}-{first.number}{more}.pdf"


def _pictures(path: Path, pdf: bytes) -> None:
    from labelkit.printing.previews import previews

    for n, png in enumerate(previews(pdf), start=1):
        picture = path.with_name(f"{path.stem}-{n}.png")
        write(picture, png)
        click.echo(str(picture))
