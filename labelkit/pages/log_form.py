"""The form that writes down what happened: what it sent, and what it offers."""

import re
import secrets
import time
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from labelkit.errors import LabelkitError
from labelkit.mixing.films import IN2
from labelkit.mixing.frozen import frozen
from labelkit.mixing.happening import HAPPENINGS, LONGEST
from labelkit.mixing.ports import Record, Said
from labelkit.mixing.readings import with_unit
from labelkit.pages.asked import Asked
from labelkit.pages.sent import refused

__all__ = [
    "CHOICES",
    "LogForm",
    "blank",
    "faults_by_field",
    "new_id",
    "read_log_form",
    "units_for",
]

CHOICES = tuple((what, what.replace("-", " ").capitalize()) for what in HAPPENINGS)
_GOES_WITH = {
    "amount": ("used", "topped-up"),
    "place": ("moved",),
    "source": ("topped-up",),
}
_FIELDS = (
    "bottle",
    "what",
    "amount",
    "unit",
    "by",
    "note",
    "place",
    "source",
    "sure",
    "when",
)
_ID = re.compile(r"[0-9a-f]{32}")
_FIELD_OF = {
    "--by": "by",
    "--note": "note",
    "--to": "place",
    "--from": "source",
    "--on": "when",
}
_COUNTED = {"roll": "rolls", "4x5 sheet": "sheets 4x5", "8x10 sheet": "sheets 8x10"}
_WHOLE = "all"


class LogForm(Struct, frozen=True):
    """The form as it is filled in, word for word.

    Attributes:
        bottle: a number from 1, ``all``, or "" where none is chosen yet.
        unit: of a bare amount.
        sure: ``yes`` where it was ticked that it is discarded.
        when: it happened; "" means just now.
        id: keeps a form that is sent twice from being written down twice.
    """

    bottle: str = ""
    what: str = ""
    amount: str = ""
    unit: str = ""
    by: str = ""
    note: str = ""
    place: str = ""
    source: str = ""
    sure: str = ""
    when: str = ""
    id: str = ""

    def said(self, number: str) -> Said:
        """What it says, for the log."""
        return Said(
            number,
            int(self.bottle) if self.bottle.isdigit() else None,
            self.what,
            with_unit(self.amount, self.unit),
            self.by,
            self.note,
            self.place,
            self.source,
            self.id,
            self.when,
        )

    def faults(self, record: Record) -> dict[str, str]:
        """What is missing or does not go together, by field."""
        return dict(self._faults(record))

    def _faults(self, record: Record) -> Iterator[tuple[str, str]]:
        numbers = [str(n) for n in range(1, record.bottles + 1)]
        if self.bottle not in (*numbers, _WHOLE):
            yield "bottle", "Which bottle was it?"
        if self.what not in HAPPENINGS:
            yield "what", "What happened to it?"
            return
        for name, whats in _GOES_WITH.items():
            if getattr(self, name).strip() and self.what not in whats:
                words = " and ".join(dict(CHOICES)[what] for what in whats)
                yield name, f"This goes with {words} only. Empty it, or choose that."
        if self.what == "discarded" and self.sure != "yes":
            yield "sure", f"It is gone for good then: tick that {self._which(record)}."

    def _which(self, record: Record) -> str:
        if record.bottles == 1 or not self.bottle:
            return "it is really discarded"
        if self.bottle == _WHOLE:
            return f"all {record.bottles} bottles are really discarded"
        return f"bottle {self.bottle} is really discarded"


def blank(record: Record, bottle: int | None, asked: Asked) -> LogForm:
    """The form as it is opened; the address may name what happened."""
    which = bottle or (1 if record.bottles == 1 else None)
    what = asked.query.get("what", "")
    return LogForm(
        bottle=str(which or ""),
        what=what if what in HAPPENINGS else "",
        unit=units_for(record)[0][0],
        id=new_id(),
    )


def new_id() -> str:
    """Unique without asking anyone; later ones sort later, as the shelf's own."""
    return f"{time.time_ns():016x}{secrets.token_hex(8)}"


def read_log_form(asked: Asked, record: Record) -> LogForm:
    """What the form sent.

    Raises:
        Refused: a field was sent twice, or is none of ours.
    """
    if any(len(asked.form.get(name, ())) > 1 for name in (*_FIELDS, "id")):
        raise refused(400)
    sent = {name: asked.sent(name) for name in _FIELDS}
    units = [unit for unit, _ in units_for(record)]
    if not _ID.fullmatch(asked.sent("id")) or sent["unit"] not in (*units, ""):
        raise refused(400)
    if any(len(word) > 4 * LONGEST for word in sent.values()):
        raise refused(400)
    if record.bottles == 1:
        sent["bottle"] = "1"
    return LogForm(**sent, id=asked.sent("id"))


def units_for(record: Record) -> Sequence[tuple[str, str]]:
    """What an amount may be counted in: as it is sent, and in words."""
    said = frozen(record)
    units = [(said.unit, said.unit)]
    if said.capacity is not None:
        own = said.capacity.unit
        counted = _COUNTED if own in IN2 else {own: f"{own}s"}
        units += [(words, words) for words in counted.values()]
    return units


def faults_by_field(error: LabelkitError, form: LogForm) -> Mapping[str, str]:
    """The faults by the field they stand beside; "" for those of none."""
    found: dict[str, str] = {}
    usual = "amount" if form.amount else ""
    for fault in error.faults:
        place = fault.place.split(",")[0]
        stop = "" if fault.problem.endswith((".", "?", "!")) else "."
        told = f"{fault.problem[:1].upper()}{fault.problem[1:]}{stop} {fault.remedy}"
        found.setdefault(_FIELD_OF.get(place, usual), told.strip())
    return found
