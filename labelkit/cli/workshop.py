"""``labelkit workshop``: everything a workshop needs on paper, in one PDF."""

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from labelkit.cli.params import in_a_workplace
from labelkit.cli.pictures import write_pictures
from labelkit.cli.prints import write
from labelkit.cli.workplace import Workplace
from labelkit.cli.workshop_parts import Job, WorkshopParts
from labelkit.errors import BadInput, Fault
from labelkit.mixing.workshop import TaskPlan, Workshop
from labelkit.printing.papers import Paper

__all__ = ["command"]


@click.command("workshop")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--png", is_flag=True, help="A picture of each page beside the PDF.")
@click.option("-o", "out", type=click.Path(dir_okay=False, path_type=Path))
@in_a_workplace
def command(place: Workplace, file: Path, png: bool, out: Path | None) -> None:
    """Print the pack of the workshop in FILE: cover, cards, weighing-out sheets."""
    from labelkit.files.workshop import read_workshop

    workshop = read_workshop(file)
    plans = _plans(place, workshop, file.name)
    papers = _papers(workshop, WorkshopParts(place, workshop, plans, file.name))
    pdf = _drawn(place, workshop, papers)
    folder = place.bench.prints if place.bench else Path()
    path = out or folder / f"{file.stem}.pdf"
    write(path, pdf)
    click.echo(f"{path}\n{_told(workshop, len(papers))}")
    for picture in write_pictures(path, pdf) if png else ():
        click.echo(str(picture))


def _plans(place: Workplace, workshop: Workshop, file: str) -> list[TaskPlan]:
    """Every task worked out.

    Raises:
        BadInput: recipes that are not there or cannot be made so; all are told.
    """
    found: list[TaskPlan] = []
    faults: list[Fault] = []
    for number, task in enumerate(workshop.tasks, start=1):
        try:
            recipe = place.recipe(task.recipe)
            plan = place.plan(recipe, task.make)
        except BadInput as error:
            faults += error.at(f"{file}, recipe {number}").faults
            continue
        found.append(TaskPlan(task, plan, place.handbook(recipe)))
    if faults:
        raise BadInput.of(faults)
    return found


def _papers(workshop: Workshop, parts: WorkshopParts) -> list[Paper]:
    """Every page of the pack, in order; each part begins on a front."""
    done = [tuple(job()) for job in _watched(list(parts.jobs()))]
    papers: list[Paper] = []
    for part in done:
        papers += part
        if workshop.both_sides and len(papers) % 2:
            last = papers[-1]
            papers.append(Paper(last.width, last.height, ()))
    return papers


def _watched(jobs: Sequence[Job]) -> Iterator[Job]:
    """The jobs one after another, with a bar where somebody watches."""
    if not sys.stderr.isatty():
        yield from jobs
        return
    with click.progressbar(jobs, label="Placing", file=sys.stderr) as bar:
        yield from bar


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
