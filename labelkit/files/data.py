"""The sourced figures that travel with labelkit, and the sources they cite."""

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Any

from msgspec import Struct

from labelkit.chemistry.substances import Confidence
from labelkit.resources import data_dir

__all__ = ["Citation", "cite", "flags", "read_data", "sources", "tags"]


class Citation(Struct, frozen=True):
    """Where a figure comes from, in full, and how far it may be relied on."""

    text: str
    confidence: Confidence


def read_data(*path: str) -> dict[str, Any]:
    """The tables of one of our own data files, with every fraction as a Decimal."""
    file = data_dir().joinpath(*path)
    return tomllib.loads(file.read_text("utf-8"), parse_float=Decimal)


@lru_cache(maxsize=1)
def sources() -> Mapping[str, Citation]:
    """Every source that a figure of ours may cite, by its short key."""
    return {
        key: Citation(source["text"], Confidence(source["confidence"]))
        for key, source in read_data("sources.toml").items()
    }


def cite(written: str, confidence: str = "") -> Citation:
    """The source that ``written`` names: by a key of ours, or in words as they are.

    Words that are nobody's key were read by whoever wrote them; nothing at all was
    not read anywhere.
    """
    known = sources().get(written)
    if known and not confidence:
        return known
    text = known.text if known else written
    default = Confidence.FOUND if written else Confidence.MEMORY
    return Citation(text, Confidence(confidence) if confidence else default)


@lru_cache(maxsize=1)
def _words() -> Mapping[str, Mapping[str, str]]:
    return read_data("tags.toml")


def tags() -> Mapping[str, str]:
    """What the mixing rules may ask for, with its meaning."""
    return _words()["tags"]


def flags() -> Mapping[str, str]:
    """What a chemical does on its own in the cupboard, with its meaning."""
    return _words()["flags"]
