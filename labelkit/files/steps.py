"""The steps of a recipe, one by one."""

from collections.abc import Mapping
from decimal import Decimal
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import (
    Amount,
    Dimension,
    parse_amount,
    parse_duration,
    parse_temperature,
)
from labelkit.chemistry.numbers import quoted
from labelkit.chemistry.percents import parse_assay
from labelkit.chemistry.substances import State
from labelkit.errors import BadInput
from labelkit.files.names import recipe_name
from labelkit.files.tables import Table
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.doses import WATER
from labelkit.mixing.recipe import Step

__all__ = ["KINDS_OF_WATER", "MAIN_WORDS", "Words", "read_step"]

# What people call the vessel that has no name.
MAIN_WORDS = frozenset({"", "main", "main vessel", "the main vessel"})

_DEEDS = ("add", "make_up_to", "pour", "cool_to")
KINDS_OF_WATER = ("tap", "boiled", "distilled")
_RECIPE = "recipe:"
# What water and a bath are handled at [degC]; our own bounds.
_COLDEST_C, _HOTTEST_C = -20, 100


class Words(Struct, frozen=True):
    """What the words of one recipe mean.

    Attributes:
        recipe: the recipe's own name.
        catalogue: with the recipe's own chemicals.
        choices: ids already chosen, by the word they answer.
        drop_mL: what a drop is taken for [mL].
    """

    recipe: str
    catalogue: Catalogue
    choices: Mapping[str, str]
    drop_mL: Decimal

    def chemical(self, word: str) -> str:
        """The id of the chemical called ``word``.

        Raises:
            Unknown: no chemical is called that.
            Ambiguous: the word fits several.
        """
        return self.catalogue.find(word, self.choices).id

    def added(self, word: str) -> str:
        """What ``add`` names: a chemical's id, ``water``, or ``recipe:NAME``.

        Raises:
            BadInput: as `chemical`, or it names no other recipe.
        """
        if word.strip().startswith(_RECIPE):
            name = recipe_name(word.strip().removeprefix(_RECIPE))
            if name.casefold() == self.recipe.casefold():
                raise BadInput(
                    f"{quoted(word)} is this recipe itself",
                    remedy="Name another recipe, or a chemical.",
                )
            return _RECIPE + name
        kind, _, water = word.strip().casefold().rpartition(" ")
        if water != WATER:
            return self.chemical(word)
        if kind in KINDS_OF_WATER:
            raise BadInput(
                f"{quoted(word)} is a kind of water",
                remedy=f'Write add = "water" and kind = "{kind}".',
            )
        return WATER if not kind else self.chemical(word)


def read_step(table: Table, number: int, words: Words) -> Step:
    """The step in ``table``; what is wrong with it is noted there."""
    text = table.text("text")
    _check_one_deed(table, text)
    amount = partial(parse_amount, drop_mL=words.drop_mL)
    step = Step(
        number=number,
        add=table.parsed("add", words.added, "borax-decahydrate"),
        amount=_amount(table, words.drop_mL),
        make_up_to=table.parsed("make_up_to", amount, "500 mL"),
        pour=table.parsed("pour", _vessel, "second jug"),
        cool_to_C=table.parsed("cool_to", _temperature, "25 degC"),
        at_C=table.parsed("at", _temperature, "40 degC"),
        assay_percent=table.parsed("assay", parse_assay, "98 %"),
        kind=table.choice("kind", KINDS_OF_WATER),
        vessel=_side_vessel(table),
        text=text,
        caution=table.text("caution"),
        wait=table.parsed("wait", parse_duration, "10 minutes"),
    )
    table.close()
    return _checked(step, table, words)


def _amount(table: Table, drop_mL: Decimal) -> Amount | None:
    """The amount, which stands beside ``add`` and nowhere else."""
    parse = partial(parse_amount, drop_mL=drop_mL)
    if "add" in table:
        return table.required("amount", parse, "8.7 g")
    amount = table.parsed("amount", parse, "8.7 g")
    for key in ("amount", "assay"):
        if key in table:
            table.fault(key, "stands in a step that adds nothing", "Write add too.")
    return amount


def _temperature(text: str) -> Decimal:
    at_C = parse_temperature(text)
    if not _COLDEST_C <= at_C <= _HOTTEST_C:
        raise BadInput(
            f"{quoted(text)} is no temperature for mixing",
            remedy=f"Write one from {_COLDEST_C} to {_HOTTEST_C} degC.",
        )
    return at_C


def _vessel(text: str) -> str:
    return " ".join(text.split())


def _side_vessel(table: Table) -> str:
    vessel = table.text("in")
    if "in" in table and vessel.casefold() in MAIN_WORDS:
        table.fault(
            "in",
            f"{quoted(vessel)} is the main vessel",
            "Leave it out, or write the other vessel's name.",
        )
        return ""
    return vessel


def _check_one_deed(table: Table, text: str) -> None:
    deeds = [deed for deed in _DEEDS if deed in table]
    if len(deeds) > 1:
        problem = f"does more than one thing: {', '.join(deeds)}"
        table.fault("", problem, "Write a step for each.")
    elif not deeds and not text:
        table.fault("", "does nothing", f"Write one of: {', '.join(_DEEDS)}, text.")


def _checked(step: Step, table: Table, words: Words) -> Step:
    """The step, water with its kind; what does not go together is noted."""
    water = step.add == WATER
    if "kind" in table and not water and "make_up_to" not in table:
        table.fault("kind", "belongs to water only", "Leave it out.")
    if step.add and "assay" in table and (water or step.recipe):
        what = "water" if water else "a solution"
        table.fault("assay", f"{what} has no assay", "Leave it out.")
    if step.add and step.amount and not water:
        _check_measure(step.add, step.amount, table, words.catalogue)
    return replace(step, kind=step.kind or KINDS_OF_WATER[0]) if water else step


def _check_measure(
    added: str, amount: Amount, table: Table, catalogue: Catalogue
) -> None:
    """A solid is weighed, a solution of another recipe is poured."""
    poured = amount.dimension is Dimension.VOLUME
    written = quoted(amount.written)
    if added.startswith(_RECIPE):
        if not poured:
            problem = f"{written} is a mass of a solution"
            table.fault("amount", problem, "Write how many mL are poured.")
    elif poured and catalogue.substance(added).state is State.SOLID:
        table.fault(
            "amount",
            f"{written} is a volume of a solid, which weighs more or less as it is "
            "packed",
            f"Weigh the {added}: write g.",
        )
