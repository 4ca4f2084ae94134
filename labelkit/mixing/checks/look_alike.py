"""A jar taken for its neighbour, where that would hurt."""

from collections.abc import Iterator
from difflib import SequenceMatcher

from labelkit.chemistry.substances import Substance
from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.holding import capital, tags_of
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.headline import split_hydrate
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
    if len(jars) < 2:
        return
    confused = {word for group in catalogue.look_alikes for word in group.words}
    for chemical, step in jars.items():
        meant = catalogue.substance(chemical)
        if not confused & set(fold(_called(meant)).split()):
            continue
        for taken in catalogue.alike(meant.name):
            if not _is_misread(meant, taken):
                continue
            for other in plan.solution.ledger.lines:
                rule = _bites(chemical, taken.id, other, handbook)
                if rule:
                    yield step, _text(meant, taken, other, rule, handbook), rule


def _is_misread(meant: Substance, taken: Substance) -> bool:
    """Whether the names differ in one word, and there by a letter or two."""
    mine, other = fold(_called(meant)).split(), fold(_called(taken)).split()
    differing = [pair for pair in zip(mine, other, strict=False) if len(set(pair)) == 2]
    if len(mine) != len(other) or len(differing) != 1:
        return False
    return SequenceMatcher(None, *differing[0]).ratio() >= MISREAD


def _called(substance: Substance) -> str:
    """Its name without the form: ``sodium sulfite``."""
    return split_hydrate(substance.name.partition(",")[0])[0]


def _bites(meant: str, taken: str, other: str, handbook: Handbook) -> MixingRule | None:
    """The rule that the swap would break, where it is graver than without it."""
    if other == meant:
        return None
    wrong, right = (_gravest(c, other, handbook) for c in (taken, meant))
    if wrong and right and right.severity.rank <= wrong.severity.rank:
        return None
    return wrong


def _gravest(one: str, other: str, handbook: Handbook) -> MixingRule | None:
    tags, beside = (tags_of(c, handbook.catalogue) for c in (one, other))
    found = [
        rule
        for rule in handbook.rules
        if rule.severity in HURTS
        and rule.condition in AT_ANY_STRENGTH
        and rule.joins(tags, beside)
    ]
    return min(found, key=lambda rule: rule.severity.rank, default=None)


def _text(
    meant: Substance, taken: Substance, other: str, rule: MixingRule, handbook: Handbook
) -> str:
    beside = _called(handbook.catalogue.substance(other))
    deadly = rule.severity is Severity.DEADLY and rule.gas
    harm = f"a deadly gas, {rule.gas}," if deadly else rule.product
    return (
        f"{capital(_called(meant))}, not {_called(taken)}: that gives {harm} with the "
        f"{beside}. Read the jar twice."
    )
