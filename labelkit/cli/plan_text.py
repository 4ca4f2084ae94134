"""A plan on the terminal: something one would pin to the wall."""

import textwrap
from collections.abc import Iterable, Sequence

from labelkit.chemistry.display import figures, show_amount
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Level
from labelkit.mixing.dates import written
from labelkit.mixing.plan import Plan
from labelkit.mixing.said import (
    AID_FULL,
    NBSP,
    reaction_sentences,
    sum_of_strength,
    uncertainty_sentence,
)
from labelkit.mixing.steps_text import step_rows
from labelkit.mixing.words import CardRow, HazardText

__all__ = ["plan_as_text"]

WIDTH = 78
TERM = 12
MARKS = {Level.STOP: "STOP", Level.WARN: "WARN", Level.NOTE: "note"}


def plan_as_text(
    plan: Plan,
    hazard: HazardText,
    catalogue: Catalogue,
    settings: Settings,
    changes: Sequence[str] = (),
) -> str:
    """The plan in words, 78 wide; ``changes`` tells what differs from the recipe."""
    blocks = [
        _head(plan),
        _steps(step_rows([plan], catalogue, settings)),
        "\n".join(_fact("Changed", change) for change in changes),
        _facts(plan, catalogue, settings),
        _hazard(hazard),
        _remarks(plan),
        textwrap.fill(AID_FULL, WIDTH),
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
    return "\n".join((_ends(title, makes), "=" * WIDTH, _ends(told, strength)))


def figures_percent(relative_u: float) -> str:
    """A relative standard uncertainty as percent, to two figures."""
    return f"{relative_u * 100:.2g}"


def _steps(rows: Iterable[CardRow]) -> str:
    lines: list[str] = []
    vessel = ""
    for row in rows:
        if row.vessel != vessel:
            lines.append(f"     in the {row.vessel}:" if row.vessel else "     back:")
            vessel = row.vessel
        lines += _step(row)
    return "\n".join(line for line in lines if line != "     back:")


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
        lines.append(_ends(f"{number}{what}", amount))
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
    return "\n".join(_fact(term, text) for term, text in facts if text)


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


def _hazard(hazard: HazardText) -> str:
    if hazard.none_reached:
        words = "".join(run.text for run in hazard.none_reached)
        return textwrap.fill(words, WIDTH)
    pictograms = ", ".join(p.word for p in hazard.pictograms)
    statements = " ".join(hazard.statements)
    more = " ".join((hazard.contains, *hazard.open_points)).strip()
    alert = f"{hazard.alert}. " if hazard.alert else ""
    text = f"{alert}{statements} {more}"
    head = f"{hazard.signal}   {pictograms}" if hazard.signal else ""
    return "\n".join(line for line in (head, textwrap.fill(text, WIDTH)) if line)


def _remarks(plan: Plan) -> str:
    lines = []
    for check in plan.checks:
        where = f" (step {check.step})" if check.step else ""
        lines.append(_fact(MARKS[check.level], f"{check.text}{where}", TERM))
    return "\n".join(lines)


def _fact(term: str, text: str, width: int = TERM) -> str:
    return textwrap.fill(
        text, WIDTH, initial_indent=f"{term:<{width}}", subsequent_indent=" " * width
    )


def _wrapped(text: str, indent: int) -> list[str]:
    pad = " " * indent
    return textwrap.wrap(text, WIDTH - 12, initial_indent=pad, subsequent_indent=pad)


def _ends(left: str, right: str) -> str:
    gap = WIDTH - len(left) - len(right)
    return f"{left}{' ' * max(gap, 2)}{right}".rstrip()


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
