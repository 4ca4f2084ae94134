"""``labelkit label``: the labels of a batch, once more."""

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from labelkit.chemistry.numbers import quoted
from labelkit.cli.notice_order import NoticeOrder, notice_options
from labelkit.cli.params import AMOUNT, in_a_workplace
from labelkit.cli.pictures import write_pictures
from labelkit.cli.prints import LabelOrder, label_pdf, placements, words_of, write
from labelkit.cli.progress import LONG, moving_bar
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.file_names import label_file_name
from labelkit.mixing.found import is_found
from labelkit.mixing.ports import Event, Record

if TYPE_CHECKING:
    from labelkit.chemistry.amounts import Amount
    from labelkit.printing.fit import Placement

__all__ = ["command"]

RELABELLED = "relabelled"


@click.command("label")
@click.argument("batches", metavar="BATCH[/N]...", nargs=-1)
@click.option("--layout", default="", help="The name of a layout.")
@click.option("--bottle", type=AMOUNT, help="For a bottle of this volume.")
@click.option("--sheet", default="", help="The name of a sheet; else one a page.")
@click.option("--skip", type=click.IntRange(min=0), default=0, help="Slots used up.")
@click.option("--copies", type=click.IntRange(1, 1000), default=1)
@click.option(
    "--small-pack",
    is_flag=True,
    help="Up to 125 mL: leave off what may lawfully be left off; it is recorded.",
)
@click.option("--codes", is_flag=True, help="With the code of each statement.")
@click.option("--png", is_flag=True, help="A picture of each page beside the PDF.")
@click.option("-o", "out", type=click.Path(dir_okay=False, path_type=Path))
@notice_options
@in_a_workplace
def command(
    place: Workplace,
    batches: tuple[str, ...],
    layout: str,
    bottle: "Amount | None",
    sheet: str,
    skip: int,
    copies: int,
    small_pack: bool,
    codes: bool,
    png: bool,
    out: Path | None,
    **given: Any,
) -> None:
    """Print the labels of BATCH, one a bottle, or of its bottle N alone.

    Without a batch: --unknown for a bottle nobody knows, --waste for used solutions.
    """
    volume_mL = _volume_mL(bottle)
    order = LabelOrder(layout, sheet, skip, copies, volume_mL, small_pack, codes)
    notice = NoticeOrder(**given)
    if notice.is_given:
        notice.refuse_what_is_left_out(
            batches, layout=layout, bottle=bottle, small_pack=small_pack, codes=codes
        )
        from labelkit.cli.found import print_notice

        print_notice(place, notice, order, out, png=png)
        return
    if not batches:
        raise click.UsageError("Missing argument 'BATCH[/N]...'.")
    named = _a_set_in_order([place.bottle(word) for word in batches])
    count = sum(1 if bottle else record.bottles for record, bottle in named)
    with moving_bar(count, label="Labels", least=LONG) as passing:
        labels = [
            label
            for record, bottle in named
            for label in placements(place, record, bottle, order, passing)
        ]
    records = [record for record, _ in named]
    pdf, used = label_pdf(place, labels, order, records)
    name = label_file_name(*named[0], others=len(named) - 1)
    path = out or place.the_bench().prints / name
    write(path, pdf)
    if small_pack:
        _record_what_is_left_off(place, named, order)
    _tell(labels)
    click.echo("\n".join(line for line in (str(path), used) if line))
    for picture in write_pictures(path, pdf) if png else ():
        click.echo(str(picture))


def _a_set_in_order(
    named: list[tuple[Record, int | None]],
) -> list[tuple[Record, int | None]]:
    """A before B where each is a part of a set; else as they were named."""
    parts = ["" if is_found(r) else r.data["recipe"]["part"] for r, _ in named]
    if not all(parts) or len(set(parts)) < len(parts):
        return named
    return [one for _, one in sorted(zip(parts, named, strict=True), key=_part)]


def _part(pair: tuple[str, tuple[Record, int | None]]) -> str:
    return pair[0]


def _record_what_is_left_off(
    place: Workplace, named: list[tuple[Record, int | None]], order: LabelOrder
) -> None:
    """Write down, bottle by bottle, that a label leaves statements off."""
    from labelkit.mixing.small_label import ONLY_WHERE

    for record, bottle in named:
        for words in words_of(place, record, bottle, order):
            note = words.left_off
            event = Event(record.number, words.bottle, RELABELLED, place.now, note=note)
            place.shelf.append(event)
    click.echo(ONLY_WHERE, err=True)


def _tell(labels: "list[Placement]") -> None:
    """What gave way, and what is not a label by itself."""
    steps = (f"{label.layout}: {step}" for label in labels for step in label.steps)
    for step in dict.fromkeys(steps):
        click.echo(step, err=True)
    if not any(label.by_itself for label in labels):
        for layout in dict.fromkeys(label.layout for label in labels):
            click.echo(
                f"A {layout} is not a label by itself: the bottle needs its label too.",
                err=True,
            )


def _volume_mL(bottle: "Amount | None") -> Decimal | None:
    from labelkit.chemistry.amounts import Dimension

    if bottle is not None and bottle.dimension is Dimension.MASS:
        raise BadInput(
            f"{quoted(bottle.written)} is not a volume",
            place="--bottle",
            remedy="Write it in mL or L.",
        )
    return bottle.number if bottle else None
