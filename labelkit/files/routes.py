"""The vetted routes as they travel with labelkit, each with its source."""

from decimal import Decimal
from functools import lru_cache

from labelkit.files.data import cite, read_data
from labelkit.files.tables import Faults, Table
from labelkit.mixing.routes import Route, Way

__all__ = ["read_routes"]

_WAYS = tuple(str(way) for way in Way)
_COLDEST_C, _HOTTEST_C = Decimal(5), Decimal(95)


@lru_cache(maxsize=1)
def read_routes() -> tuple[Route, ...]:
    """Every route, in the order of the file, which decides between equals.

    Raises:
        BadInput: our own file has a fault.
    """
    faults = Faults()
    top = Table(read_data("routes.toml"), "routes.toml", faults)
    routes = tuple(_route(table) for table in top.tables("route"))
    top.close()
    faults.raise_any()
    return routes


def _route(table: Table) -> Route:
    source = cite(table.required_text("source", "equation-computed"))
    route = Route(
        table.required_text("id", "metaborate-from-borax"),
        Way(table.choice("way", _WAYS, Way.LYE)),
        _ids(table, "products"),
        _slots(table),
        source.text,
        source.confidence,
        beside=_ids(table, "beside"),
        solids=_solids(table),
        first_C=_degrees(table, "first_C", 25),
        hottest_C=_degrees(table, "hottest_C", 60),
        first=table.text("first"),
        second=table.text("second"),
        finish=table.text("finish"),
        caution=table.text("caution"),
        note=table.text("note"),
        keep_in=table.text("keep_in"),
        off_when=table.text("off_when"),
    )
    table.close()
    return route


def _slots(table: Table) -> tuple[tuple[str, ...], ...]:
    """For each chemical that goes in, the forms that will do."""
    example = '[["borax-decahydrate", "borax-anhydrous"], ["sodium-hydroxide"]]'
    slots = table.items("from", example)
    if not all(isinstance(slot, list) and slot for slot in slots):
        table.fault("from", "is not a list of lists", f"Write from = {example}.")
        return ()
    return tuple(tuple(slot) for slot in slots)


def _solids(table: Table) -> tuple[tuple[str, str], ...]:
    inner = table.table("crystallises_as")
    if inner is None:
        return ()
    return tuple((solute, inner.text(solute)) for solute in inner.data)


def _ids(table: Table, key: str) -> tuple[str, ...]:
    return table.words(key, str.strip, '["borax-decahydrate"]')


def _degrees(table: Table, key: str, default: int) -> int:
    value = table.number(key, _COLDEST_C, _HOTTEST_C)
    return default if value is None else int(value)
