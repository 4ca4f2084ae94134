"""A workshop: who mixes what, as its file says and as it was worked out."""

from datetime import date

from msgspec import Struct

from labelkit.chemistry.amounts import Amount
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["Task", "TaskPlan", "Workshop"]


class Task(Struct, frozen=True):
    """One recipe of a workshop.

    Attributes:
        recipe: its name.
        make: the quantity of each batch; None for the recipe's own.
        audience: who mixes a batch each; one "" where the room mixes one together.
        card: a card layout's name, "" for no card.
        sizes: the batch sizes on the card; () for the one quantity.
        copies: of the card.
        weigh_out: whether each batch gets a weighing-out sheet.
    """

    recipe: str
    make: Amount | None
    audience: tuple[str, ...]
    card: str = "a5"
    sizes: tuple[Amount, ...] = ()
    copies: int = 1
    weigh_out: bool = True

    @property
    def batches(self) -> int:
        """How many are mixed."""
        return len(self.audience)


class Workshop(Struct, frozen=True):
    """What a workshop file says.

    Attributes:
        day: on which it is held.
        sheet: the sheet that cards are laid on; "" for one a page.
        both_sides: the pack is printed on both sides, so every part begins on a front.
    """

    title: str
    day: date
    tasks: tuple[Task, ...]
    place: str = ""
    teacher: str = ""
    people: tuple[str, ...] = ()
    stations: tuple[str, ...] = ()
    note: str = ""
    sheet: str = ""
    both_sides: bool = True

    @property
    def everyone(self) -> tuple[str, ...]:
        """All for whom something may be printed; "" is the room."""
        return (*self.people, *self.stations, "")


class TaskPlan(Struct, frozen=True):
    """One task with its recipe worked out."""

    task: Task
    plan: Plan
    handbook: Handbook
