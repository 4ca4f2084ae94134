"""``labelkit workshop``: everything a workshop needs on paper, in one PDF."""

from collections.abc import Sequence
from pathlib import Path

import click

from labelkit.cli.params import in_a_workplace
from labelkit.cli.pictures import write_pictures
from labelkit.cli.prints import write
from labelkit.cli.progress import watched
from labelkit.cli.workplace import Workplace
from labelkit.cli.workshop_names import WorkshopNames
from labelkit.cli.workshop_parts import WorkshopParts
from labelkit.mixing.workshop import Workshop
from labelkit.printing.papers import Paper

__all__ = ["command", "place_workshop"]


@click.command("workshop")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--png", is_flag=True, help="A picture of each page beside the PDF.")
@click.option("-o", "out", type=click.Path(dir_okay=False, path_type=Path))
@in_a_workplace
def command(place: Workplace, file: Path, png: bool, out: Path | None) -> None:
    """Print the pack of the workshop in FILE: cover, cards, weighing-out sheets."""
    workshop, papers = place_workshop(place, file)
    pdf = _drawn(place, workshop, papers)
    folder = place.bench.prints if place.bench else Path()
    path = out or folder / f"{file.stem}.pdf"
    write(path, pdf)
    click.echo(f"{path}\n{_told(workshop, len(papers))}")
    for picture in write_pictures(path, pdf) if png else ():
        click.echo(str(picture))


def place_workshop(place: Workplace, file: Path) -> tuple[Workshop, list[Paper]]:
    """The workshop in a file, and every page of its pack.

    Raises:
        BadInput: the file has faults, or names what is not there; all are told.
        Misfit: the words of a card or sheet do not fit.
    """
    from labelkit.files.workshop import read_workshop

    names = WorkshopNames(place)
    workshop = read_workshop(file, names)
    parts = WorkshopParts(place, workshop, names.plans, file.name)
    return workshop, _papers(workshop, parts)


def _papers(workshop: Workshop, parts: WorkshopParts) -> list[Paper]:
    """Every page of the pack, in order; each part begins on a front."""
    done = [tuple(job()) for job in watched(list(parts.jobs()))]
    papers: list[Paper] = []
    for part in done:
        papers += part
        if workshop.both_sides and len(papers) % 2:
            last = papers[-1]
            papers.append(Paper(last.width, last.height, ()))
    return papers


def _drawn(place: Workplace, workshop: Workshop, papers: Sequence[Paper]) -> bytes:
    from labelkit.printing.pdf import draw_papers

    return draw_papers(
        papers,
        title=f"{workshop.title}, workshop",
        author=place.settings.room,
        subject="Workshop pack",
        mono=place.settings.mono,
        tagged=not workshop.sheet,
    )


def _told(workshop: Workshop, count: int) -> str:
    how = "on both sides, turned over the long edge" if workshop.both_sides else ""
    return f"{count} pages; print {how or 'on fronts only'}"
