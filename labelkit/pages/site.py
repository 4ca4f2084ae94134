"""The site: which pages there are and what each says, whoever shows them.

`publish` writes them to a folder, `app` answers with them; both get them from here, so
that a scanned code opens the same page either way.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from labelkit.errors import LabelkitError, ShelfError
from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import CardBook, Record, Shelf
from labelkit.mixing.said import AID_FULL
from labelkit.pages.addresses import (
    FRONT,
    UNKNOWN,
    is_one_folder,
    printed_folders,
    recipe_folder,
    up,
)
from labelkit.pages.batch_page import batch_values, call_for
from labelkit.pages.lists import BatchLine, batch_line, dates_of
from labelkit.pages.renderer import render

__all__ = ["Page", "Site"]


@dataclass(frozen=True, slots=True)
class Page:
    """A page and where it is: ``B/ABCD-EFGH-K/index.html``."""

    path: str
    body: bytes


@dataclass(frozen=True, slots=True)
class Site:
    """Every page of a bench. Reading the shelf may raise `ShelfError`."""

    shelf: Shelf
    cards: CardBook
    settings: Settings

    def everything(self) -> Iterator[Page]:
        """Every page there is; the shelf is read through once."""
        names = self.recipe_names()
        standing = dates_of(self.shelf.standing())
        lines: list[BatchLine] = []
        for record in self.shelf.all():
            yield from self._batch_pages(record, names)
            lines.append(batch_line(record, standing))
        for name in names.values():
            folder = recipe_folder(name)
            its_own = [line for line in lines if line.recipe == name]
            yield Page(f"{folder}/{FRONT}", self._recipe(name, its_own, up(folder)))
        yield Page(FRONT, self._front(lines, names, ""))
        yield Page(UNKNOWN, self.unknown(self.home()))

    def front(self, root: str) -> bytes:
        """The shelf: batches newest first, and the recipes.

        Args:
            root: the way from the page to the front, such as ``../``.
        """
        standing = dates_of(self.shelf.standing())
        lines = [batch_line(record, standing) for record in self.shelf.all()]
        return self._front(lines, self.recipe_names(), root)

    def batch(self, number: str, root: str) -> bytes:
        """The page of a batch.

        Raises:
            Unknown: it is not on the shelf.
        """
        return self._batch(self.shelf.get(number), self.recipe_names(), root)

    def recipe(self, name: str, root: str) -> bytes | None:
        """The page of a recipe, named in any case; None where there is none."""
        name = self.recipe_names().get(name.upper(), "")
        if not name:
            return None
        standing = dates_of(self.shelf.standing())
        # the search is wider than the question, so that any shelf may answer it
        records = (r for r in self.shelf.search(name) if r.recipe == name)
        return self._recipe(name, [batch_line(r, standing) for r in records], root)

    def unknown(self, root: str | None, problem: str = "") -> bytes:
        """The page for a number or address that leads nowhere.

        Args:
            root: the way to the front; None where it cannot be known.
            problem: what was wrong with what was asked for.
        """
        return self._page("unknown", root, problem=problem)

    def trouble(self, root: str | None, title: str, problem: str) -> bytes:
        """The page for what went wrong on our side or in the question."""
        return self._page("trouble", root, title=title, problem=problem)

    def recipe_names(self) -> dict[str, str]:
        """The recipes that can have a page, by their names in upper case."""
        found: dict[str, str] = {}
        for name in self.cards.names():
            if is_one_folder(name):
                found.setdefault(name.upper(), name)
        return found

    def home(self) -> str | None:
        """The front as a whole address, where the bench says it.

        A host shows one page for whatever is missing, at any depth, where no relative
        link can hold.
        """
        base = self.settings.base_url.rstrip("/")
        return f"{base}/" if base.lower().startswith(("http://", "https://")) else None

    def _batch_pages(self, record: Record, names: dict[str, str]) -> Iterable[Page]:
        for folder in printed_folders(record):
            yield Page(f"{folder}/{FRONT}", self._batch(record, names, up(folder)))

    def _batch(self, record: Record, names: dict[str, str], root: str) -> bytes:
        events = self.shelf.events(record.number)
        template, values = batch_values(record, events, self.settings)
        linked = names.get(record.recipe.upper()) == record.recipe
        folder = recipe_folder(record.recipe) if linked else ""
        return self._page(template, root, **values, recipe_folder=folder)

    def _recipe(self, name: str, lines: list[BatchLine], root: str) -> bytes:
        try:
            card = self.cards.card(name)
        except ShelfError:
            raise
        except LabelkitError:
            return self._page("faulty", root, name=name, lines=lines)
        emergency = self.settings.emergency or card.emergency
        return self._page(
            "recipe",
            root,
            name=name,
            card=card,
            lines=lines,
            call=call_for(emergency),
            aid=card.aid_full,
        )

    def _front(self, lines: list[BatchLine], names: dict[str, str], root: str) -> bytes:
        recipes = [(name, recipe_folder(name)) for name in names.values()]
        return self._page("front", root, lines=lines, recipes=recipes)

    def _page(self, template: str, root: str | None, **values: Any) -> bytes:
        usual = {
            "language": self.settings.language,
            "room": self.settings.room,
            "root": root,
            "call": call_for(self.settings.emergency),
            "aid": AID_FULL,
        }
        return render(template, **{**usual, **values}).encode()
