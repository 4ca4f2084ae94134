"""The rules on what must not meet, as they travel with labelkit."""

from functools import lru_cache

from labelkit.errors import BadInput
from labelkit.files.data import cite, read_data, tags
from labelkit.files.tables import Faults, Table
from labelkit.mixing.rules import Condition, MixingRule, Severity

__all__ = ["read_rules"]

_SEVERITIES = tuple(str(severity) for severity in Severity)
_CONDITIONS = tuple(str(condition) for condition in Condition)


@lru_cache(maxsize=1)
def read_rules() -> tuple[MixingRule, ...]:
    """Every mixing rule, in the order of the file.

    Raises:
        BadInput: our own file has a fault.
    """
    faults = Faults()
    top = Table(read_data("rules.toml"), "rules.toml", faults)
    rules = tuple(_rule(table) for table in top.tables("rule"))
    faults.raise_any()
    return rules


def _rule(table: Table) -> MixingRule:
    source = cite(table.required_text("source", "handbooks-recalled"))
    rule = MixingRule(
        table.required_text("id", "acid-sulfide"),
        _tags(table, "tags_a"),
        _tags(table, "tags_b"),
        Severity(table.choice("severity", _SEVERITIES, Severity.DEADLY)),
        Condition(table.choice("condition", _CONDITIONS, Condition.ANY)),
        product=table.required_text("product", "hydrogen sulfide"),
        text=table.required_text("text", "What happens, and what to do."),
        applies=table.text("applies"),
        gas=table.text("gas"),
        third=_tags(table, "third"),
        never_with_a=table.text("never_with_a"),
        never_with_b=table.text("never_with_b"),
        source=source.text,
        confidence=source.confidence,
    )
    table.close()
    return rule


def _tags(table: Table, key: str) -> frozenset[str]:
    return frozenset(table.words(key, _tag, '["acid"]'))


def _tag(word: str) -> str:
    if word not in tags():
        raise BadInput(f"'{word}' is no tag", remedy="Write one of tags.toml.")
    return word
