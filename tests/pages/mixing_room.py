"""A bench of the print room with its live pages, asked with and without a browser."""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cached_property
from pathlib import Path
from threading import Thread
from urllib.parse import quote

from werkzeug.serving import make_server
from werkzeug.test import Client

from labelkit.cli.cards import Cards
from labelkit.cli.desk import Desk
from labelkit.cli.label_maker import BenchLabels
from labelkit.cli.log_book import LogBook
from labelkit.cli.workplace import Workplace
from labelkit.pages.app import create_app
from labelkit.pages.asked import Answer, ReadPart
from labelkit.pages.guard import Guard
from labelkit.pages.label_part import LabelPart
from labelkit.pages.log_part import LogPart
from labelkit.pages.mix_part import MixPart
from labelkit.pages.site import Site

Form = Mapping[str, str | tuple[str, ...]]


class Room:
    """A bench, its desk and its pages, with every part that the program has.

    Args:
        bench: its folder.
        guard: stands before the pages; None for one of this machine alone.
    """

    def __init__(self, bench: Path, guard: Guard | None = None) -> None:
        self.place = Workplace(bench)
        self.desk = Desk(self.place)
        self.app = create_app(
            self.place.shelf,
            Cards(self.place),
            self.place.settings,
            parts=self._parts,
            guard=guard,
        )
        self._browser = Client(self.app)

    def _parts(self, site: Site) -> tuple[ReadPart, ...]:
        return (
            MixPart(site, self.desk),
            LogPart(site, LogBook(self.place)),
            LabelPart(site, BenchLabels(self.place)),
        )

    def get(self, path: str, query: str = "") -> Answer:
        """Ask for a page, by its address from the front."""
        address = f"/{quote(path)}"
        found = self._browser.get(f"{address}?{query}" if query else address)
        return Answer(found.status_code, found.data, location=found.location or "")

    def post(self, path: str, form: Form | None = None) -> Answer:
        """Send a form, with the token that its page has."""
        sent = {"token": self._token} | {
            name: words if isinstance(words, str) else list(words)
            for name, words in (form or {}).items()
        }
        found = self._browser.post(f"/{quote(path)}", data=sent)
        return Answer(found.status_code, found.data, location=found.location or "")

    @cached_property
    def _token(self) -> str:
        page = self._browser.get("/plan/citric-stop").text
        found = re.search(r'name="token" value="(\w+)"', page)
        assert found, page
        return found[1]

    def begun(self, recipe: str = "borate-alkali", **form: str) -> str:
        """The number of a mix that was just begun."""
        done = self.post(f"plan/{recipe}", form)
        assert done.status == 303, done.body.decode()
        return done.location.rpartition("/")[2]


@contextmanager
def open_room(room: Room, port: int = 0) -> Iterator[str]:
    """The room's pages at an address of this machine, as long as it is open."""
    server = make_server("127.0.0.1", port, room.app, threaded=True)
    thread = Thread(target=server.serve_forever)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.port}/"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
