"""``labelkit convert``: the same chemistry in another form."""

from collections.abc import Iterator
from typing import Any

import click

from labelkit.chemistry.amounts import Amount
from labelkit.chemistry.density import WATER_G_PER_ML
from labelkit.chemistry.display import figures, show_mass_g
from labelkit.chemistry.substances import Substance
from labelkit.cli.asking import asked_until_clear
from labelkit.cli.params import AMOUNT, answer, in_a_workplace, json_option
from labelkit.cli.words import WIDTH, ends, fact
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput
from labelkit.mixing.answers import number
from labelkit.mixing.bench import Settings
from labelkit.mixing.dosing import grams_of
from labelkit.mixing.forms import Conversion, convert

__all__ = ["command"]


@click.command("convert")
@click.argument("amount", type=AMOUNT)
@click.argument("source", metavar="FROM")
@click.argument("target", metavar="TO")
@json_option
@in_a_workplace
def command(
    place: Workplace, amount: Amount, source: str, target: str, as_json: bool
) -> None:
    """Take another form: so much of TO does the work of AMOUNT of FROM."""
    found = converted(place, amount, source, target)
    if as_json:
        answer(conversion_json(found))
    else:
        click.echo("\n".join(_lines(found, place.settings)))


def converted(place: Workplace, amount: Amount, source: str, target: str) -> Conversion:
    """The conversion between two forms as they were written.

    Raises:
        NoAnswer: there is no honest number.
        BadInput: a volume of a solid, or an unknown form.
    """
    exchange = place.exchange
    nameless = exchange.names_no_chemical(source) or exchange.names_no_chemical(target)
    if nameless:
        exchange.refuse_the_dishonest(_thing(place, source), _thing(place, target))
    one, other = _form(place, source, "FROM"), _form(place, target, "TO")
    try:
        mass_g = grams_of(amount, one)
    except BadInput as error:
        raise error.at("amount") from None
    return convert(one, other, mass_g, exchange)


def conversion_json(found: Conversion) -> dict[str, Any]:
    """A conversion as JSON."""
    return {
        "from": found.source_form.id,
        "to": found.target_form.id,
        "g_from": number(found.g_from),
        "g_to": number(found.g_to),
        "mL_from": number(found.mL_from),
        "mL_to": number(found.mL_to),
        "factor": number(found.factor),
        "water_g": number(found.water_g),
        "changes": list(found.changes),
        "source": found.source or None,
    }


def _thing(place: Workplace, word: str) -> Substance | str:
    """The chemical called so; the word itself where it is none."""
    if place.exchange.names_no_chemical(word):
        return word
    try:
        return place.catalogue.find(word, place.choices)
    except BadInput:
        return word


def _form(place: Workplace, word: str, which: str) -> Substance:
    try:
        return asked_until_clear(
            lambda: place.catalogue.find(word, place.choices), place.choices
        )
    except BadInput as error:
        raise error.at(which) from None


def _lines(found: Conversion, settings: Settings) -> Iterator[str]:
    told = [_told(found.source_form, found.g_from, found.mL_from, settings)]
    told.append(_told(found.target_form, found.g_to, found.mL_to, settings))
    line = "  =  ".join(told)
    yield from [line] if len(line) <= WIDTH else [told[0], f"  =  {told[1]}"]
    yield "=" * WIDTH
    yield ends("", f"{figures(found.factor, 4)} g for each gram")
    if abs(found.water_g) >= settings.balance_g / 2:
        yield fact("Water", _water(found))
    for change in found.changes:
        yield fact("Beware", change)
    if found.source:
        yield fact("By mole", f"{found.source}.")


def _told(form: Substance, mass_g: Any, volume_mL: Any, settings: Settings) -> str:
    poured = f" ({figures(volume_mL, 3)} mL)" if volume_mL is not None else ""
    return f"{show_mass_g(mass_g, settings.balance_g)}{poured} {form.name}"


def _water(found: Conversion) -> str:
    volume = figures(abs(found.water_g) / WATER_G_PER_ML, 3)
    if found.water_g > 0:
        return f"it brings {volume} mL along: take so much less of the recipe's water."
    return f"{volume} mL are missing: add so much to the recipe's water."
