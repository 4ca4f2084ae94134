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
        if dose is None or self._asks():
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
        return replace(self.typed, read=read, more={}, due=due, was={})

    def as_begun(self) -> Typed:
        """What was typed, once it is planned as at first again.

        What was read stays. Where more may be in than was typed, because the larger
        mix called for it, that is asked.
        """
        unsaid = (dose for dose in self.doses if self._is_unsaid(dose))
        was = {dose.step: shown_dose(dose, self.settings) for dose in unsaid}
        sure = {step: told for step, told in self.typed.sure.items() if step not in was}
        return replace(self.typed, sure=sure, due={}, was=was)

    @property
    def filled_up(self) -> bool:
        """Whether it is filled up to what is made already."""
        done = self.done()
        steps = self.plan.recipe.steps
        return any(s.make_up_to is not None and s.number in done for s in steps)

    def _is_unsaid(self, dose: Dose) -> bool:
        """Whether a step is in, and how much of it is not known for certain."""
        step, typed = dose.step, self.typed
        only_fills_up = dose.chemical == WATER and self.plan.recipe.fills_up
        if step not in self.done() or only_fills_up:
            return False
        on_top_unsaid = step in typed.due and not typed.more.get(step)
        return not typed.read.get(step) or on_top_unsaid

    def _asks(self) -> bool:
        """Whether it is still to be said how much is in at a step."""
        rows = (dose for dose in self.doses if dose.step in self.typed.was)
        return any(self._told(d) != self.typed.sure.get(d.step) for d in rows)

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
        told = self._told(dose)
        doubt = _doubt(told, reading) or _question(self.typed.was.get(step, ""))
        sure = bool(doubt) and self.typed.sure.get(step) == told
        return WeighRow(
            row,
            _unit(dose, self.settings),
            self.typed.read.get(step, ""),
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

    def _told(self, dose: Dose) -> str:
        """What is to be confirmed: as typed, all that went in, or as planned."""
        word = self.typed.read.get(dose.step, "")
        if not word and dose.step in self.typed.was:
            return shown_dose(dose, self.settings)
        amount = self._reading(dose).amount
        return amount.written if self.typed.more.get(dose.step) and amount else word

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
    read = _changed(kept.read, before.read, now.read)
    more = _changed(kept.more, before.more, now.more)
    changed = {*_new_words(kept.read, read), *_new_words(kept.more, more)}
    answered = changed & read.keys()  # what is on top says nothing alone
    return replace(
        kept,
        read=read,
        more=more,
        sure=_changed(kept.sure, before.sure, now.sure),
        ticked=ticked,
        was={step: was for step, was in kept.was.items() if step not in answered},
    )


def _new_words(kept: Mapping[int, str], now: Mapping[int, str]) -> Iterator[int]:
    """The steps where something else is said than before."""
    return (step for step, word in now.items() if word != kept.get(step))


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


def _question(was: str) -> str:
    """What is asked where ``was`` was planned for a while; "" where nothing is."""
    return (
        f"{was} was planned here meanwhile. Write all that is in, or confirm."
        if was
        else ""
    )


def _unit(dose: Dose, settings: Settings) -> str:
    return shown_dose(dose, settings).split()[-1]


def doubtful(rows: Sequence[WeighRow]) -> bool:
    """Whether anything typed is faulty, or far off and not confirmed."""
    return any(r.fault or r.more_fault or (r.doubt and not r.sure) for r in rows)
