"""``labelkit label``: the labels of a batch, once more."""

from decimal import Decimal
from pathlib import Path

import click

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.numbers import quoted
from labelkit.cli.params import AMOUNT, in_a_workplace
from labelkit.cli.prints import LabelOrder, label_pdf, placements, write
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.ports import Record

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
    order = LabelOrder(layout, sheet, skip, copies, _volume_mL(bottle))
    named = [place.bottle(word) for word in batches]
    labels = [
        label
        for record, bottle in named
        for label in placements(place, record, bottle, order)
    ]
    records = [record for record, _ in named]
    pdf, used = label_pdf(place, labels, order, records)
    path = out or place.the_bench().prints / _file_name(named)
    write(path, pdf)
    for label in labels:
        for step in label.steps:
            click.echo(f"{label.layout}: {step}", err=True)
    click.echo("\n".join(line for line in (str(path), used) if line))
    if png:
        _pictures(path, pdf)


def _volume_mL(bottle: Amount | None) -> Decimal | None:
    if bottle is not None and bottle.dimension is Dimension.MASS:
        raise BadInput(
            f"{quoted(bottle.written)} is not a volume",
            place="--bottle",
            remedy="Write it in mL or L.",
        )
    return bottle.number if bottle else None


def _file_name(named: list[tuple[Record, int | None]]) -> str:
    first, bottle = named[0]
    which = f"-bottle-{bottle}" if bottle else ""
    more = f"-and-{len(named) - 1}-more" if len(named) > 1 else ""
    return f"{first.recipe}-{first.number}{which}{more}.pdf"


def _pictures(path: Path, pdf: bytes) -> None:
    from labelkit.printing.previews import previews

    for n, png in enumerate(previews(pdf), start=1):
        picture = path.with_name(f"{path.stem}-{n}.png")
        write(picture, png)
        click.echo(str(picture))
