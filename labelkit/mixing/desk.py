"""Mixing as it is done from a page: planned, weighed, finished, kept.

What is typed stays as it was typed until it is read; so a page can be shown again with
everything on it, and a fault beside what it is in.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Protocol

from msgspec import Struct, field

from labelkit.errors import NoAnswer
from labelkit.mixing.check import Check
from labelkit.mixing.words import (
    CardRow,
    CardText,
    HazardText,
    PageText,
    PartMark,
    Words,
)

__all__ = [
    "AlreadySaved",
    "Choice",
    "Desk",
    "Finish",
    "Finishing",
    "HalfDone",
    "Head",
    "Option",
    "PlanSheet",
    "RecipeLine",
    "Typed",
    "WeighRow",
    "Weighing",
    "Wish",
]


class AlreadySaved(NoAnswer):
    """A mix is on the shelf already; it is not kept twice.

    Attributes:
        number: of its batch.
    """

    def __init__(self, number: str) -> None:
        super().__init__(
            f"this mix was already saved as {number}",
            remedy="Nothing was saved twice, and nothing of it was changed.",
        )
        self.number = number


class RecipeLine(Struct, frozen=True):
    """A recipe in a list; ``title`` is "" where its file has faults."""

    name: str
    title: str
    part: str = ""
    makes: str = ""


class Wish(Struct, frozen=True):
    """What someone wants to mix, as typed.

    Attributes:
        recipe: its name.
        make: how much; "" for what the recipe makes.
        swap: the form to use instead, by the chemical the recipe names.
        stock: the bottle to pour from, by chemical or by the name of a recipe.
        lot: the assay of the jar, by the chemical in it.
        by: who mixes.
    """

    recipe: str
    make: str = ""
    swap: Mapping[str, str] = field(default_factory=dict)
    stock: Mapping[str, str] = field(default_factory=dict)
    lot: Mapping[str, str] = field(default_factory=dict)
    by: str = ""


class Option(Struct, frozen=True):
    """Something that can be taken instead.

    Attributes:
        value: an id, or a batch number.
        note: what else there is to know of it.
        past: whether its date has passed.
        mark: who may use it: HOLD, ASK with a name, SHARED, or "".
    """

    value: str
    text: str
    note: str = ""
    past: bool = False
    mark: str = ""


class Choice(Struct, frozen=True):
    """What one thing of a recipe can be taken from.

    Attributes:
        name: the chemical's id, or the name of the recipe that is poured.
        what: the same in words.
        poured: whether a solution is poured in any case.
        forms: other forms of the chemical.
        bottles: on the shelf that hold it.
    """

    name: str
    what: str
    poured: bool
    forms: tuple[Option, ...] = ()
    bottles: tuple[Option, ...] = ()


class Head(Struct, frozen=True):
    """What a hand must know before it opens a jar.

    Attributes:
        wear: gloves, eye protection: the sentence of the law; "" for none.
        powders: of what is weighed where it is worse than what comes of it.
    """

    hazard: HazardText
    wear: Words = ()
    powders: Words = ()
    never_with: str = ""
    first_words: Words = ()


class PlanSheet(Struct, frozen=True):
    """A wish worked out.

    Attributes:
        usual: what the recipe makes, in ``unit``: mL or g.
        made: how much of it, such as ``750 mL``.
        card: the words of a card with one column.
        checks: remarks, as they come.
        changes: what differs from the recipe, each a sentence.
        choices: what else could be taken.
    """

    wish: Wish
    usual: str
    unit: str
    made: str
    card: CardText
    head: Head
    checks: tuple[Check, ...]
    changes: tuple[str, ...]
    choices: tuple[Choice, ...]
    facts: tuple[tuple[str, str], ...] = ()


class HalfDone(Struct, frozen=True):
    """A mix that was begun and not saved yet."""

    number: str
    title: str
    part: str
    made: str
    begun: datetime
    by: str
    done: int
    steps: int


class Typed(Struct, frozen=True):
    """What was typed at the steps of a mix, by step number.

    Attributes:
        read: what the instrument showed.
        more: what went in on top, after an overshoot.
        sure: a reading far off that was confirmed, as it was typed.
        ticked: the steps without an amount that are done.
        due: what is to be added on top, as told when the mix was made larger.
        was: what was planned while the mix was larger, at steps where more may have
            gone in since than was typed.
    """

    read: Mapping[int, str] = field(default_factory=dict)
    more: Mapping[int, str] = field(default_factory=dict)
    sure: Mapping[int, str] = field(default_factory=dict)
    ticked: frozenset[int] = frozenset()
    due: Mapping[int, str] = field(default_factory=dict)
    was: Mapping[int, str] = field(default_factory=dict)


class WeighRow(Struct, frozen=True):
    """One step at the sink.

    Attributes:
        row: as the card shows it.
        unit: of a bare number; "" where the step is only ticked.
        done: whether it is in, by what was typed here or further down.
        fault: why what was typed cannot be taken.
        doubt: that it is far off, and how far; or that more may be in than was typed.
        told: the reading that is to be confirmed.
        sure: that it was confirmed; of a step without an amount, that it is ticked.
        offer: what would keep the strength after too much.
        due: what is still to be added on top.
    """

    row: CardRow
    unit: str
    typed: str = ""
    more: str = ""
    done: bool = False
    fault: str = ""
    more_fault: str = ""
    doubt: str = ""
    told: str = ""
    sure: bool = False
    offer: str = ""
    due: str = ""


class Weighing(Struct, frozen=True):
    """A mix under way.

    Attributes:
        ready: nothing typed is faulty or in doubt.
        larger: it was made larger after an overshoot.
        larger_for: the steps where too much went in.
        at_first: how much was to be made before; "" where it stays larger.
        edited: its recipe is not as it was when the mix was begun, or gone.
    """

    number: str
    recipe: str
    title: str
    part: PartMark | None
    made: str
    begun: datetime
    by: str
    head: Head
    checks: tuple[Check, ...]
    changes: tuple[str, ...]
    rows: tuple[WeighRow, ...]
    typed: Typed
    ready: bool
    larger: bool
    edited: bool
    larger_for: tuple[int, ...] = ()
    at_first: str = ""

    @property
    def done(self) -> int:
        """How many steps are in."""
        return sum(row.done for row in self.rows)


class Finish(Struct, frozen=True):
    """What is said at the end, as typed; ``seen`` by the code of a deadly remark."""

    made_up_to: str = ""
    ph: str = ""
    density: str = ""
    into: str = ""
    by: str = ""
    use: str = ""
    seen: Mapping[str, str] = field(default_factory=dict)


class Finishing(Struct, frozen=True):
    """A mix before it is saved.

    Attributes:
        made: how much was planned.
        outcome: the words of its record page as it would be saved now; None where a
            fault keeps it from being worked out.
        asks_ph: whether a pH is asked for.
        ph_matters: whether the label calls it corrosive only for want of one.
        asks_density: whether a density is asked for.
        stops: deadly remarks, each to be acknowledged.
        checks: every other remark.
        faults: by field: made_up_to, ph, density, into, by, use, seen-CODE; "" for
            what belongs to none.
    """

    number: str
    recipe: str
    title: str
    part: PartMark | None
    made: str
    unit: str
    outcome: PageText | None
    asks_ph: bool
    ph_matters: bool
    asks_density: bool
    stops: tuple[Check, ...]
    checks: tuple[Check, ...]
    typed: Finish
    faults: Mapping[str, str]


class Desk(Protocol):
    """Where mixing is done from pages. Everything may raise `LabelkitError`."""

    def recipes(self) -> Sequence[RecipeLine]:
        """Every recipe there is."""

    def plan(self, wish: Wish) -> PlanSheet:
        """The wish worked out.

        Raises:
            Unknown: there is no such recipe.
            LabelkitError: it cannot be as wished; places are ``--make``, ``--swap``,
                ``--stock`` and ``--lot``, or in the recipe.
        """

    def begin(self, wish: Wish) -> str:
        """Begin a mix, kept from now on; the number its batch will have."""

    def half_done(self) -> Sequence[HalfDone]:
        """Mixes that were begun and not saved, the newest first."""

    def weighing(self, number: str) -> Weighing:
        """A mix under way.

        Raises:
            AlreadySaved: it is on the shelf.
            Unknown: there is none, or it was given up.
        """

    def keep(self, number: str, before: Typed, now: Typed) -> Weighing:
        """Keep what was typed.

        Only what differs from ``before`` is taken, so that a page that was opened
        earlier wipes nothing out.
        """

    def enlarge(self, number: str, step: int) -> None:
        """Make the mix larger, so that the strength stays after too much at a step."""

    def take_back(self, number: str) -> None:
        """Plan a mix that was made larger as at first again; what is in stays in.

        Nothing happens where it was not made larger, or is filled up already.
        """

    def finishing(self, number: str) -> Finishing:
        """A mix before it is saved, with what was said of it so far."""

    def keep_finish(self, number: str, finish: Finish) -> Finishing:
        """Keep what is said at the end, so that it is typed once."""

    def save(self, number: str, finish: Finish) -> Mapping[str, str]:
        """Put the mix on the shelf for good.

        Returns:
            faults by field, as in `Finishing`; nothing where it was saved.
        """

    def give_up(self, number: str) -> None:
        """Forget a mix that was begun."""
