"""``labelkit label --waste TEXT``: what is collected, and what must not come in."""

from collections.abc import Iterable
from datetime import datetime

import click

from labelkit.cli.workplace import Workplace
from labelkit.errors import Ambiguous, BadInput, NoAnswer, Unknown
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.found import refuse_found
from labelkit.mixing.notices import NoticeText
from labelkit.mixing.numbers import read_number
from labelkit.mixing.ports import Record
from labelkit.mixing.recipe import Recipe
from labelkit.mixing.rules import Condition, MixingRule, Severity
from labelkit.mixing.waste import Ingredient, must_not_meet, waste_notice

__all__ = ["waste_words"]


def waste_words(
    place: Workplace, text: str, never: str, *, on: datetime | None, by: str
) -> NoticeText:
    """The words of a WASTE label.

    Each part of the text, between commas, is a batch number, a recipe, a chemical, or
    words of a person's own.

    Args:
        place: for its recipes, chemicals and shelf.
        text: what is collected.
        never: what must not come in, as a person has it, between commas.
        on: when it was started; None leaves a line.
        by: who started it; "" leaves a line.

    Raises:
        BadInput: there is no text, or a number that no batch has.
        NoAnswer: it names a bottle that nobody knows, or two things that are deadly
            whenever they meet.
    """
    from labelkit.files.rules import read_rules

    named = _parts(text)
    if not named:
        raise BadInput(
            "it does not say what is collected",
            place="--waste",
            remedy='Write it, such as --waste "used fixer".',
        )
    ingredients, rules = [_ingredient(place, word) for word in named], read_rules()
    for one, other, rule in must_not_meet(ingredients, rules):
        _tell(one, other, rule)
    return waste_notice(
        ingredients,
        _parts(never),
        rules,
        place.settings,
        started=f"{on:%Y-%m-%d}" if on else "",
        by=" ".join(by.split()),
    )


def _tell(one: str, other: str, rule: MixingRule) -> None:
    told = f"{one} and {other} must not meet: {rule.product}"
    if rule.severity is Severity.DEADLY and rule.condition is Condition.ANY:
        raise NoAnswer(told, remedy="Collect each in a vessel of its own.")
    click.echo(f"Beware: {told}. Better a vessel for each.", err=True)


def _parts(text: str) -> list[str]:
    tidy = (" ".join(part.split()) for part in text.split(","))
    return list(dict.fromkeys(part for part in tidy if part))


def _ingredient(place: Workplace, word: str) -> Ingredient:
    if word in place.book.names():
        return _of_recipe(place, place.book.read(word))
    record = _batch(place, word)
    if record is not None:
        return _of_batch(place, record)
    return _of_chemical(place.catalogue, word)


def _batch(place: Workplace, word: str) -> Record | None:
    """The batch of that number; None where the word is no number."""
    try:
        number = read_number(word)
    except BadInput:
        return None
    try:
        return place.record(number)
    except Unknown:
        if number in word.upper():  # written as on a label, so it is meant as one
            raise
        return None


def _of_recipe(place: Workplace, recipe: Recipe) -> Ingredient:
    contents = place.plan(recipe).solution.contents
    catalogue = place.catalogue.with_own(recipe.own_chemicals)
    held = [content.chemical for content in contents]
    title = f"{recipe.title} {recipe.part}".strip()
    return _holding(title, held, catalogue, recipe=recipe.name)


def _of_batch(place: Workplace, record: Record) -> Ingredient:
    from labelkit.files.chemicals import entries_from_tables

    refuse_found(record)
    entries, _ = entries_from_tables(
        record.data["chemicals"], place=f"batch {record.number}", stored=True
    )
    held = [content["chemical"] for content in record.data["answer"]["contents"]]
    catalogue = place.catalogue.with_own(entries)
    title = f"{record.title} {record.data['recipe']['part']}".strip()
    return _holding(title, held, catalogue, number=record.number)


def _of_chemical(catalogue: Catalogue, word: str) -> Ingredient:
    """The chemical that a word names; of several forms, what is true of any."""
    try:
        return Ingredient(word, (), _tags([catalogue.find(word).id], catalogue))
    except Ambiguous as unclear:
        return Ingredient(word, (), _tags(unclear.forms, catalogue))
    except Unknown:
        return Ingredient(word)


def _holding(
    title: str,
    held: Iterable[str],
    catalogue: Catalogue,
    *,
    number: str = "",
    recipe: str = "",
) -> Ingredient:
    names = tuple(catalogue.substance(chemical).name for chemical in held)
    return Ingredient(title, names, _tags(held, catalogue), number, recipe)


def _tags(chemicals: Iterable[str], catalogue: Catalogue) -> frozenset[str]:
    return frozenset(t for c in chemicals for t in catalogue.substance(c).tags)
