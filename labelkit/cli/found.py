"""``labelkit label --unknown`` and ``--waste``: labels of what nobody calculated."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import click
from msgspec import Struct

from labelkit.cli.params import WHEN
from labelkit.cli.pictures import write_pictures
from labelkit.cli.prints import LabelOrder, pages_pdf, write
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, LabelkitError, ShelfError
from labelkit.mixing.found import (
    UNKNOWN,
    Found,
    found_notice,
    freeze_found,
)
from labelkit.mixing.notices import NoticeText
from labelkit.mixing.payload import address_path
from labelkit.mixing.ports import Record

__all__ = ["NoticeOrder", "notice_options", "print_notice"]

_LONGEST_NAME = 40
_NOT_WITH = {
    "--unknown": ("--never",),
    "--waste": ("--where", "--looks", "--says", "--claim-by"),
}


def notice_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give ``label`` the options that `NoticeOrder` holds."""
    options = (
        click.option(
            "--unknown", is_flag=True, help="UNKNOWN, for a bottle that was found."
        ),
        click.option("--waste", metavar="TEXT", help="WASTE, for what is collected."),
        click.option("--where", default="", help="UNKNOWN: where it was found."),
        click.option("--looks", default="", help="UNKNOWN: what it looks like."),
        click.option("--says", default="", help="UNKNOWN: what old writing says."),
        click.option("--claim-by", type=WHEN, help="UNKNOWN: until when to claim it."),
        click.option("--never", default="", help="WASTE: what must not come in."),
        click.option("--by", default="", help="Who found it, or started the waste."),
        click.option("--on", type=WHEN, help="When; UNKNOWN: today if left out."),
    )
    for option in reversed(options):
        command = option(command)
    return command


class NoticeOrder(Struct, frozen=True):
    """What was said of a notice, by options."""

    unknown: bool
    waste: str | None
    where: str
    looks: str
    says: str
    claim_by: datetime | None
    never: str
    by: str
    on: datetime | None

    @property
    def is_given(self) -> bool:
        """Whether a notice is wanted.

        Raises:
            BadInput: an option of one is given without it.
        """
        given = self.unknown or self.waste is not None
        for option, value in self._details().items():
            if value and not given:
                raise BadInput(
                    "says something of an UNKNOWN or WASTE label",
                    place=option,
                    remedy="Add --unknown or --waste TEXT, or leave it out.",
                )
        return given

    def refuse_what_is_left_out(self, batches: tuple[str, ...], **other: Any) -> None:
        """Refuse what a notice does not take.

        Args:
            batches: as typed; a notice takes none.
            **other: values of options, by name, that a notice does not take.

        Raises:
            BadInput: something of it is given.
        """
        if self.unknown and self.waste is not None:
            problem = "--unknown and --waste are two labels"
            raise BadInput(problem, remedy="Print one after the other.")
        chief = "--unknown" if self.unknown else "--waste"
        details = self._details()
        wrong = [option for option in _NOT_WITH[chief] if details[option]]
        wrong += [
            f"--{name.replace('_', '-')}" for name, value in other.items() if value
        ]
        wrong += ["BATCH"] if batches else []
        if wrong:
            raise BadInput(
                f"{chief} takes no {wrong[0]}", remedy=f"Leave {wrong[0]} out."
            )

    def _details(self) -> dict[str, object]:
        return {
            "--where": self.where,
            "--looks": self.looks,
            "--says": self.says,
            "--claim-by": self.claim_by,
            "--never": self.never,
            "--by": self.by,
            "--on": self.on,
        }


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
