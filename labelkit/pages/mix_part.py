"""From phone to bottle in four screens: plan, weigh, finish, done."""

from collections.abc import Callable
from typing import Any

from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput, LabelkitError, ShelfError, Unknown
from labelkit.mixing.desk import AlreadySaved, Desk
from labelkit.mixing.numbers import read_number
from labelkit.pages.asked import Answer, Asked
from labelkit.pages.form_page import form_page
from labelkit.pages.mix_done import done_values
from labelkit.pages.mix_forms import (
    finish_from,
    one_each,
    step_named,
    typed_from,
    wish_from,
)
from labelkit.pages.plan_page import plan_values
from labelkit.pages.site import Site

__all__ = ["MixPart"]

Page = Callable[[Asked, str], Answer]


class MixPart:
    """The part of the site that mixes."""

    def __init__(self, site: Site, desk: Desk) -> None:
        self._site = site
        self._desk = desk
        self._gets: dict[str, Page] = {
            "PLAN": self._plan,
            "MIXES": self._mixes,
            "WEIGH": self._weigh,
            "FINISH": self._finish,
            "DONE": self._done,
        }
        self._posts: dict[str, Page] = {
            "PLAN": self._begin,
            "MIXES": self._give_up,
            "WEIGH": self._keep,
            "FINISH": self._save,
        }

    @property
    def heads(self) -> frozenset[str]:
        """The first words of its paths, in upper case."""
        return frozenset(self._gets)

    def get(self, asked: Asked) -> Answer:
        """A page, read only.

        Raises:
            LabelkitError: there is none, or it cannot be shown.
        """
        try:
            return self._answer(self._gets, asked)
        except AlreadySaved as saved:
            return Answer(303, location=f"{asked.root}done/{saved.number}")

    def post(self, asked: Asked) -> Answer:
        """Begin, keep, save or give up a mix.

        Raises:
            LabelkitError: it cannot be done; nothing is written then.
        """
        try:
            return self._answer(self._posts, asked)
        except AlreadySaved as saved:
            return self._page("saved", asked, 409, number=saved.number)

    def _answer(self, pages: dict[str, Page], asked: Asked) -> Answer:
        head, _, rest = asked.path.partition("/")
        page = pages.get(head.upper())
        if page is None:
            return Answer(404, self._site.unknown(asked.root))
        return page(asked, rest.removesuffix("/"))

    # Planning

    def _plan(self, asked: Asked, name: str) -> Answer:
        if not name:
            return self._page("to_mix", asked, recipes=self._desk.recipes())
        status, values = plan_values(self._desk, wish_from(name, asked.query))
        return self._page("plan", asked, status, **values)

    def _begin(self, asked: Asked, name: str) -> Answer:
        wish = wish_from(name, one_each(asked))
        try:
            number = self._desk.begin(wish)
        except ShelfError:
            raise
        except LabelkitError as refused:
            status, values = plan_values(self._desk, wish, refused)
            return self._page("plan", asked, status, **values)
        return Answer(303, location=f"{asked.root}weigh/{number}")

    # Half-done mixes

    def _mixes(self, asked: Asked, rest: str) -> Answer:
        if rest:
            return Answer(404, self._site.unknown(asked.root))
        return self._page("mixes", asked, mixes=self._desk.half_done())

    def _give_up(self, asked: Asked, rest: str) -> Answer:
        fields = one_each(asked)
        number = _number(fields.get("give-up", ""))
        if fields.get("really") != number:
            mixes = self._desk.half_done()
            return self._page("mixes", asked, mixes=mixes, asks_for=number)
        self._desk.give_up(number)
        return Answer(303, location=f"{asked.root}mixes")

    # Weighing

    def _weigh(self, asked: Asked, rest: str) -> Answer:
        weighing = self._desk.weighing(_number(rest))
        return self._page("weigh", asked, mix=weighing, insists=False)

    def _keep(self, asked: Asked, rest: str) -> Answer:
        number, fields = _number(rest), one_each(asked)
        before, now = typed_from(fields)
        mix = self._desk.keep(number, before, now)
        step = step_named(fields.get("larger", ""))
        here = f"{asked.root}weigh/{number}"
        if step is not None:
            self._desk.enlarge(number, step)
            return Answer(303, location=f"{here}#step-{step}")
        back = step_named(fields.get("back", ""))
        if back is not None:
            self._desk.take_back(number)
            return Answer(303, location=f"{here}#step-{back}")
        if not mix.ready:
            return self._page("weigh", asked, 422, mix=mix, insists=True)
        if fields.get("do") == "finish":
            return Answer(303, location=f"{asked.root}finish/{number}")
        following = next((r.row.number for r in mix.rows if not r.done), "end")
        return Answer(303, location=f"{here}#step-{following}")

    # Finishing

    def _finish(self, asked: Asked, rest: str) -> Answer:
        number = _number(rest)
        if not self._desk.weighing(number).ready:
            return Answer(303, location=f"{asked.root}weigh/{number}")
        end = self._desk.finishing(number)
        return self._page("finish", asked, end=end, insists=False)

    def _save(self, asked: Asked, rest: str) -> Answer:
        number, fields = _number(rest), one_each(asked)
        mix = self._desk.weighing(number)
        if not mix.ready:
            return self._page("weigh", asked, 422, mix=mix, insists=True)
        finish = finish_from(fields)
        if fields.get("do") == "save":
            if not self._desk.save(number, finish):
                return Answer(303, location=f"{asked.root}done/{number}")
            end = self._desk.finishing(number)
            return self._page("finish", asked, 422, end=end, insists=True)
        end = self._desk.keep_finish(number, finish)
        if any(not name.startswith("seen-") for name in end.faults):
            return self._page("finish", asked, 422, end=end, insists=True)
        return Answer(303, location=f"{asked.root}finish/{number}#outcome")

    def _done(self, asked: Asked, rest: str) -> Answer:
        record = self._site.shelf.get(_number(rest))
        values = done_values(record, self._site.settings)
        return self._page("done", asked, **values)

    def _page(
        self, template: str, asked: Asked, status: int = 200, **values: Any
    ) -> Answer:
        return form_page(self._site, template, asked, status, **values)


def _number(word: str) -> str:
    """The number of a mix or batch, however it is written.

    Raises:
        Unknown: it is none.
    """
    try:
        return read_number(word)
    except BadInput:
        raise Unknown(f"{quoted(word)} is no number of a mix") from None
