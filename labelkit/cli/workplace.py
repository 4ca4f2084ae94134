"""The place a command works in: its bench, its books, its recipes, its shelf."""

from __future__ import annotations

import os
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from labelkit.cli.asking import asked_until_clear
from labelkit.cli.own_layouts import OwnLayouts
from labelkit.errors import BadInput, LabelkitError, Unknown
from labelkit.files.bench import Bench, RecipeFolder, find_bench
from labelkit.mixing.bench import Jar, Settings
from labelkit.mixing.found import refuse_found
from labelkit.shelf import SqliteShelf, open_shelf

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from labelkit.chemistry.amounts import Amount
    from labelkit.mixing.catalogue import Catalogue
    from labelkit.mixing.doses import Stock
    from labelkit.mixing.forms import Exchange
    from labelkit.mixing.handbook import Handbook
    from labelkit.mixing.plan import Plan
    from labelkit.mixing.ports import Record
    from labelkit.mixing.recipe import Recipe
    from labelkit.printing.layouts import Layout

__all__ = ["Workplace"]


class Workplace:
    """Everything a command may ask for, each read when it is first asked for."""

    def __init__(self, bench: Path | None = None) -> None:
        self._asked_for = bench
        self.choices: dict[str, str] = {}

    def afresh(self) -> Workplace:
        """The same place with every file read anew; the open shelf is shared."""
        fresh = Workplace(self._asked_for)
        fresh.bench, fresh.shelf = self.bench, self.shelf
        return fresh

    @cached_property
    def bench(self) -> Bench | None:
        """The bench, or None where a command works without one."""
        return find_bench(self._asked_for, os.environ, Path.cwd())

    def the_bench(self) -> Bench:
        """The bench, for a command that cannot work without one.

        Raises:
            Unknown: there is none here.
        """
        if self.bench is None:
            raise Unknown(
                "there is no bench here: no labelkit.toml in this folder or above",
                remedy="Run 'labelkit init FOLDER', or name one with --bench.",
            )
        return self.bench

    @cached_property
    def settings(self) -> Settings:
        """The bench's settings, or the defaults."""
        from labelkit.files.settings import read_settings

        if self.bench is None or not self.bench.settings.is_file():
            return Settings()
        return read_settings(self.bench.settings)

    @cached_property
    def catalogue(self) -> Catalogue:
        """The built-in chemicals and the bench's own."""
        from labelkit.files.chemicals import read_catalogue, read_own_chemicals

        catalogue = read_catalogue()
        if self.bench is None or not self.bench.chemicals.is_file():
            return catalogue
        return catalogue.with_own(read_own_chemicals(self.bench.chemicals))

    @cached_property
    def exchange(self) -> Exchange:
        """What may stand in for what."""
        from labelkit.files.pairs import read_exchange

        return read_exchange()

    @cached_property
    def jars(self) -> tuple[Jar, ...]:
        """What stands in the cupboard."""
        from labelkit.files.jars import read_jars

        if self.bench is None or not self.bench.jars.is_file():
            return ()
        return read_jars(self.bench.jars, self.catalogue, choices=self.choices)

    @cached_property
    def own_layouts(self) -> OwnLayouts:
        """The bench's own label, card and sheet layouts."""
        return OwnLayouts(self.bench.layouts if self.bench else None)

    @cached_property
    def layouts(self) -> tuple[Layout, ...]:
        """The bench's own label layouts."""
        return self.own_layouts.labels()

    @cached_property
    def book(self) -> RecipeFolder:
        """The bench's recipes."""
        folder = self.bench.recipes if self.bench else Path.cwd()
        return RecipeFolder(folder, self.catalogue, choices=self.choices)

    @cached_property
    def shelf(self) -> SqliteShelf:
        """The bench's shelf, made where there is none yet."""
        return open_shelf(self.the_bench().shelf, create=True)

    def recipe(self, named: str) -> Recipe:
        """The recipe of that name, at that path, or frozen in that batch."""
        if named not in self.book.names() and self._is_on_the_shelf(named):
            return self.frozen_recipe(self.record(named))
        return asked_until_clear(lambda: self.book.find(named), self.choices)

    def record(self, named: str) -> Record:
        """The batch of that number; a scanned address is understood."""
        from labelkit.mixing.numbers import read_number

        return self._batch(read_number(named))

    def bottle(self, named: str) -> tuple[Record, int | None]:
        """The batch of ``NUMBER`` or ``NUMBER/2``, and which bottle if one is named.

        Raises:
            Unknown: there is no such batch.
            BadInput: it has no such bottle, or no number can be read.
        """
        from labelkit.mixing.numbers import read_bottle

        number, bottle = read_bottle(named)
        record = self._batch(number)
        if bottle is not None and bottle > record.bottles:
            raise BadInput(
                f"batch {number} has no bottle {bottle}",
                place="BATCH/N",
                remedy=f"Its bottles are numbered 1 to {record.bottles}.",
            )
        return record, bottle

    def _batch(self, number: str) -> Record:
        if not self.the_bench().shelf.is_file():  # asking makes no shelf
            raise Unknown(
                f"no batch {number!r}: nothing stands on this shelf yet",
                remedy="Mix something first: labelkit mix RECIPE.",
            )
        return self.shelf.get(number)

    def hazard_of(self, named: str) -> dict[str, Any]:
        """The classification of a recipe as planned, or of a batch as it was kept."""
        if named not in self.book.names() and self._is_on_the_shelf(named):
            record = self.record(named)
            refuse_found(record)
            kept: dict[str, Any] = record.data["answer"]["hazard"]
            return kept
        from labelkit.mixing.answers import hazard_json

        return hazard_json(self.plan(self.recipe(named)).hazard)

    def handbook(
        self, recipe: Recipe, lots: Mapping[str, Decimal] | None = None
    ) -> Handbook:
        """What is looked up while ``recipe`` is worked out."""
        from labelkit.files.acidity import read_acidity
        from labelkit.files.handling import read_handling
        from labelkit.files.legal import read_legal_notes
        from labelkit.files.rules import read_rules
        from labelkit.files.statements import read_statements
        from labelkit.mixing.handbook import Handbook

        catalogue = self.catalogue.with_own(recipe.own_chemicals)
        return Handbook(
            catalogue,
            read_rules(),
            read_statements(self.settings.language),
            read_acidity(),
            assays=self._assays(catalogue, lots or {}),
            parts=self._parts(recipe),
            handling=read_handling(),
            legal=read_legal_notes(),
        )

    def plan(
        self,
        recipe: Recipe,
        make: Amount | None = None,
        lots: Mapping[str, Decimal] | None = None,
        *,
        on: datetime | None = None,
        stocks: Mapping[str, Stock] | None = None,
    ) -> Plan:
        """``recipe`` worked out for ``make``, to be mixed ``on`` a day, else now."""
        from labelkit.mixing.working import plan_recipe

        on, settings = on or self.now, self.settings
        handbook = self.handbook(recipe, lots)
        try:
            return plan_recipe(
                recipe,
                make,
                handbook,
                settings,
                on=on,
                stocks=self.stocks(recipe, on, stocks),
            )
        except BadInput as error:
            raise _in_its_file(error, recipe) from None

    def assays(self, lots: Mapping[str, Decimal]) -> dict[str, Decimal]:
        """Assays of the jars at hand [%], by chemical id."""
        return self._assays(self.catalogue, lots)

    @cached_property
    def now(self) -> datetime:
        """This moment in the room's own time, to the minute."""
        moment = datetime.now()  # noqa: DTZ005 - bottles carry the room's own time
        return moment.replace(second=0, microsecond=0)

    def stocks(
        self,
        recipe: Recipe,
        on: datetime,
        pinned: Mapping[str, Stock] | None = None,
        within: tuple[str, ...] = (),
    ) -> dict[str, Stock]:
        """The solutions ``recipe`` takes by the mL, worked out where none is named.

        Raises:
            BadInput: a recipe contains itself.
        """
        chain = (*within, recipe.name)
        found: dict[str, Stock] = dict(pinned or {})
        for name in dict.fromkeys(s.recipe for s in recipe.steps if s.recipe):
            if name in chain:
                raise BadInput(
                    f"{' takes '.join((*chain, name))}: a recipe cannot hold itself",
                    place="add",
                    remedy="Name another recipe in that step.",
                )
            if name not in found:
                found[name] = self._planned_stock(name, on, chain)
        return found

    def _planned_stock(self, name: str, on: datetime, chain: tuple[str, ...]) -> Stock:
        from labelkit.mixing.working import as_stock, plan_recipe

        recipe = self.book.read(name)
        plan = plan_recipe(
            recipe,
            None,
            self.handbook(recipe),
            self.settings,
            on=on,
            stocks=self.stocks(recipe, on, within=chain),
        )
        return as_stock(plan)

    def _is_on_the_shelf(self, named: str) -> bool:
        from labelkit.mixing.numbers import read_number

        if self.bench is None or not self.bench.shelf.is_file():
            return False
        try:
            return read_number(named) in self.shelf
        except BadInput:
            return False

    def frozen_recipe(self, record: Record) -> Recipe:
        """The recipe a batch followed, with its chemicals as they were known then.

        Raises:
            NoAnswer: it is a bottle that was found, and nobody knows what is in it.
        """
        refuse_found(record)
        return self.recipe_as_kept(record.data, f"batch {record.number}")

    def recipe_as_kept(self, data: Mapping[str, Any], place: str) -> Recipe:
        """The recipe kept in ``data``, a batch's or half a mix's.

        Args:
            data: ``recipe`` and ``chemicals``, as `mixing.record.freeze` writes them.
            place: where it is kept, for faults.
        """
        from labelkit.files.chemicals import entries_from_tables
        from labelkit.files.recipes import recipe_from_text

        frozen = data["recipe"]
        entries, _ = entries_from_tables(data["chemicals"], place=place, stored=True)
        recipe = recipe_from_text(
            frozen["document"],
            frozen["name"],
            self.catalogue.with_own(entries),
            place=place,
            choices=frozen["choices"],
        )
        return replace(recipe, own_chemicals=tuple(entries))

    def _assays(
        self, catalogue: Catalogue, lots: Mapping[str, Decimal]
    ) -> dict[str, Decimal]:
        """Assays of the jars [%]: --lot, else jars.toml, else the own entry."""
        own = {
            entry.substance.id: entry.substance.assay_percent
            for entry in catalogue.entries.values()
            if entry.substance.assay_percent is not None
        }
        cupboard = {
            jar.chemical: jar.assay_percent
            for jar in self.jars
            if jar.assay_percent is not None
        }
        return {**own, **cupboard, **lots}

    def _parts(self, recipe: Recipe) -> dict[str, str]:
        """What the other recipes of the set are called: their letter, else title."""
        names = recipe.use.goes_with if recipe.use else ()
        found = {}
        for name in names:
            try:
                other = self.book.read(name)
            except BadInput:
                continue
            found[name] = other.part or other.title
        return found


def _in_its_file(error: BadInput, recipe: Recipe) -> LabelkitError:
    """The fault with its file before it, unless it was typed with the command."""
    typed = any(fault.place.startswith("-") for fault in error.faults)
    return error if typed else error.at(f"{recipe.name}.toml")
