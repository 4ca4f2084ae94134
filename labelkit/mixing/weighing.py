"""A mix under way: what was typed at each step, against what is planned for it."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount
from labelkit.errors import BadInput
from labelkit.mixing.batch import as_read
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.desk import Typed, WeighRow
from labelkit.mixing.doses import WATER, Dose
from labelkit.mixing.overshoot import FAR_OFF, Rescue, off_by, rescue_for
from labelkit.mixing.plan import Plan
from labelkit.mixing.readings import added_up, how_far_off, read_amount
from labelkit.mixing.rescue_text import offer_words
from labelkit.mixing.shown import shown_dose
from labelkit.mixing.steps_text import step_rows
from labelkit.mixing.words import CardRow

__all__ = ["SinkSide", "doubtful", "merged"]


class _Reading(Struct, frozen=True):
    """One step's reading.

    Attributes:
        amount: all that went in; None where nothing was read, or it cannot be.
        off: how far from what is planned, as a share; None where that says nothing.
    """

    amount: Amount | None = None
    fault: str = ""
    more_fault: str = ""
    off: Decimal | None = None


class SinkSide(Struct, frozen=True):
    """The steps of a mix and what was typed at them.

    Attributes:
        enlarged: it was made larger; what its water lacks then, filling up brings.
    """

    plan: Plan
    typed: Typed
    catalogue: Catalogue
    settings: Settings
    enlarged: bool = False

    @property
    def card_rows(self) -> tuple[CardRow, ...]:
        """The steps with what is planned for them now."""
        return step_rows([self.plan], self.catalogue, self.settings)

    def rows(self) -> tuple[WeighRow, ...]:
        """Every step with what was typed, what is wrong and what is offered."""
        done = self.done()
        return tuple(
            self._row(row, self._dose(row.number), row.number in done)
            for row in self.card_rows
        )

    def readings(self) -> dict[int, Amount]:
        """What was read, by step; what cannot be read is left out."""
        found = {dose.step: self._reading(dose).amount for dose in self.doses}
        return {step: amount for step, amount in found.items() if amount is not None}

    def done(self) -> frozenset[int]:
        """The steps that are in: all up to the last one where something was said."""
        said = {step for step, word in self.typed.read.items() if word}
        last = max(said | self.typed.ticked, default=0)
        numbers = (step.number for step in self.plan.recipe.steps)
        return frozenset(number for number in numbers if number <= last)

    def rescue(self, step: int) -> Rescue | None:
        """What keeps the strength after too much at a step; None where nothing is."""
        dose = self._dose(step)
        if dose is None:
            return None
        reading = self._reading(dose)
        far = reading.off is not None and reading.off > FAR_OFF
        if not far or reading.amount is None:
            return None
        inside = [d for d in self._inside() if d.step != step]
        return rescue_for(self.plan.job, dose.read_as(reading.amount), inside)

    @property
    def doses(self) -> tuple[Dose, ...]:
        """What every step takes, as planned now."""
        return self.plan.job.doses

    def larger(self, rescue: Rescue) -> Typed:
        """What was typed, once the mix is made larger: what is due on top is told."""
        read = dict(self.typed.read)
        for step, amount in self.readings().items():
            if self.typed.more.get(step):
                read[step] = amount.written
        due = {d.step: shown_dose(d, self.settings) for d in rescue.more}
        return replace(self.typed, read=read, more={}, due=due)

    def _inside(self) -> Iterator[Dose]:
        """What is in already, as it was read or else planned."""
        done = self.done()
        for dose in self.doses:
            if dose.step in done:
                amount = self._reading(dose).amount
                yield dose.read_as(amount) if amount else dose

    def _dose(self, step: int) -> Dose | None:
        return next((dose for dose in self.doses if dose.step == step), None)

    def _row(self, row: CardRow, dose: Dose | None, done: bool) -> WeighRow:
        step = row.number
        if dose is None:
            return WeighRow(row, "", done=done, sure=step in self.typed.ticked)
        reading = self._reading(dose)
        word = self.typed.read.get(step, "")
        told = self._told(step, word, reading)
        doubt = _doubt(told, reading)
        sure = bool(doubt) and self.typed.sure.get(step) == told
        return WeighRow(
            row,
            _unit(dose, self.settings),
            word,
            self.typed.more.get(step, ""),
            done,
            reading.fault,
            reading.more_fault,
            doubt,
            told,
            sure,
            self._offer(step) if sure else "",
            self.typed.due.get(step, ""),
        )

    def _told(self, step: int, word: str, reading: _Reading) -> str:
        """What is asked about where it is far off: as typed, or all that went in."""
        added = self.typed.more.get(step) and reading.amount is not None
        return reading.amount.written if added and reading.amount else word

    def _offer(self, step: int) -> str:
        rescue = self.rescue(step)
        if rescue is None:
            return ""
        return offer_words(rescue, self.card_rows, self.done(), self.settings)

    def _reading(self, dose: Dose) -> _Reading:
        shown = shown_dose(dose, self.settings)
        amount, fault = _read(self.typed.read.get(dose.step, ""), shown, dose, self)
        more, more_fault = _read(self.typed.more.get(dose.step, ""), shown, dose, self)
        if amount and more:
            if amount.dimension is more.dimension:
                amount = added_up(amount, more)
            else:
                more_fault = "A mass and a volume cannot be added up. Write both alike."
        off = off_by(amount, dose) if amount else None
        if dose.chemical == WATER and self.enlarged and self.plan.recipe.fills_up:
            off = None
        return _Reading(amount, fault, more_fault, off)


def merged(kept: Typed, before: Typed, now: Typed) -> Typed:
    """What was kept, with what differs between ``before`` and ``now``."""
    ticked = (kept.ticked | now.ticked - before.ticked) - (before.ticked - now.ticked)
    return replace(
        kept,
        read=_changed(kept.read, before.read, now.read),
        more=_changed(kept.more, before.more, now.more),
        sure=_changed(kept.sure, before.sure, now.sure),
        ticked=ticked,
    )


def _changed(
    kept: Mapping[int, str], before: Mapping[int, str], now: Mapping[int, str]
) -> dict[int, str]:
    steps = {*before, *now}
    new = {n: now.get(n, "") for n in steps if now.get(n, "") != before.get(n, "")}
    return {step: word for step, word in {**kept, **new}.items() if word}


def _read(
    word: str, shown: str, dose: Dose, side: SinkSide
) -> tuple[Amount | None, str]:
    """The amount, or None and what is wrong with it."""
    if not word:
        return None, ""
    try:
        amount = read_amount(word, shown)
        as_read(side.plan.job, {dose.step: amount})
    except BadInput as error:
        return None, " ".join(str(f._replace(place="")) for f in error.faults)
    return amount, ""


def _doubt(told: str, reading: _Reading) -> str:
    """How far off it is; "" where that is near enough, or says nothing."""
    if reading.off is None or abs(reading.off) <= FAR_OFF:
        return ""
    return how_far_off(told, reading.off)


def _unit(dose: Dose, settings: Settings) -> str:
    return shown_dose(dose, settings).split()[-1]


def doubtful(rows: Sequence[WeighRow]) -> bool:
    """Whether anything typed is faulty, or far off and not confirmed."""
    return any(r.fault or r.more_fault or (r.doubt and not r.sure) for r in rows)
