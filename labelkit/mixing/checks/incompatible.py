"""What must not meet, where it meets: vessel by vessel, in the order of the steps."""

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.display import figures
from labelkit.chemistry.reactions import Run
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.checks.buffered import (
    NOTICED_BUFFER,
    SILENT_BUFFER,
    buffer_ratio,
    sulfite_later,
)
from labelkit.mixing.checks.holding import (
    Scene,
    capital,
    joined,
    percent,
    present,
    scenes,
    tags_of,
)
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan
from labelkit.mixing.rules import Condition, MixingRule, Severity

__all__ = ["check_incompatible"]

# `dry_or_concentrated`: the contract's figure [% w/w of what the vessel holds].
CONCENTRATED = Decimal(10)
# A weak acid counts as a strong one in a vessel above this; ours [degC].
HOT_C = 50.0
# Below these shares of either partner nothing is said [% w/w]; ours.
TRACES = {
    Severity.DEADLY: Decimal(0),
    Severity.SERIOUS: Decimal("0.01"),
    Severity.CAUTION: Decimal("0.5"),
    Severity.QUALITY: Decimal(1),
}
# What keeps a rule from biting where it is there too (said in the rules' own words).
HELD_BACK_BY = {"copper-iodide-reducer": frozenset({"chelator"})}
# Gum and gelatin in water with dichromate are the craft itself, until they are dry.
COLLOID_RULE = "dichromate-organic"
BURNS_WET_TOO = frozenset({"alcohol", "polyol", "reducer", "flammable"})
CHOKING_GAS = "sulfur dioxide"
ALUMINIUM = re.compile(r"\b(alumini?um|zinc|tin|galvani[sz]ed)\b", re.IGNORECASE)
GASES = {
    "CO2": "carbon dioxide", "SO2": "sulfur dioxide", "NH3": "ammonia", "O2": "oxygen",
}  # fmt: skip


class _Meeting(Struct, frozen=True):
    """A rule that bites: side a and side b, and the step at which they meet."""

    rule: MixingRule
    side_a: str
    side_b: str
    scene: Scene

    @property
    def pair(self) -> frozenset[str]:
        return frozenset({self.side_a, self.side_b})


def check_incompatible(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """What must not meet and does: once for each rule, and notes once for each gas."""
    catalogue = handbook.catalogue
    seen = scenes(plan, catalogue)
    told: dict[tuple[Level, str], list[_Meeting]] = {}
    for meeting in _meetings(seen, handbook):
        level = _level(meeting, plan, seen, catalogue)
        if level is not None:
            told.setdefault((level, _topic(meeting, level)), []).append(meeting)
    for (level, _), meetings in told.items():
        rule = min((m.rule for m in meetings), key=handbook.rules.index)
        text = _text([m for m in meetings if m.rule is rule], level, catalogue)
        step = min(m.scene.moment.step for m in meetings)
        yield Check("incompatible", level, step, text)
    yield from _declared_gases(plan, seen)
    yield from _vessels(plan, seen, handbook)


def _topic(meeting: _Meeting, level: Level) -> str:
    """Notes about one gas are one topic, graver remarks one for each rule."""
    rule = meeting.rule
    return (rule.gas or rule.id) if level is Level.NOTE else rule.id


def _meetings(seen: tuple[Scene, ...], handbook: Handbook) -> Iterator[_Meeting]:
    """Of every pair the gravest rule that bites, when the pair first meets."""
    told: set[frozenset[str]] = set()
    for scene in seen:
        for new in scene.entering:
            for old in present(scene.before):
                pair = frozenset({new, old})
                if len(pair) < 2 or pair in told:
                    continue
                meeting = _gravest(new, old, scene, handbook)
                if meeting:
                    told.add(pair)
                    yield meeting


def _gravest(new: str, old: str, scene: Scene, handbook: Handbook) -> _Meeting | None:
    found = [
        meeting
        for rule in handbook.rules
        for meeting in _sides(rule, new, old, scene, handbook.catalogue)
        if _holds(meeting, new, old, handbook.catalogue)
    ]
    return min(found, key=lambda m: m.rule.severity.rank, default=None)


def _sides(
    rule: MixingRule, new: str, old: str, scene: Scene, catalogue: Catalogue
) -> Iterator[_Meeting]:
    tags_a = rule.tags_a
    if rule.condition is Condition.STRONG_ACID and scene.moment.after_C > HOT_C:
        tags_a |= {"acid"}
    for one, other in sorted([(new, old), (old, new)]):
        there = tags_of(one, catalogue) & tags_a
        if there and tags_of(other, catalogue) & rule.tags_b:
            yield _Meeting(rule, one, other, scene)


def _holds(meeting: _Meeting, new: str, old: str, catalogue: Catalogue) -> bool:
    """Whether the condition of the rule is met in this vessel at this step."""
    rule, scene = meeting.rule, meeting.scene
    there = _all_tags(scene, catalogue)
    if there & HELD_BACK_BY.get(rule.id, frozenset()):
        return False
    match rule.condition:
        case Condition.CONTACT:
            return False
        case Condition.WITH_THIRD:
            return bool(there & rule.third)
        case Condition.DRY_OR_CONCENTRATED:
            before, after = scene.before, scene.after
            strongest = max(
                percent(before, old), percent(after, old), percent(after, new)
            )
            return strongest >= CONCENTRATED
        case Condition.ANY | Condition.STRONG_ACID:
            return True


def _all_tags(scene: Scene, catalogue: Catalogue) -> frozenset[str]:
    held = present(scene.moment.after)
    return frozenset[str]().union(*(tags_of(c, catalogue) for c in held))


def _level(
    meeting: _Meeting, plan: Plan, seen: tuple[Scene, ...], catalogue: Catalogue
) -> Level | None:
    """How grave it is here; None where nothing need be said."""
    rule = meeting.rule
    level = Level(rule.severity.level)
    if level is Level.STOP:
        return level
    least = min(percent(meeting.scene.moment.after, c) for c in meeting.pair)
    if least < TRACES[rule.severity] or _is_declared(meeting.pair, plan):
        return None
    if rule.gas == CHOKING_GAS and _is_weak(meeting.side_a, catalogue):
        return _of_weak_acid(meeting, level, seen, catalogue)
    if rule.id == COLLOID_RULE and _is_wet_colloid(meeting, catalogue):
        return Level.NOTE
    return level


def _is_declared(pair: Collection[str], plan: Plan) -> bool:
    return any(set(pair) <= set(spec.reactants) for spec in plan.recipe.reactions)


def _is_weak(chemical: str, catalogue: Catalogue) -> bool:
    tags = tags_of(chemical, catalogue)
    return bool(tags & {"acid", "mild-acid"}) and "strong-acid" not in tags


def _of_weak_acid(
    meeting: _Meeting, level: Level, seen: tuple[Scene, ...], catalogue: Catalogue
) -> Level | None:
    """Weak acid with sulfite there first is how acid fixers are built."""
    if sulfite_later(meeting.scene, seen, catalogue):
        return None  # the remark on the order of the steps says it
    ratio = buffer_ratio(meeting.scene.moment.after, catalogue)
    if ratio is None or ratio < NOTICED_BUFFER:
        return level
    return Level.NOTE if ratio < SILENT_BUFFER else None


def _is_wet_colloid(meeting: _Meeting, catalogue: Catalogue) -> bool:
    after = meeting.scene.moment.after
    burns = tags_of(meeting.side_b, catalogue) & BURNS_WET_TOO
    return not burns and after.water_g * 2 >= after.mass_g


def _text(meetings: Sequence[_Meeting], level: Level, catalogue: Catalogue) -> str:
    """What is said of all the pairs that break one rule."""
    rule = meetings[0].rule
    one = _names((m.side_a for m in meetings), catalogue)
    other = _names((m.side_b for m in meetings), catalogue)
    if level is Level.NOTE and rule.severity is Severity.SERIOUS and rule.gas:
        return (
            f"{capital(one)} with {other}: some {rule.gas} comes off although sulfite "
            "is there. Pour it in slowly, open the window; asthmatics keep away."
        )
    together = f"{one} with {other}. {rule.text}"
    return f"Do not mix: {together}" if level is Level.STOP else capital(together)


def _names(chemicals: Iterable[str], catalogue: Catalogue) -> str:
    return joined(catalogue.substance(c).name for c in sorted(set(chemicals)))


def _declared_gases(plan: Plan, seen: tuple[Scene, ...]) -> Iterator[Check]:
    for run in plan.solution.runs:
        if run.gas is not None:
            name = GASES.get(run.gas.formula, run.gas.formula)
            text = (
                f"{figures(run.gas.volume_L, 2)} L of {name} come off: use a large "
                "vessel, open the window, and close no bottle before it has stopped."
            )
            yield Check("incompatible", Level.NOTE, _where(run, seen), text)


def _where(run: Run, seen: tuple[Scene, ...]) -> int | None:
    """The step at which all that reacts has come together."""
    needed = {species.chemical for species, _ in run.equation.reactants}
    steps = (s.moment.step for s in seen if needed <= set(present(s.moment.after)))
    return next(steps, None)


def _vessels(
    plan: Plan, seen: tuple[Scene, ...], handbook: Handbook
) -> Iterator[Check]:
    """A vessel or bottle that is called aluminium, zinc or tin, with lye in it."""
    held = {c.chemical: None for c in plan.solution.contents}
    places: list[tuple[str, Collection[str], int | None]]
    places = [(plan.recipe.keep_in, tuple(held), None)]
    places += [(s.moment.vessel, s.entering, s.moment.step) for s in seen]
    told: set[str] = set()
    for place, chemicals, step in places:
        if place in told or not ALUMINIUM.search(place):
            continue
        found = _bitten(chemicals, handbook)
        if found:
            told.add(place)
            chemical, rule = found
            name = handbook.catalogue.substance(chemical).name
            text = f"{capital(name)} in '{place}'. {rule.text}"
            yield Check("incompatible", Level(rule.severity.level), step, text)


def _bitten(
    chemicals: Collection[str], handbook: Handbook
) -> tuple[str, MixingRule] | None:
    """The first of them that a rule on contact with metal speaks of."""
    for rule in handbook.rules:
        if rule.condition is not Condition.CONTACT:
            continue
        for chemical in chemicals:
            if rule.joins(tags_of(chemical, handbook.catalogue), {"metal-aluminium"}):
                return chemical, rule
    return None
