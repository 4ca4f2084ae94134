"""What stands behind a classification, read only when an entry is shown."""

from collections import defaultdict
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from labelkit.files.data import cite, read_data
from labelkit.mixing.evidence import AnnexEntry, AuthorityResult

__all__ = ["read_annex_entries", "read_other_authorities"]


@lru_cache(maxsize=1)
def read_annex_entries() -> Mapping[str, AnnexEntry]:
    """The entries of Annex VI that chemicals refer to, by index number."""
    data = read_data("annex_vi.toml")
    return {
        index: _entry(index, entry, data["atp"][entry["atp"]])
        for index, entry in data["entry"].items()
    }


@lru_cache(maxsize=1)
def read_other_authorities() -> Mapping[str, tuple[AuthorityResult, ...]]:
    """What other authorities found, by chemical id."""
    found = defaultdict(list)
    for table in read_data("authorities.toml")["result"]:
        found[table["chemical"]].append(_result(table))
    return {chemical: tuple(results) for chemical, results in found.items()}


def _entry(index: str, entry: Mapping[str, str], atp: Mapping[str, Any]) -> AnnexEntry:
    return AnnexEntry(
        index, entry["name"], entry["atp"], atp["regulation"], atp["in_application"]
    )


def _result(table: Mapping[str, Any]) -> AuthorityResult:
    source = cite(table["source"])
    return AuthorityResult(
        table["authority"],
        tuple(table["classes"]),
        h=tuple(table.get("h", ())),
        years=tuple(table.get("years", ())),
        list_flag=table.get("list_flag", ""),
        listed_under_cas=table.get("listed_under_cas", ""),
        source=source.text,
        confidence=source.confidence,
    )
