"""The vessel that used solutions are collected in: what is said on it.

Nothing is calculated: what is in the tray in the end, nobody has weighed.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import chain, combinations, islice, zip_longest

from msgspec import Struct

from labelkit.mixing.bench import Settings
from labelkit.mixing.notices import Blank, NoticeText
from labelkit.mixing.payload import batch_payload, recipe_payload
from labelkit.mixing.rules import Condition, MixingRule, Severity
from labelkit.mixing.said import AID, capital, first_words
from labelkit.mixing.words import Run, Words

__all__ = ["GENERAL", "OTHER_WASTE", "Ingredient", "must_not_meet", "waste_notice"]

WASTE = "WASTE"
NEVER_ADD = "NEVER ADD"
# What the deadly rules of the mixing rules name, in words for a stranger.
GENERAL = (
    "acid",
    "household bleach",
    "ammonia",
    "sulfide toner",
    "ferricyanide bleach",
    "permanganate",
)
OTHER_WASTE = "No\u00a0other\u00a0waste."
MAY_HOLD = "May hold anything that was in the\u00a0tray."
NOT_CALCULATED = "Treat as hazardous:"
# Headspace, and a cap that lets gas out: common practice, no source.
HANDLING = (
    " not calculated. Gloves and goggles. Leave a hand's width free, vent the cap. "
)
# What stays on the label of what the rules say, however little room there is.
MOST_NAMED = 3
_GRAVE = (Severity.DEADLY, Severity.SERIOUS)
_NEVER_IN_A_VESSEL = (Condition.CONTACT, Condition.WITH_THIRD)


class Ingredient(Struct, frozen=True):
    """One thing that is collected, as far as it is known.

    Attributes:
        name: as it is printed.
        contents: names of the chemicals in it; () where it is a chemical itself, or
            nobody knows.
        tags: as in the mixing rules; None where nothing is known of it.
        number: of the batch it comes from; "" for none.
        recipe: that it comes from; "" for none.
    """

    name: str
    contents: tuple[str, ...] = ()
    tags: frozenset[str] | None = None
    number: str = ""
    recipe: str = ""


def waste_notice(
    ingredients: Sequence[Ingredient],
    never: Sequence[str],
    rules: Iterable[MixingRule],
    settings: Settings,
    *,
    started: str = "",
    by: str = "",
) -> NoticeText:
    """The words of a WASTE label.

    Args:
        ingredients: what is collected, at least one.
        never: what a person wants named first.
        rules: what must not meet.
        settings: of the bench.
        started: the day it was started; "" leaves a line.
        by: who started it; "" leaves a line.
    """
    number, code, code_means = _points_to(ingredients, settings)
    derived = _derived(ingredients, never, rules)
    return NoticeText(
        kind="waste",
        word=WASTE,
        lead=capital(", ".join(one.name for one in ingredients)),
        detail=_detail(ingredients),
        never=NEVER_ADD,
        things=tuple(_thing(one) for one in (*never, *derived)),
        kept=len(never) + MOST_NAMED,
        closing=OTHER_WASTE,
        blanks=(*_more(ingredients, never), *_blanks(started, by)),
        extra=_extra(settings),
        first_words=(*_handling(), *first_words(()), Run(f" {AID}")),
        number=number,
        code=code,
        code_means=code_means,
        emergency=settings.emergency,
    )


def must_not_meet(
    ingredients: Sequence[Ingredient], rules: Iterable[MixingRule]
) -> Iterator[tuple[str, str, MixingRule]]:
    """Pairs of what is collected that give something grave, and the gravest rule."""
    grave = [
        rule
        for rule in sorted(rules, key=lambda rule: rule.severity.rank)
        if rule.severity in _GRAVE and rule.condition not in _NEVER_IN_A_VESSEL
    ]
    for one, other in combinations(ingredients, 2):
        meeting = (r for r in grave if r.joins(one.tags or (), other.tags or ()))
        for rule in islice(meeting, 1):
            yield one.name, other.name, rule


def _handling() -> Words:
    return Run(NOT_CALCULATED, strong=True), Run(HANDLING)


def _extra(settings: Settings) -> tuple[str, ...]:
    room = f"{settings.room}." if settings.room else ""
    goes_to = f"When full: {settings.disposal}." if settings.disposal else ""
    return tuple(sentence for sentence in (room, goes_to) if sentence)


def _blanks(started: str, by: str) -> tuple[Blank, ...]:
    return (
        Blank("started", "Started", started),
        Blank("started-by", "by", by),
        Blank("full", "Full"),
        Blank("full-by", "by"),
        Blank("emptied", "Emptied by"),
    )


def _more(ingredients: Sequence[Ingredient], never: Sequence[str]) -> tuple[Blank, ...]:
    """A line for what else must not come in, where nobody could say."""
    known = never or any(one.tags is not None for one in ingredients)
    return () if known else (Blank("nor", "nor"),)


def _detail(ingredients: Sequence[Ingredient]) -> Words:
    held = dict.fromkeys(name for one in ingredients for name in one.contents)
    told = f"{capital('; '.join(held))}. " if held else ""
    return (Run(f"{told}{MAY_HOLD}"),)


def _derived(
    ingredients: Sequence[Ingredient], never: Sequence[str], rules: Iterable[MixingRule]
) -> list[str]:
    """What the rules say of the contents, the deadliest first.

    Where something is collected that nothing is known of, the general ones come before
    them, unless a person has named what must not come in.
    """
    warnings = list(_by_the_rules(ingredients, rules))
    named = [one for one in warnings if not any(_within(one, w) for w in warnings)]
    named = [one for one in named if not _is_collected(one, ingredients)]
    if all(one.tags is not None for one in ingredients) or never:
        return named
    general = [one for one in GENERAL if not _is_collected(one, ingredients)]
    return [", ".join(general), *named]


def _by_the_rules(
    ingredients: Sequence[Ingredient], rules: Iterable[MixingRule]
) -> Iterator[str]:
    """The warnings of each thing that is collected, the deadliest of each first."""
    grave = [
        rule
        for rule in rules
        if rule.severity in _GRAVE and rule.condition is not Condition.CONTACT
    ]
    of_each = [_of_both_sides(one.tags, grave) for one in ingredients if one.tags]
    said: dict[str, str] = {}
    for warning in chain.from_iterable(zip_longest(*of_each, fillvalue="")):
        said.setdefault(warning.partition(":")[0], warning)
    return (warning for warning in said.values() if warning)


def _of_both_sides(tags: Collection[str], rules: Iterable[MixingRule]) -> Iterator[str]:
    """What must not meet ``tags``; of what holds both sides of a rule, both are named.

    Acid fixer must get neither more acid nor more fixer.
    """
    for rule in sorted(rules, key=lambda rule: rule.rank(tags)):
        if rule.tags_a & set(tags):
            yield rule.never_with_a
        if rule.tags_b & set(tags):
            yield rule.never_with_b


def _is_collected(warning: str, ingredients: Iterable[Ingredient]) -> bool:
    """Whether what a warning names is what is collected: "fixer" for "used fixer".

    Only the last words count: more acid must not come into "acid fixer".
    """
    head = re.split(r" ?[(:]", warning)[0].casefold()
    return any(f" {one.name.casefold()}".endswith(f" {head}") for one in ingredients)


def _within(one: str, other: str) -> bool:
    """Whether another warning names everything that one does, and the same harm."""
    head, _, does = one.partition(": ")
    longer, _, harm = other.partition(": ")
    return does == harm and set(head.split(", ")) < set(longer.split(", "))


def _thing(thing: str) -> Words:
    """What must not come in, SemiBold, and what it would do."""
    head, colon, does = thing.partition(":")
    runs = (Run(head, strong=True), Run(f"{colon}{does}"))
    return tuple(run for run in runs if run.text)


def _points_to(
    ingredients: Sequence[Ingredient], settings: Settings
) -> tuple[str, str, str]:
    """Number, payload and meaning of the code; "" where there is nothing to point to.

    Only an address is printed: the essentials as text would tell the strength of a
    solution that is used up.
    """
    if len(ingredients) != 1 or not settings.base_url:
        return ("", "", "")
    return _address(ingredients[0], settings.base_url)


def _address(one: Ingredient, base_url: str) -> tuple[str, str, str]:
    if one.number:
        payload = batch_payload(
            one.number, base_url=base_url, title="", equivalence="", mixed="",
            discard="", signal="",
        )  # fmt: skip
        return one.number, payload.rstrip("/"), f"Code: batch {one.number}, unused"
    if one.recipe:
        payload = recipe_payload(one.recipe, base_url=base_url, title="", revision="")
        return "its recipe", payload, f"Code: the recipe {one.recipe}"
    return ("", "", "")
