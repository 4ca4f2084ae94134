"""What may stand in for what, as it travels with labelkit, each with its source."""

from decimal import Decimal
from functools import lru_cache

from labelkit.files.data import cite, read_data
from labelkit.files.tables import Faults, Table
from labelkit.mixing.forms import Exchange, Family, FormNote, Member, NoNumber
from labelkit.mixing.naming import fold

__all__ = ["read_exchange"]


@lru_cache(maxsize=1)
def read_exchange() -> Exchange:
    """Families, notes between forms, and what has no honest number.

    Raises:
        BadInput: one of our own files has a fault.
    """
    faults = Faults()
    pairs = Table(read_data("pairs.toml"), "pairs.toml", faults)
    place = "no_honest_number.toml"
    refused = Table(read_data(place), place, faults)
    exchange = Exchange(
        tuple(_family(table) for table in pairs.tables("family")),
        tuple(_note(table) for table in pairs.tables("same_parent")),
        tuple(_no_number(table) for table in refused.tables("refused")),
    )
    pairs.close()
    refused.close()
    faults.raise_any()
    return exchange


def _family(table: Table) -> Family:
    source = cite(table.required_text("source", "handbook-conversions"))
    family = Family(
        table.required_text("id", "hydroxides"),
        table.required_text("counts", "hydroxide"),
        tuple(_member(each) for each in table.tables("member")),
        source.text,
        source.confidence,
    )
    table.close()
    return family


def _member(table: Table) -> Member:
    member = Member(
        table.required_text("parent", "sodium-hydroxide"),
        _whole(table, "units", 1),
        _whole(table, "water_mol", 0),
        table.text("brings"),
    )
    table.close()
    return member


def _whole(table: Table, key: str, default: int) -> int:
    value = table.number(key, Decimal(0), Decimal(12))
    return default if value is None else int(value)


def _note(table: Table) -> FormNote:
    source = cite(table.required_text("source", "handbook-conversions"))
    note = FormNote(
        frozenset(table.words("forms", str.strip, '["ascorbic-acid"]')),
        frozenset(table.words("others", str.strip, '["sodium-ascorbate"]')),
        table.required_text("says", "What is not the same."),
        source.text,
        swaps=table.flag("swaps") is not False,
        instead=table.text("instead"),
    )
    table.close()
    return note


def _no_number(table: Table) -> NoNumber:
    source = cite(table.required_text("source", "common practice, no source"))
    entry = NoNumber(
        table.required_text("id", "iron-citrates"),
        table.required_text("why", "The reason, without a full stop"),
        table.required_text("instead", "What a person can do instead."),
        source.text,
        names=frozenset(table.words("names", fold, '["baking powder"]')),
        parents=frozenset(table.words("parents", str.strip, '["metol"]')),
        tags=frozenset(table.words("tags", str.strip, '["developer"]')),
        alone=bool(table.flag("alone")),
    )
    table.close()
    return entry
