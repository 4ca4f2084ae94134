"""The cautions that are not law, as they travel with labelkit."""

from collections.abc import Mapping
from functools import lru_cache

from labelkit.chemistry.substances import Confidence, State
from labelkit.errors import BadInput
from labelkit.files.data import Citation, cite, read_data, sources, tags
from labelkit.files.tables import Faults, Table
from labelkit.mixing.caution import Apart, CautionRule, Handling, Kind, Place, Subject
from labelkit.mixing.rules import Severity

__all__ = ["read_handling"]

_FILE = "handling.toml"
_KINDS = tuple(str(kind) for kind in Kind)
_PLACES = tuple(str(place) for place in Place)
_SEVERITIES = tuple(str(severity) for severity in Severity)
_STATES = tuple(str(state) for state in State)

_Sources = Mapping[str, Citation]


@lru_cache(maxsize=1)
def read_handling() -> Handling:
    """Every caution and every pair of bottles, in the order of the file.

    Raises:
        BadInput: our own file has a fault.
    """
    data = read_data(_FILE)
    faults = Faults()
    known = {
        key: Citation(source["text"], Confidence(source["confidence"]))
        for key, source in data.pop("sources").items()
    }
    top = Table(data, _FILE, faults)
    cautions = tuple(_caution(table, known) for table in top.tables("caution"))
    pairs = tuple(_apart(table, known) for table in top.tables("apart"))
    top.close()
    faults.raise_any()
    return Handling(cautions, pairs)


def _caution(table: Table, known: _Sources) -> CautionRule:
    source = _source(table, known)
    rule = CautionRule(
        table.required_text("id", "no-aluminium"),
        Kind(table.choice("kind", _KINDS, Kind.MIXING)),
        Severity(table.choice("severity", _SEVERITIES, Severity.SERIOUS)),
        table.required_text("text", "What to do, in a sentence."),
        source.text,
        source.confidence,
        _subject(table),
        Place(table.choice("where", _PLACES, Place.EITHER)),
        together=_tags(table, "together"),
        hazard=table.words("hazard", str, '["Skin Corr."]'),
        said_by=table.words("said_by", str, '["nitrile"]'),
        said_by_codes=table.words("said_by_codes", str, '["P280"]'),
    )
    table.close()
    return rule


def _subject(table: Table) -> Subject:
    return Subject(
        _tags(table, "tags"),
        frozenset(table.words("parents", str, '["pyrogallol"]')),
        frozenset(table.words("elements", str, '["Cr"]')),
        table.words("classes", str, '["Skin Corr."]'),
        frozenset(table.words("states", _state, '["solid"]')),
    )


def _apart(table: Table, known: _Sources) -> Apart:
    source = _source(table, known)
    pair = Apart(
        table.required_text("id", "acid-sulfide"),
        _tags(table, "tags_a"),
        _tags(table, "tags_b"),
        Severity(table.choice("severity", _SEVERITIES, Severity.SERIOUS)),
        table.required_text("named_a", "acids"),
        table.required_text("named_b", "sulfide toner"),
        table.required_text("text", "What happens when both leak."),
        source.text,
        source.confidence,
    )
    table.close()
    return pair


def _source(table: Table, known: _Sources) -> Citation:
    """Everything it rests on, as far as the weakest of it may be relied on."""

    def read(key: str) -> Citation:
        if key not in known and key not in sources():
            raise BadInput(
                f"'{key}' is no source",
                remedy="Write a key of [sources] or of sources.toml.",
            )
        return known.get(key) or cite(key)

    cited = table.words("source", read, '["handbook"]')
    if not cited:
        if not table.items("source", '["handbook"]'):
            table.fault("source", "is missing", 'Write source = ["handbook"].')
        return cite("")
    ranks = list(Confidence)
    weakest = max((one.confidence for one in cited), key=ranks.index)
    return Citation("; ".join(one.text for one in cited), weakest)


def _tags(table: Table, key: str) -> frozenset[str]:
    return frozenset(table.words(key, _tag, '["acid"]'))


def _tag(word: str) -> str:
    if word not in tags():
        raise BadInput(f"'{word}' is no tag", remedy="Write one of tags.toml.")
    return word


def _state(word: str) -> str:
    if word not in _STATES:
        raise BadInput(
            f"'{word}' is no state", remedy=f"Write one of: {', '.join(_STATES)}."
        )
    return word
