"""``labelkit label --unknown`` and ``--waste``: labels of what nobody calculated."""

from pathlib import Path

import click

from labelkit.cli.notice_order import NoticeOrder
from labelkit.cli.pictures import write_pictures
from labelkit.cli.prints import LabelOrder, pages_pdf, write
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, LabelkitError, ShelfError
from labelkit.mixing.finding import Found, freeze_found
from labelkit.mixing.found import UNKNOWN, found_notice
from labelkit.mixing.notices import NoticeText
from labelkit.mixing.payload import address_path
from labelkit.mixing.ports import Record

__all__ = ["print_notice"]

_LONGEST_NAME = 40


def print_notice(
    place: Workplace,
    notice: NoticeOrder,
    order: LabelOrder,
    out: Path | None,
    *,
    png: bool,
) -> None:
    """Print an UNKNOWN label and keep the bottle on the shelf, or a WASTE label."""
    if notice.unknown:
        record = _found(place, notice)
        words, name = found_notice(record), f"unknown-{record.number}"
        folder = place.the_bench().prints
    else:
        from labelkit.cli.waste import waste_words

        record = None
        words = waste_words(
            place, notice.waste or "", notice.never, on=notice.on, by=notice.by
        )
        name = f"waste-{address_path(words.lead)[:_LONGEST_NAME].lower()}".rstrip("-.")
        folder = place.bench.prints if place.bench else Path()
    pdf, told = _pdf(place, words, order)
    path = out or folder / f"{name}.pdf"
    if record is None:
        write(path, pdf)
    else:
        _keep_and_write(place, record, path, pdf)
    click.echo("\n".join(line for line in (str(path), told) if line))
    for picture in write_pictures(path, pdf) if png else ():
        click.echo(str(picture))


def _found(place: Workplace, notice: NoticeOrder) -> Record:
    try:
        found = Found(
            on=notice.on or place.now,
            where=_tidy(notice.where),
            by=_tidy(notice.by),
            looks=_tidy(notice.looks),
            says=_tidy(notice.says),
            claim_by=notice.claim_by.date() if notice.claim_by else None,
        )
    except BadInput as error:
        fault = error.faults[0]
        raise BadInput(fault.problem, place="--claim-by", remedy=fault.remedy) from None
    from labelkit.cli.order import drawn_number

    return freeze_found(found, drawn_number(), place.settings)


def _tidy(text: str) -> str:
    return " ".join(text.split())


def _pdf(place: Workplace, words: NoticeText, order: LabelOrder) -> tuple[bytes, str]:
    from labelkit.printing.notices import place_notice

    placed = place_notice(words)
    for step in placed.steps:
        click.echo(f"{placed.layout}: {step}", err=True)
    name = words.number if words.kind == "unknown" else words.lead
    about = {
        "title": f"{words.word}: {name}",
        "author": place.settings.room,
        "subject": f"{words.word} label",
    }
    return pages_pdf(place, [placed.page], order, about)


def _keep_and_write(place: Workplace, record: Record, path: Path, pdf: bytes) -> None:
    """Keep the bottle, then write its label: a number on a bottle is on the shelf.

    Raises:
        ShelfError: the label cannot be written; it says how to print it.
    """
    place.shelf.add(record)
    click.echo(f"{record.number}: {UNKNOWN}, kept on the shelf.")
    try:
        write(path, pdf)
    except LabelkitError as error:
        fault = error.faults[0]
        how = f"The bottle is kept. Print it with: labelkit label {record.number}"
        raise ShelfError(fault.problem, place=fault.place, remedy=how) from None
