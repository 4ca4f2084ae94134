"""A recipe as the TOML text that reads back to the same recipe."""

import json
from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from labelkit.chemistry.amounts import Amount, Dimension, DROP_mL, Duration
from labelkit.chemistry.display import figures, plain
from labelkit.mixing.recipe import Recipe, Step, Use

__all__ = ["recipe_as_toml"]

FAITHFUL = 15
_TEXTS = (
    "keep_in", "note", "source", "revision", "off_when", "test", "part", "set",
    "headline",
)  # fmt: skip
_TIMES = ("keeps", "keeps_opened", "keeps_part_full", "keeps_working")


def recipe_as_toml(recipe: Recipe, count: int = FAITHFUL) -> str:
    """The recipe as a file, its amounts to ``count`` significant figures.

    Chemicals that a recipe brings with it are not written: they stand in the bench's
    own file, or in the batch that froze them.
    """
    blocks = [
        "\n".join(_top(recipe, count)),
        *_tables(recipe, count),
        *(_block("[[step]]", _step(step, count)) for step in recipe.steps),
    ]
    return "\n\n".join(blocks) + "\n"


def _top(recipe: Recipe, count: int) -> Iterator[str]:
    yield _line("title", recipe.title)
    yield _line("makes", _amount(recipe.makes, count))
    for key in _TIMES:
        duration: Duration | None = getattr(recipe, key)
        if duration is not None:
            yield _line(key, f"{duration.count} {duration.unit}")
    for key in _TEXTS:
        text: str = getattr(recipe, key)
        if text:
            yield _line(key, text)
    if recipe.drop_mL != DROP_mL:
        yield _line("drop", f"{plain(recipe.drop_mL)} mL")


def _tables(recipe: Recipe, count: int) -> Iterator[str]:
    if recipe.strength_of is not None:
        yield _block("[strength]", [_line("of", recipe.strength_of)])
    if recipe.use is not None:
        yield _block("[use]", _use(recipe.use, count))
    measured = recipe.measured
    if measured.ph is not None or measured.density_g_per_mL is not None:
        yield _block("[measured]", _measured(recipe))
    for spec in recipe.reactions:
        sides = [f"from = {_list(spec.reactants)}", f"to = {_list(spec.products)}"]
        yield _block("[[reaction]]", sides)
    notes = recipe.bench_notes
    told = {
        key: getattr(notes, key) for key in ("mixing", "spill", "storage", "disposal")
    }
    lines = [_line(key, text) for key, text in told.items() if text]
    if lines:
        yield _block("[bench_notes]", lines)


def _use(use: Use, count: int) -> Iterator[str]:
    if use.ratio:
        yield _line("ratio", "+".join(plain(part) for part in use.ratio))
    if use.goes_with:
        yield f"with = {_list(use.goes_with)}"
    if use.makes is not None:
        yield _line("makes", _amount(use.makes, count))
    if use.capacity is not None:
        unit, per = _text(use.capacity.unit), _text(_amount(use.capacity.per, count))
        amount = plain(use.capacity.amount)
        yield f"capacity = {{ amount = {amount}, of = {unit}, per = {per} }}"


def _measured(recipe: Recipe) -> Iterator[str]:
    measured = recipe.measured
    if measured.ph is not None:
        yield f"ph = {plain(measured.ph)}"
    if measured.density_g_per_mL is not None:
        yield _line("density", f"{plain(measured.density_g_per_mL)} g/mL")


def _step(step: Step, count: int) -> Iterator[str]:
    if step.vessel:
        yield _line("in", step.vessel)
    if step.add is not None and step.amount is not None:
        yield _line("add", step.add)
        yield _line("amount", _amount(step.amount, count))
    if step.make_up_to is not None:
        yield _line("make_up_to", _amount(step.make_up_to, count))
    if step.pour is not None:
        yield _line("pour", step.pour)
    if step.cool_to_C is not None:
        yield _line("cool_to", f"{plain(step.cool_to_C)} degC")
    yield from _about(step)


def _about(step: Step) -> Iterator[str]:
    if step.at_C is not None:
        yield _line("at", f"{plain(step.at_C)} degC")
    if step.kind and step.kind != "tap":
        yield _line("kind", step.kind)
    if step.assay_percent is not None:
        yield _line("assay", f"{plain(step.assay_percent)} %")
    if step.wait is not None:
        yield _line("wait", f"{step.wait.count} {step.wait.unit}")
    if step.text:
        yield _line("text", step.text)
    if step.caution:
        yield _line("caution", step.caution)


def _amount(amount: Amount, count: int) -> str:
    unit = "g" if amount.dimension is Dimension.MASS else "mL"
    return f"{_number(amount.number, count)} {unit}"


def _number(number: Decimal, count: int) -> str:
    if len(number.normalize().as_tuple().digits) <= count:
        return plain(number)
    if number >= Decimal(10) ** count:
        return plain(number.quantize(Decimal(1), rounding=ROUND_HALF_UP))
    return figures(number, count)


def _block(head: str, lines: Iterator[str] | list[str]) -> str:
    return "\n".join([head, *lines])


def _line(key: str, text: str) -> str:
    return f"{key} = {_text(text)}"


def _text(text: str) -> str:
    """A TOML basic string; those of JSON are all of them TOML's too."""
    return json.dumps(text, ensure_ascii=False)


def _list(words: tuple[str, ...]) -> str:
    return f"[{', '.join(_text(word) for word in words)}]"
