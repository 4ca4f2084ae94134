"""A site that is served, with a part that keeps what it is sent, and a clock to set."""

import re
from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING

from werkzeug.test import Client, TestResponse

from labelkit.pages.app import create_app
from labelkit.pages.asked import Answer, Asked, ReadPart
from labelkit.pages.guard import Guard
from labelkit.pages.pins import Pin
from labelkit.pages.site import Site
from labelkit.shelf import SqliteShelf
from tests.pages.print_room import ROOM, Cards

if TYPE_CHECKING:
    from labelkit.errors import LabelkitError

ORIGIN = "http://localhost"
PIN = "048 151"


class Seconds:
    """A clock that goes on only when it is told to."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


class Kept:
    """A part with one form; what it is sent is kept, or refused with ``fault``."""

    heads = frozenset({"NOTES"})

    def __init__(self) -> None:
        self.sent: list[Asked] = []
        self.fault: LabelkitError | None = None

    def get(self, asked: Asked) -> Answer:
        if self.fault is not None:
            raise self.fault
        return Answer(200, f"token={asked.token} write={asked.may_write}".encode())

    def post(self, asked: Asked) -> Answer:
        if self.fault is not None:
            raise self.fault
        self.sent.append(asked)
        return Answer(303, location=f"{asked.root}index.html#é")


class Leaflets:
    """A part that is only read."""

    heads = frozenset({"LEAFLET"})

    def get(self, asked: Asked) -> Answer:
        name = asked.path.partition("/")[2]
        return Answer(200, b"%PDF-", mimetype="application/pdf", file_name=name)


class Room:
    """A served site and a browser in front of it."""

    def __init__(self, shelf: SqliteShelf, *, pin: str = "") -> None:
        self.seconds = Seconds()
        self.kept = Kept()
        self.guard = Guard(
            Pin(pin.replace(" ", ""), self.seconds) if pin else None,
            clock=self.seconds,
        )
        self.app = create_app(
            shelf, Cards(), ROOM, parts=self._parts, guard=self.guard, clock=_afternoon
        )
        self.client = Client(self.app)

    def _parts(self, site: Site) -> Iterable[ReadPart]:
        assert site.live
        return (self.kept, Leaflets())

    def token(self, path: str = "/notes") -> str:
        """The token of a page, as this browser gets it."""
        found = re.search(
            r'token"? ?(?:value)?="?([0-9a-f]{64})', self.client.get(path).text
        )
        assert found is not None
        return found[1]

    def send(self, path: str = "/notes", **fields: str) -> TestResponse:
        """A form as a browser sends it from a page of ours."""
        return self.client.post(path, data=fields, headers={"Origin": ORIGIN})

    def try_pin(self, figures: str, **fields: str) -> TestResponse:
        """The form of the page that asks for the PIN."""
        token = self.token("/pin")
        return self.send("/pin", pin=figures, token=token, **fields)


def _afternoon() -> datetime:
    return datetime.fromisoformat("2031-04-02T15:00:00")
