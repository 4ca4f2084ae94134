"""The site: which pages there are and what each says, whoever shows them.

`publish` writes them to a folder, `app` answers with them; both get them from here, so
that a scanned code opens the same page either way. Live, a page can also be asked
something, and knows the day.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct, field

from labelkit.errors import LabelkitError, ShelfError
from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import CardBook, Event, Record
from labelkit.mixing.said import AID_FULL, read_out_here
from labelkit.mixing.words import CardText
from labelkit.pages.addresses import (
    DISCARDED,
    FRONT,
    RECIPES,
    UNKNOWN,
    is_one_folder,
    printed_folders,
    recipe_folder,
    up,
)
from labelkit.pages.batch_page import batch_values
from labelkit.pages.frozen_page import FrozenPage, call_for, frozen_page
from labelkit.pages.held import Held
from labelkit.pages.lists import BatchLine, batch_line, dates_of
from labelkit.pages.renderer import render
from labelkit.pages.shelf_list import A_PAGE, shelf_list
from labelkit.pages.unread import PageShelf

__all__ = ["Page", "Site", "room_clock"]

Query = Mapping[str, str]
_NOTHING_ASKED: Query = {}
_MOST_HELD = 1000  # frozen pages, each of about 40 kB


def _none_held() -> Held[tuple[bytes, str], FrozenPage]:
    return Held(_MOST_HELD)


def room_clock() -> datetime:
    """This moment in the room's own time."""
    return datetime.now()  # noqa: DTZ005 - bottles carry the room's own time


class Page(Struct, frozen=True):
    """A page and where it is: ``B/ABCD-EFGH-K/index.html``."""

    path: str
    body: bytes


class Site(Struct, frozen=True):
    """Every page of a bench. Reading the shelf may raise `ShelfError`.

    Attributes:
        live: whether the pages are answered by a server, which can work things out
            and has the parts with forms.
        clock: this moment in the room's own time; asked only where live.
        held: frozen halves of pages, by what was frozen and the number to call.
    """

    shelf: PageShelf
    cards: CardBook
    settings: Settings
    live: bool = False
    clock: Callable[[], datetime] = room_clock
    held: Held[tuple[bytes, str], FrozenPage] = field(default_factory=_none_held)

    def everything(self) -> Iterator[Page]:
        """Every page there is; the shelf is read through once."""
        names = self.recipe_names()
        dates = dates_of(self.shelf.standing())
        lines: list[BatchLine] = []
        for record in self.shelf.all():
            linked = names.get(record.recipe.upper()) == record.recipe
            yield from self._batch_pages(record, linked=linked)
            lines.append(batch_line(record, dates.get(record.number, ())))
        for name in names.values():
            folder = recipe_folder(name)
            its_own = [line for line in lines if line.recipe == name]
            yield Page(f"{folder}/{FRONT}", self._recipe(name, its_own, up(folder)))
        gone = [line for line in lines if not line.bottles]
        if gone:
            yield Page(DISCARDED, self._page("discarded", "../", lines=gone))
        yield Page(RECIPES, self.recipes("../"))
        standing = [line for line in lines if line.bottles]
        yield Page(FRONT, self._front(standing, len(gone), ""))
        yield Page(UNKNOWN, self.unknown(self.home()))

    def front(self, root: str, query: Query = _NOTHING_ASKED) -> bytes:
        """The shelf: batches newest first, and the recipes.

        Args:
            root: the way from the page to the front, such as ``../``.
            query: what is searched, which list and which page of it; where live.
        """
        if self.live:
            found = shelf_list(self.shelf, query, root, self.clock())
            return self._page("shelf", root, found=found)
        dates = dates_of(self.shelf.standing())
        records = self.shelf.all()
        lines = [batch_line(r, dates.get(r.number, ())) for r in records]
        standing = [line for line in lines if line.bottles]
        gone = len(lines) - len(standing)
        return self._front(standing, gone, root)

    def recipes(self, root: str) -> bytes:
        """The recipes, by name."""
        return self._page("recipes", root, recipes=self._recipe_links())

    def batch(self, number: str, root: str, query: Query = _NOTHING_ASKED) -> bytes:
        """The page of a batch.

        Args:
            number: as printed.
            root: the way to the front.
            query: ``g`` or ``mL``, a dose that is asked for; where live.

        Raises:
            Unknown: it is not on the shelf.
        """
        kept = self.shelf.unread(number)
        emergency = self.settings.emergency
        frozen = self.held.get(
            (kept.digest, emergency),
            lambda: frozen_page(kept.whole(), emergency, live=self.live),
        )
        record = kept.whole() if kept.events else kept.record
        linked = self._has_a_page(record.recipe)
        return self._batch(record, frozen, kept.events, root, query, linked=linked)

    def recipe(
        self, name: str, root: str, query: Query = _NOTHING_ASKED
    ) -> bytes | None:
        """The page of a recipe, named in any case; None where there is none.

        Args:
            name: of the recipe.
            root: the way to the front.
            query: ``make``, the quantity it is worked out for; where live.
        """
        name = self.recipe_names().get(name.upper(), "")
        if not name:
            return None
        now = self.clock()
        found = self.shelf.listed("all", now, recipe=name, limit=A_PAGE)
        day = now if self.live else None
        lines = [batch_line(batch.record, batch.dates, day) for batch in found.batches]
        make = query.get("make", "") if self.live else ""
        more = self.live and (found.or_more or found.count > len(lines))
        return self._recipe(name, lines, root, make, more=more)

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

    def _has_a_page(self, recipe: str) -> bool:
        """Whether it is there now; of names that differ in case only one has a page."""
        upper = recipe.upper()
        alike = [name for name in self.cards.names() if name.upper() == upper]
        return next(filter(is_one_folder, alike), None) == recipe

    def _batch_pages(self, record: Record, *, linked: bool) -> Iterator[Page]:
        frozen = frozen_page(record, self.settings.emergency, live=self.live)
        events = self.shelf.events(record.number)
        for folder in printed_folders(record):
            body = self._batch(record, frozen, events, up(folder), linked=linked)
            yield Page(f"{folder}/{FRONT}", body)

    def _batch(
        self,
        record: Record,
        frozen: FrozenPage,
        events: Sequence[Event],
        root: str,
        query: Query = _NOTHING_ASKED,
        *,
        linked: bool,
    ) -> bytes:
        values = batch_values(
            record,
            frozen,
            events,
            query=query if self.live else _NOTHING_ASKED,
            now=self.clock() if self.live else None,
        )
        folder = recipe_folder(record.recipe) if linked else ""
        return self._page(frozen.template, root, **values, recipe_folder=folder)

    def _recipe(
        self,
        name: str,
        lines: list[BatchLine],
        root: str,
        make: str = "",
        *,
        more: bool = False,
    ) -> bytes:
        try:
            card, fault = self._card(name, make)
        except ShelfError:
            raise
        except LabelkitError:
            return self._page("faulty", root, name=name, lines=lines)
        return self._page(
            "recipe",
            root,
            name=name,
            card=card,
            first_words=read_out_here(card.first_words, "page"),
            make=make,
            fault=fault,
            lines=lines,
            more=more,
            call=call_for(self.settings.emergency or card.emergency),
            aid=card.aid_full,
        )

    def _card(self, name: str, make: str) -> tuple[CardText, str]:
        """The card for a quantity; the usual one and what is wrong where it cannot."""
        if not make.strip():
            return self.cards.card(name), ""
        try:
            return self.cards.card(name, make), ""
        except ShelfError:
            raise
        except LabelkitError as error:
            fault = error.faults[0]
            return self.cards.card(name), f"{fault.problem}. {fault.remedy}".strip()

    def _front(self, standing: list[BatchLine], discarded: int, root: str) -> bytes:
        links = self._recipe_links()
        return self._page(
            "front", root, lines=standing, discarded=discarded, recipes=links
        )

    def _recipe_links(self) -> list[tuple[str, str]]:
        return [(name, recipe_folder(name)) for name in self.recipe_names().values()]

    def _page(self, template: str, root: str | None, **values: Any) -> bytes:
        usual = {
            "language": self.settings.language,
            "room": self.settings.room,
            "root": root,
            "live": self.live,
            "call": call_for(self.settings.emergency),
            "aid": AID_FULL,
        }
        return render(template, **{**usual, **values}).encode()
