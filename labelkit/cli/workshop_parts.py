"""The parts of a workshop's pack, each placed when it is its turn."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial

import click

from labelkit.cli.card_prints import CardOrder, card_sides, sides_laid
from labelkit.cli.weigh_out import sheet_pages
from labelkit.cli.workplace import Workplace
from labelkit.errors import LabelkitError
from labelkit.mixing.card_text import card_text
from labelkit.mixing.pack_text import pack_text
from labelkit.mixing.weighing_sheet import weighing_text
from labelkit.mixing.words import CardText
from labelkit.mixing.workshop import TaskPlan, Workshop
from labelkit.printing.boxes import Page
from labelkit.printing.papers import Paper, Placed

__all__ = ["Job", "WorkshopParts"]

Job = Callable[[], Sequence[Paper]]


class WorkshopParts:
    """Cover, cards by layout, then the weighing-out sheets of one person after another.

    Args:
        place: with the bench's settings, jars and layouts.
        workshop: as read.
        plans: its tasks worked out.
        file: its name, for faults.
    """

    def __init__(
        self,
        place: Workplace,
        workshop: Workshop,
        plans: Sequence[TaskPlan],
        file: str,
    ) -> None:
        self._place = place
        self._workshop = workshop
        self._plans = plans
        self._file = file

    def jobs(self) -> Iterator[Job]:
        """One job for each part that begins on a sheet of its own."""
        yield self._cover
        for layout in dict.fromkeys(item.task.card for item in self._plans):
            if layout:
                yield partial(self._cards, layout)
        for name in self._workshop.everyone:
            for number, item in enumerate(self._plans, start=1):
                for _ in range(item.task.audience.count(name)):
                    if item.task.weigh_out:
                        yield partial(self._sheet, number, item, name)

    def _cover(self) -> Sequence[Paper]:
        from labelkit.printing.workshop_cover import place_cover

        settings = self._place.settings
        text = pack_text(self._workshop, self._plans, settings, self._place.jars)
        try:
            return _one_a_page(place_cover(text, settings=settings))
        except LabelkitError as error:
            raise error.at(self._file) from None

    def _cards(self, layout: str) -> Sequence[Paper]:
        """Every card of one layout, the copies of each one after another."""
        sides = []
        for number, item in enumerate(self._plans, start=1):
            if item.task.card != layout:
                continue
            try:
                (card,) = card_sides(self._place, [self._card(item)], layout)
            except LabelkitError as error:
                raise error.at(f"{self._file}, recipe {number}") from None
            sides += [card] * item.task.copies
        papers = sides_laid(self._place, sides, CardOrder(layout, self._workshop.sheet))
        if papers.other:
            sheet = papers.slots.partition(":")[0]
            click.echo(f"{papers.other}laid on {sheet}", err=True)
        return papers.papers

    def _card(self, item: TaskPlan) -> CardText:
        plans = [
            self._place.plan(item.plan.recipe, size) for size in item.task.sizes
        ] or [item.plan]
        return card_text(plans, item.handbook, self._place.settings)

    def _sheet(self, number: int, item: TaskPlan, name: str) -> Sequence[Paper]:
        place = self._place
        text = weighing_text(
            item.plan, item.handbook, place.settings, place.jars, whom=name
        )
        try:
            return _one_a_page(sheet_pages(place, text))
        except LabelkitError as error:
            raise error.at(f"{self._file}, recipe {number}") from None


def _one_a_page(pages: Iterable[Page]) -> tuple[Paper, ...]:
    return tuple(Paper(page.width, page.height, (Placed(page),)) for page in pages)
