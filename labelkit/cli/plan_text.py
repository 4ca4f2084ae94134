"""A plan on the terminal: something one would pin to the wall."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from math import inf

from labelkit.chemistry.display import figures, show_amount
from labelkit.cli.hazard_block import hazard_block
from labelkit.cli.words import WIDE_TERM, WIDTH, ends, fact, filled
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Level
from labelkit.mixing.dates import written
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.handling import few_of, handling_for
from labelkit.mixing.hazard_text import hazard_text, never_with_line
from labelkit.mixing.plan import Plan
from labelkit.mixing.said import (
    AID_FULL,
    NBSP,
    first_words,
    reaction_sentences,
    sum_of_strength,
    uncertainty_sentence,
)
from labelkit.mixing.steps_text import step_rows
from labelkit.mixing.words import CardRow

__all__ = ["plan_as_text"]

MARKS = {Level.STOP: "STOP", Level.WARN: "WARN", Level.NOTE: "note"}


def plan_as_text(
    plan: Plan, handbook: Handbook, settings: Settings, changes: Sequence[str] = ()
) -> str:
    """The plan in words, 78 wide; ``changes`` tells what differs from the recipe."""
    catalogue = handbook.catalogue
    blocks = [
        _head(plan),
        _steps(step_rows([plan], catalogue, settings)),
        "\n".join(fact("Changed", change) for change in changes),
        _facts(plan, catalogue, settings),
        "\n".join(_hazard(plan, handbook, settings)),
        "\n".join(_cautions(plan, handbook)),
        _remarks(plan),
        filled(AID_FULL),
    ]
    return "\n\n".join(block for block in blocks if block).replace(NBSP, " ")


def _head(plan: Plan) -> str:
    part = f" {plan.recipe.part}" if plan.recipe.part else ""
    title = f"{plan.recipe.title}{part}"
    makes = f"makes {show_amount(plan.job.make)}"
    headline = plan.headline
    told = " ".join(
        word for word in (headline.text, headline.substance, headline.hydrate) if word
    )
    strength = sum_of_strength(plan).removesuffix(".")
    if plan.relative_u is not None and strength:
        strength += f" (±{figures_percent(plan.relative_u)} %)"
    return "\n".join((ends(title, makes), "=" * WIDTH, ends(told, strength)))


def figures_percent(relative_u: float) -> str:
    """A relative standard uncertainty as percent, to two figures."""
    return f"{relative_u * 100:.2g}"


def _steps(rows: Iterable[CardRow]) -> str:
    lines: list[str] = []
    vessel = ""
    for row in rows:
        if row.vessel and row.vessel != vessel:
            lines.append(f"     in the {row.vessel}:")
        vessel = row.vessel
        lines += _step(row)
    return "\n".join(lines)


def _step(row: CardRow) -> list[str]:
    indent = 7 if not row.vessel else 9
    what = "".join(run.text for run in row.what)
    amount = row.amounts[0].text if row.amounts else ""
    if row.kind == "fill":
        amount = f"→ {amount}"
    lines = []
    if row.caution:
        lines += _wrapped(f"STOP  {row.caution}", indent)
    number = f"{row.number:>{indent - 3}}   "
    if row.kind == "text":
        lines += textwrap.wrap(
            f"{number}{what}", WIDTH - 12, subsequent_indent=" " * indent
        )
    else:
        lines.append(ends(f"{number}{what}", amount))
    if row.detail:
        lines += _wrapped(row.detail, indent)
    return lines


def _facts(plan: Plan, catalogue: Catalogue, settings: Settings) -> str:
    facts = [
        ("Holds", _contents(plan, catalogue)),
        ("Reaction", " ".join(reaction_sentences(plan, catalogue))),
        ("Known", uncertainty_sentence(plan, catalogue, settings)),
        ("pH", _ph(plan)),
        ("Warms", _warming(plan)),
        ("Keep", _keeping(plan)),
    ]
    return "\n".join(fact(term, text) for term, text in facts if text)


def _contents(plan: Plan, catalogue: Catalogue) -> str:
    per_litre = plan.job.volume_mL is not None
    told = []
    for content in plan.solution.contents:
        value = content.g_per_L if per_litre else content.percent_ww
        if value is not None:
            name = catalogue.substance(content.chemical).name
            unit = "g/L" if per_litre else "% w/w"
            told.append(f"{name} {figures(value, 3)} {unit}".replace(" ", NBSP))
    return ", ".join(told)


def _ph(plan: Plan) -> str:
    if plan.ph is None:
        return f"no figure: {plan.reasons['ph']}" if "ph" in plan.reasons else ""
    if plan.ph.measured:
        return f"{plan.ph.value:g}, measured"
    return f"about {plan.ph.value:.1f} ({plan.ph.low:.1f} to {plan.ph.high:.1f})"


def _warming(plan: Plan) -> str:
    if plan.warming is None:
        return ""
    return plan.warming.text


def _keeping(plan: Plan) -> str:
    where = f"{plan.recipe.keep_in}. " if plan.recipe.keep_in else ""
    day = written(plan.discard_after)
    if day is None:
        return f"{where}No discard date known: test before use."
    off = f", or when {_lower(plan.recipe.off_when)}" if plan.recipe.off_when else ""
    return f"{where}Mixed {plan.job.on:%Y-%m-%d}: discard after {day}{off}."


def _hazard(plan: Plan, handbook: Handbook, settings: Settings) -> Iterator[str]:
    return hazard_block(
        hazard_text(plan.hazard, handbook, settings, dry=plan.solution.dry),
        first_words(plan.hazard.p, what="plan"),
        settings.emergency,
        never_with_line(plan, handbook),
    )


def _cautions(plan: Plan, handbook: Handbook) -> Iterator[str]:
    """The few worst of what is not law, as a card has them."""
    remarks = " ".join(check.text for check in plan.checks)
    cautions = handling_for(
        plan,
        handbook.catalogue,
        handbook.handling,
        told=remarks,
        never_with=never_with_line(plan, handbook),
    )
    for caution in few_of(cautions, inf, lambda text: 0):
        yield fact(caution.kind.card_term, caution.text, WIDE_TERM)


def _remarks(plan: Plan) -> str:
    lines = []
    for check in plan.checks:
        where = f" (step {check.step})" if check.step else ""
        lines.append(fact(MARKS[check.level], f"{check.text}{where}"))
    return "\n".join(lines)


def _wrapped(text: str, indent: int) -> list[str]:
    pad = " " * indent
    return textwrap.wrap(text, WIDTH - 12, initial_indent=pad, subsequent_indent=pad)


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
