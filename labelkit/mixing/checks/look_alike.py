"""A jar taken for its neighbour, where that would hurt."""

from collections.abc import Iterator
from difflib import SequenceMatcher

from labelkit.chemistry.substances import Substance
from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.holding import capital, tags_of
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.naming import fold
from labelkit.mixing.plan import Plan
from labelkit.mixing.rules import Condition, MixingRule, Severity

__all__ = ["check_look_alike"]

# How like two words are before one is read for the other (difflib's ratio): sulfide
# for sulfite 0.86, bisulfate for bisulfite 0.89, bisulfate for sulfite 0.75; ours.
MISREAD = 0.8
HURTS = (Severity.DEADLY, Severity.SERIOUS)
AT_ANY_STRENGTH = (Condition.ANY, Condition.STRONG_ACID)


def check_look_alike(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """At most one note: the swap that would be gravest with what else goes in."""
    swaps = sorted(_swaps(plan, handbook), key=lambda swap: swap[2].severity.rank)
    for step, text, _ in swaps[:1]:
        yield Check("look-alike", Level.NOTE, step, text)


def _swaps(plan: Plan, handbook: Handbook) -> Iterator[tuple[int, str, MixingRule]]:
    catalogue = handbook.catalogue
    jars = {d.chemical: d.step for d in plan.job.doses if d.chemical in catalogue}
    for chemical, step in jars.items():
        meant = catalogue.substance(chemical)
        for taken in catalogue.alike(meant.name):
            if not _is_misread(meant, taken):
                continue
            for other in plan.solution.ledger.lines:
                rule = _bites(chemical, taken.id, other, handbook)
                if rule:
                    yield step, _text(meant, taken, other, rule, handbook), rule


def _is_misread(meant: Substance, taken: Substance) -> bool:
    """Whether a word of one name differs from its fellow by a letter or two."""
    return any(
        one != other and SequenceMatcher(None, one, other).ratio() >= MISREAD
        for one, other in zip(_words(meant), _words(taken), strict=False)
    )


def _words(substance: Substance) -> list[str]:
    return fold(substance.name).split()


def _bites(
    meant: str, taken: str, other: str, handbook: Handbook
) -> MixingRule | None:
    """The gravest rule that the swap would break and the right jar does not."""
    if other == meant:
        return None
    catalogue = handbook.catalogue
    mine, wrong, beside = (tags_of(c, catalogue) for c in (meant, taken, other))
    found = [
        rule
        for rule in handbook.rules
        if rule.severity in HURTS
        and rule.condition in AT_ANY_STRENGTH
        and rule.joins(wrong, beside)
        and not rule.joins(mine, beside)
    ]
    return min(found, key=lambda rule: rule.severity.rank, default=None)


def _text(
    meant: Substance, taken: Substance, other: str, rule: MixingRule, handbook: Handbook
) -> str:
    beside = handbook.catalogue.substance(other).name
    return (
        f"{capital(meant.name)}, not {taken.name}: that gives {rule.product} with the "
        f"{beside}. Read the jar twice."
    )
