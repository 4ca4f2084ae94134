"""How a solution is used: the tables ``[use]`` and ``capacity`` of a recipe."""

from collections.abc import Sequence
from decimal import Decimal

from labelkit.chemistry.amounts import parse_amount
from labelkit.chemistry.ratios import parse_ratio
from labelkit.files.names import recipe_name
from labelkit.files.tables import Table
from labelkit.mixing.recipe import Capacity, Use

__all__ = ["read_use"]

_MOST_TREATED = Decimal(1_000_000)


def read_use(top: Table, recipe: str) -> Use | None:
    """The use of ``recipe``; None where nothing is said about it."""
    table = top.table("use")
    if table is None:
        return None
    use = Use(
        ratio=table.parsed("ratio", parse_ratio, "1+9", ()) or (),
        goes_with=table.words("with", recipe_name, '["pyro-b"]'),
        makes=table.parsed("makes", parse_amount, "1 L"),
        capacity=_capacity(table),
    )
    table.close()
    _check_partners(use.goes_with, table, recipe)
    if use.ratio:
        _check_ratio(use, table)
    return use


def _capacity(use: Table) -> Capacity | None:
    table = use.table("capacity")
    if table is None:
        return None
    example = '{ amount = 10, of = "roll", per = "1 L" }'
    for key in ("amount", "of", "per"):
        if key not in table:
            table.fault(key, "is missing", f"Write capacity = {example}.")
    amount = table.number("amount", Decimal("0.001"), _MOST_TREATED)
    unit = table.text("of")
    per = table.parsed("per", parse_amount, "1 L")
    table.close()
    return Capacity(amount, unit, per) if amount and unit and per else None


def _check_partners(partners: Sequence[str], table: Table, recipe: str) -> None:
    if recipe.casefold() in (name.casefold() for name in partners):
        table.fault("with", "names this recipe itself", "Name the others only.")
    if len(set(partners)) < len(partners):
        table.fault("with", "names a recipe twice", "Name each once.")


def _check_ratio(use: Use, table: Table) -> None:
    """This and the others, in order, and water if there is any."""
    others = len(use.goes_with)
    if len(use.ratio) - others in (1, 2):
        return
    told = " and ".join(["this", *use.goes_with])
    table.fault(
        "ratio",
        f"has {len(use.ratio)} parts for {told}",
        "Write one part for each and, last, one for water.",
    )
