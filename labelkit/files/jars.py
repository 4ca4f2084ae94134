"""What stands in the cupboard: ``jars.toml``."""

from collections.abc import Callable, Mapping
from pathlib import Path

from labelkit.chemistry.amounts import Amount, parse_amount
from labelkit.chemistry.percents import parse_assay
from labelkit.files.tables import Faults, Table
from labelkit.files.toml import parse_toml, read_text
from labelkit.mixing.bench import Jar
from labelkit.mixing.catalogue import Catalogue

__all__ = ["jars_from_text", "read_jars"]


def read_jars(
    path: Path,
    catalogue: Catalogue | None = None,
    *,
    choices: Mapping[str, str] | None = None,
) -> tuple[Jar, ...]:
    """The jars in a file, each naming its chemical by id.

    Args:
        path: of the file.
        catalogue: finds the chemicals by name; None takes each as it is written.
        choices: ids already chosen for words that fit several chemicals.

    Raises:
        Unknown: there is no such file.
        Ambiguous: nothing is wrong but words that fit several chemicals.
        BadInput: the file has faults; all of them are told.
        ShelfError: it cannot be opened.
    """
    text = read_text(path)
    return jars_from_text(text, catalogue, place=path.name, choices=choices)


def jars_from_text(
    text: str,
    catalogue: Catalogue | None = None,
    *,
    place: str = "",
    choices: Mapping[str, str] | None = None,
) -> tuple[Jar, ...]:
    """The jars in a text.

    Raises:
        Ambiguous: nothing is wrong but words that fit several chemicals.
        BadInput: the text has faults; all of them are told.
    """

    def chemical(word: str) -> str:
        return catalogue.find(word, choices or {}).id if catalogue else word.strip()

    faults = Faults()
    top = Table(parse_toml(text, place), place, faults)
    jars = tuple(_jar(table, chemical) for table in top.tables("jar"))
    top.close()
    faults.raise_any()
    return jars


def _jar(table: Table, chemical: Callable[[str], str]) -> Jar:
    jar = Jar(
        chemical=table.required("chemical", chemical, "sodium-hydroxide") or "",
        lot=table.text("lot"),
        assay_percent=table.parsed("assay", parse_assay, "98 %"),
        opened=table.day("opened"),
        pack=_pack(table),
        price=table.text("price"),
    )
    table.close()
    return jar


def _pack(table: Table) -> str:
    """The words of an amount that could be read."""
    pack: Amount | None = table.parsed("pack", parse_amount, "500 g")
    return pack.written if pack else ""
