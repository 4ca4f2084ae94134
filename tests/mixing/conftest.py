"""A room that works recipes out, as the commands do."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, parse_amount
from labelkit.files.recipes import read_recipe, recipe_from_text
from labelkit.files.settings import read_settings
from labelkit.mixing.answers import plan_json
from labelkit.mixing.batch import Batch, as_read, bottles_from, readings_from
from labelkit.mixing.bench import Settings
from labelkit.mixing.doses import Stock
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.working import as_stock, plan_recipe, work_out
from tests.conftest import SAMPLES

NUMBER = "7K3M-Q9TX-8"


class Room(Struct, frozen=True):
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

    def set_up(self, **changed: Any) -> "Room":
        """The same room with other settings."""
        return replace(self, settings=replace(self.settings, **changed))

    def plan(
        self,
        text: str | Recipe,
        make: str | Amount | None = None,
        *,
        stocks: Mapping[str, Stock] | None = None,
    ) -> Plan:
        recipe = self.recipe(text) if isinstance(text, str) else text
        quantity = parse_amount(make) if isinstance(make, str) else make
        return plan_recipe(
            recipe,
            quantity,
            self.handbook(recipe),
            self.settings,
            on=self.noon,
            stocks=stocks,
        )

    def sample(self, name: str, make: str | None = None) -> Plan:
        """A recipe of the samples, worked out with what it takes."""
        path = SAMPLES / "recipes" / f"{name}.toml"
        recipe = read_recipe(path, self.books.catalogue)
        taken = {step.recipe for step in recipe.steps if step.recipe}
        stocks = {other: as_stock(self.sample(other)) for other in taken}
        return self.plan(recipe, make, stocks=stocks)

    def answer(self, text: str, make: str | None = None) -> dict[str, Any]:
        """The plan as ``labelkit plan --json`` tells it."""
        return plan_json(self.plan(text, make), self.settings)

    def stock(self, text: str, name: str) -> Stock:
        return replace(as_stock(self.plan(text)), name=name)

    def mix(
        self,
        planned: Plan,
        *weighed: str,
        into: str | None = None,
        use: str = "",
        by: str = "M. Osei",
        **measured: Any,
    ) -> Batch:
        """What came of it, with what the balance read."""
        handbook = self.handbook(planned.recipe)
        readings = readings_from(planned.job, weighed, handbook.catalogue)
        job = as_read(planned.job, readings, **measured)
        plan = work_out(job, handbook, self.settings)
        bottles = bottles_from(into, plan)
        return Batch(NUMBER, planned.job.doses, plan, by, bottles, use=use)


@pytest.fixture(scope="session")
def room(handbook: Handbook, settings: Settings, noon: datetime) -> Room:
    """A room with an empty cupboard, a 0.1 g balance and a 5 mL cylinder."""
    return Room(handbook, settings, noon)


@pytest.fixture(scope="session")
def tern_street(handbook: Handbook, noon: datetime) -> Room:
    """The print room of the samples, with its settings and its jar of lye."""
    settings = read_settings(Path(SAMPLES / "labelkit.toml"))
    parts = {"pyro-a": "A", "pyro-b": "B", "blueprint-a": "A", "blueprint-b": "B"}
    room = Room(replace(handbook, parts=parts), settings, noon)
    return room.with_jars({"sodium-hydroxide": "98"})
