"""What a workshop file names, looked up at a bench: recipes, card layouts, sheets."""

from labelkit.chemistry.amounts import Amount
from labelkit.cli.sheet_choice import ONE_A_PAGE
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.workshop import Task, TaskPlan

__all__ = ["WorkshopNames"]


class WorkshopNames:
    """Looks up names at a workplace; implements `files.workshop.Names`.

    Attributes:
        plans: of every task that could be worked out, in the file's order.
    """

    def __init__(self, place: Workplace) -> None:
        self._place = place
        self._recipes: dict[str, Recipe] = {}
        self.plans: list[TaskPlan] = []

    def recipe(self, name: str) -> Recipe:
        """The recipe of that name, read once."""
        if name not in self._recipes:
            self._recipes[name] = self._place.recipe(name)
        return self._recipes[name]

    def plan(self, task: Task) -> None:
        """Work a task out, and keep it."""
        recipe = self.recipe(task.recipe)
        plan = self._made(recipe, task.make, "make")
        self.plans.append(TaskPlan(task, plan, self._place.handbook(recipe)))

    def sizes(self, task: Task) -> None:
        """Work a task out for every size on its card."""
        for size in task.sizes:
            self._made(self.recipe(task.recipe), size, "")

    def _made(self, recipe: Recipe, make: Amount | None, key: str) -> Plan:
        """A recipe worked out; a fault of the quantity stands under ``key``."""
        try:
            return self._place.plan(recipe, make)
        except BadInput as error:
            raise BadInput.of(
                f._replace(place=key) if f.place == "--make" else f
                for f in error.faults
            ) from None

    def card(self, name: str) -> object:
        """A card layout of the bench, or a built-in one."""
        from labelkit.printing.card_layout import card_layout

        return self._place.own_layouts.cards().get(name) or card_layout(name)

    def sheet(self, name: str) -> object:
        """A sheet of the bench, or a built-in one; or none, for one card a page."""
        from labelkit.printing.sheet_files import read_sheet

        if name == ONE_A_PAGE:
            return None
        return self._place.own_layouts.sheets().get(name) or read_sheet(name)
