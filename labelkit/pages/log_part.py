"""What happened to a bottle, written down from a phone at the shelf."""

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import LabelkitError, NoAnswer, ShelfError
from labelkit.mixing.happening import LONGEST
from labelkit.mixing.ports import Event, Log, Record
from labelkit.mixing.remarks import remarks_on
from labelkit.mixing.standing import standings
from labelkit.mixing.state_text import STAYS_CLOSED, happened, marks, told
from labelkit.pages.addresses import batch_folder
from labelkit.pages.asked import Answer, Asked
from labelkit.pages.form_page import form_page
from labelkit.pages.guard_pages import way_to_pin
from labelkit.pages.label_part import bottle_named
from labelkit.pages.log_form import (
    CHOICES,
    LogForm,
    blank,
    faults_by_field,
    new_id,
    read_log_form,
    units_for,
)
from labelkit.pages.site import Site

__all__ = ["LogPart"]


class BottleChoice(Struct, frozen=True):
    """A bottle in the form, and how it stands."""

    value: str
    name: str
    told: str
    marks: tuple[str, ...]


class LogPart:
    """The part of the site that writes down what happened."""

    heads = frozenset({"LOG"})

    def __init__(self, site: Site, log: Log) -> None:
        self._site = site
        self._log = log

    def get(self, asked: Asked) -> Answer:
        """The form of ``log/NUMBER`` or ``log/NUMBER/2``, or what was just written.

        Raises:
            Unknown: there is no such batch or bottle.
            ShelfError: the shelf cannot be read.
        """
        record, bottle = self._named(asked)
        written = self._written(record, asked.query.get("written", ""))
        if written is not None:
            return self._look_out(asked, record, written)
        if not asked.may_write:
            return Answer(303, location=way_to_pin(asked))
        return self._form(asked, record, blank(record, bottle, asked), {})

    def post(self, asked: Asked) -> Answer:
        """Write down what the form says.

        Raises:
            Refused: it is no form of ours.
            Unknown: there is no such batch or bottle.
            ShelfError: the shelf cannot be written.
        """
        record, _ = self._named(asked)
        form = read_log_form(asked, record)
        faults = form.faults(record)
        if faults:
            return self._form(asked, record, form, faults, 422)
        try:
            event = self._log.write(form.said(record.number))
        except ShelfError:
            raise
        except NoAnswer as error:
            again = replace(form, id=new_id())
            said = faults_by_field(error, LogForm())
            return self._form(asked, record, again, said, 409)
        except LabelkitError as error:
            said = faults_by_field(error, form)
            return self._form(asked, record, form, said, 422)
        if self._remarks(record, event):
            return Answer(
                303, location=f"{asked.root}log/{record.number}?written={event.id}"
            )
        folder = batch_folder(record.number)
        return Answer(303, location=f"{asked.root}{folder}/index.html#since")

    def _named(self, asked: Asked) -> tuple[Record, int | None]:
        return bottle_named(self._site, asked.path.partition("/")[2].removesuffix("/"))

    def _written(self, record: Record, form: str) -> Event | None:
        events = self._site.shelf.events(record.number) if form else ()
        return next((event for event in events if event.id == form), None)

    def _remarks(self, record: Record, event: Event) -> tuple[str, ...]:
        events = self._site.shelf.events(record.number)
        before = [one for one in events if one.id != event.id]
        return remarks_on(record, before, event)

    def _look_out(self, asked: Asked, record: Record, event: Event) -> Answer:
        return form_page(
            self._site,
            "written",
            asked,
            record=record,
            folder=batch_folder(record.number),
            what=happened(event),
            bottle=event.bottle if record.bottles > 1 else None,
            remarks=self._remarks(record, event),
        )

    def _form(
        self,
        asked: Asked,
        record: Record,
        form: LogForm,
        faults: Mapping[str, str],
        status: int = 200,
    ) -> Answer:
        bottles = self._bottles(record)
        return form_page(
            self._site,
            "log",
            asked,
            status,
            record=record,
            folder=batch_folder(record.number),
            form=form,
            faults=faults,
            choices=CHOICES,
            units=units_for(record),
            now=f"{self._site.clock():%Y-%m-%d %H:%M}",
            bottles=bottles,
            longest=LONGEST,
            stays_closed=STAYS_CLOSED
            if any("FOUND" in b.marks for b in bottles)
            else "",
        )

    def _bottles(self, record: Record) -> list[BottleChoice]:
        states = standings(record, self._site.shelf.events(record.number))
        now = self._site.clock()
        return [
            BottleChoice(
                str(state.bottle),
                f"Bottle {state.bottle}",
                told(replace(state, use_mark="")),  # it is among the marks
                marks(state, now),
            )
            for state in states
        ]
