"""A room that works recipes out, as the commands do."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Any

import pytest

from labelkit.chemistry.amounts import Amount, parse_amount
from labelkit.files.recipes import recipe_from_text
from labelkit.mixing.answers import plan_json
from labelkit.mixing.bench import Settings
from labelkit.mixing.doses import Stock
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.working import as_stock, plan_recipe


@dataclass(frozen=True)
class Room:
    """Where recipes are worked out: what is looked up, the instruments, the clock."""

    books: Handbook
    settings: Settings
    noon: datetime

    def recipe(self, text: str, name: str = "stock") -> Recipe:
        return recipe_from_text(text, name, self.books.catalogue)

    def handbook(self, recipe: Recipe) -> Handbook:
        catalogue = self.books.catalogue.with_own(recipe.own_chemicals)
        return replace(self.books, catalogue=catalogue)

    def with_jars(self, assays: Mapping[str, str]) -> "Room":
        """The same room with jars of these assays [%]."""
        jars = {chemical: Decimal(assay) for chemical, assay in assays.items()}
        return replace(self, books=replace(self.books, assays=jars))

    def plan(
        self,
        text: str,
        make: str | Amount | None = None,
        *,
        stocks: Mapping[str, Stock] | None = None,
    ) -> Plan:
        recipe = self.recipe(text)
        quantity = parse_amount(make) if isinstance(make, str) else make
        return plan_recipe(
            recipe,
            quantity,
            self.handbook(recipe),
            self.settings,
            on=self.noon,
            stocks=stocks,
        )

    def answer(self, text: str, make: str | None = None) -> dict[str, Any]:
        """The plan as ``labelkit plan --json`` tells it."""
        plan = self.plan(text, make)
        return plan_json(plan, self.handbook(plan.recipe).catalogue, self.settings)

    def stock(self, text: str, name: str) -> Stock:
        return replace(as_stock(self.plan(text)), name=name)


@pytest.fixture(scope="session")
def room(handbook: Handbook, settings: Settings, noon: datetime) -> Room:
    """A room with an empty cupboard, a 0.1 g balance and a 5 mL cylinder."""
    return Room(handbook, settings, noon)
