"""The pages of the guard: the PIN, and what was stopped on its way and is sent again.

What somebody typed is never lost on the way: it goes along on these pages, and is sent
again from there.
"""

from collections.abc import Iterable, Sequence
from typing import Any
from urllib.parse import quote, urlencode

from msgspec import Struct
from msgspec.structs import replace

from labelkit.pages.asked import Answer, Asked
from labelkit.pages.form_page import form_page
from labelkit.pages.guard import LASTS_S
from labelkit.pages.pins import Tried
from labelkit.pages.sent import Refused
from labelkit.pages.site import Site

__all__ = ["PIN", "Carried", "GuardPages", "from_pin_page", "on_its_way", "way_to_pin"]

PIN = "pin"
_FRONT = "index.html"
_KEPT = "sent."
_TOKEN = "token"  # noqa: S105 - the name of a field
_LONGEST_WAY = 300
_MINUTE_S, _HOUR_S = 60, 3600


class Carried(Struct, frozen=True):
    """What is on its way.

    Attributes:
        to: the path it goes to, from the front.
        fields: what was sent there; () where a page was only looked for.
    """

    to: str = ""
    fields: Sequence[tuple[str, str]] = ()


def on_its_way(asked: Asked) -> Carried:
    """What was sent, without its token."""
    fields = [
        (name, value)
        for name, values in asked.form.items()
        for value in values
        if name != _TOKEN
    ]
    return Carried(asked.path, fields)


def from_pin_page(asked: Asked) -> Carried:
    """What went along on the page of the PIN."""
    fields = [
        (name.removeprefix(_KEPT), value)
        for name, values in asked.form.items()
        for value in values
        if name.startswith(_KEPT)
    ]
    return Carried(asked.sent("to") or asked.query.get("to", ""), fields)


def way_to_pin(asked: Asked) -> str:
    """Where the PIN is asked for before a page is shown, relative to that page."""
    return f"{asked.root}{PIN}?{urlencode({'to': asked.path})}"


class GuardPages:
    """The pages, with the ways they may lead to.

    Args:
        site: whose pages they are.
        heads: the first words of the paths they may lead to, in upper case.
    """

    def __init__(self, site: Site, heads: Iterable[str]) -> None:
        self._site = site
        self._heads = frozenset(heads)

    def pin(self, asked: Asked, along: Carried, status: int = 200) -> Answer:
        """The page that asks for the PIN."""
        return self._pin(asked, along, status, "")

    def wrong(self, asked: Asked, along: Carried, tried: Tried | None) -> Answer:
        """The same, after a wrong try, or after none."""
        if tried is None:
            fault = "Type the six figures."
            return self._pin(asked, along, 422, fault)
        if tried.wait_s:
            fault = (
                f"There were too many wrong tries. Wait {_told_s(tried.wait_s)}; until "
                "then no PIN is looked at, not even the right one."
            )
            return self._pin(asked, along, 429, fault, tried.wait_s)
        fault = "That is not the PIN. It changes each time labelkit serve is started."
        return self._pin(asked, along, 403, fault)

    def let_in(self, asked: Asked, along: Carried) -> Answer:
        """On to where one came from; what was sent there is sent again by hand."""
        to = self._own(along.to)
        if not along.fields or not to:
            return Answer(303, location=f"{asked.root}{quote(to or _FRONT)}")
        why = "The PIN is right. What you had sent is still here, and not written yet."
        return self.again(asked, along, 200, "Go on", why)

    def again(
        self, asked: Asked, along: Carried, status: int, title: str, problem: str
    ) -> Answer:
        """The page that sends once more what was stopped on its way."""
        return form_page(
            self._site,
            "again",
            asked,
            status,
            title=title,
            problem=problem,
            to=self._own(along.to),
            fields=along.fields,
        )

    def refused(self, asked: Asked, why: Refused) -> Answer:
        """The page that says why something is not taken."""
        said: dict[str, Any] = {"title": why.title, "problem": why.faults[0].problem}
        # an odd address does not tell how deep it is
        said |= {"root": None} if why.status in (400, 421) else {}
        return form_page(self._site, "refused", asked, why.status, **said)

    def _pin(
        self, asked: Asked, along: Carried, status: int, fault: str, wait_s: int = 0
    ) -> Answer:
        found = form_page(
            self._site,
            "pin",
            asked,
            status,
            to=self._own(along.to),
            fields=[(f"{_KEPT}{name}", value) for name, value in along.fields],
            fault_text=fault,
            hours=LASTS_S // _HOUR_S,
        )
        return replace(found, retry_after_s=wait_s)

    def _own(self, path: str) -> str:
        """The path where it is one of ours, else "".

        It is relative and begins with a word of ours, so that it cannot lead away.
        """
        head, *rest = path.split("/")
        ours = head.upper() in self._heads and path.isprintable()
        straight = all(rest[:-1]) and not {".", ".."} & set(rest)
        short = len(path) <= _LONGEST_WAY
        return path if ours and straight and short else ""


def _told_s(seconds: int) -> str:
    if seconds <= _MINUTE_S:
        return f"{seconds} seconds"
    return f"{-(-seconds // _MINUTE_S)} minutes"
