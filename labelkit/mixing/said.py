"""Small sentences that label, card and page share, word for word."""

from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal

from labelkit.chemistry.display import figures, plain, show_duration
from labelkit.chemistry.reactions import Run as ReactionRun
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.headline import split_hydrate
from labelkit.mixing.plan import Plan
from labelkit.mixing.uncertainty import may_limit_instead
from labelkit.mixing.words import Run, Words

__all__ = [
    "AID",
    "AID_FULL",
    "FIRST_WORDS_READ_OUT",
    "NBSP",
    "bound",
    "capital",
    "contents_words",
    "first_words",
    "in_vessel",
    "kept_words",
    "reaction_sentences",
    "read_out_here",
    "strength_lines",
    "sum_of_strength",
    "uncertainty_sentence",
]

NBSP = "\u00a0"
AID = "An aid: data sheets, local rules, licensed practice come first."
AID_FULL = (
    "Hazard text is worked out from the ingredients as an aid. Suppliers' data sheets "
    "and local rules come first; a licensed professional decides where the law asks "
    "for one."
)
FIRST_WORDS_READ_OUT = "Call and read out this label."
# Below this a solute is not named on the label [g/L].
LEAST_TOLD = Decimal("0.1")
# P statements that already say what to do when it is swallowed, or gets into eyes.
SAY_SWALLOWED = ("P301", "P330")
SAY_EYES = ("P305",)


def bound(text: str) -> str:
    """The text with spaces at which no line breaks."""
    return text.replace(" ", NBSP)


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def strength_lines(plan: Plan) -> tuple[str, ...]:
    """``50 g/L`` and ``5 % w/v``: the strength in figures, () where there is none."""
    strength = plan.solution.strength
    if strength is None:
        return ()
    if strength.g_per_L is None:
        percent = strength.percent_ww
        return (bound(f"{figures(percent, 3)} % w/w"),) if percent else ()
    g_per_L = strength.g_per_L
    return (
        bound(f"{_told(g_per_L)} g/L"),
        bound(f"{_told(g_per_L / 10)} % w/v"),
    )


def sum_of_strength(plan: Plan) -> str:
    """``50 g/L, 5 % w/v.``, or ""."""
    lines = strength_lines(plan)
    return f"{', '.join(lines)}." if lines else ""


def contents_words(plan: Plan, catalogue: Catalogue) -> Words:
    """Every solute that is not in the headline, and what was made from what."""
    strength = plan.solution.strength
    equivalence = plan.headline.kind == "equivalence" and strength is not None
    told = [
        c for c in plan.solution.contents if (c.g_per_L or LEAST_TOLD) >= LEAST_TOLD
    ]
    if equivalence and strength is not None:
        parent = catalogue.substance(strength.of).parent
        told = [c for c in told if catalogue.substance(c.chemical).parent != parent]
    listed = sorted(
        ((c.chemical, c.g_per_L or c.percent_ww) for c in told),
        key=lambda item: -(item[1] or 0),
    )
    unit = "g/L" if plan.job.volume_mL is not None else "% w/w"
    lead = "With" if equivalence else f"{unit}:"
    tail = f" {unit}" if equivalence else ""
    runs = _listed(lead, listed, tail, catalogue)
    return (*runs, *_made_from(plan, catalogue, bool(runs)))


def first_words(p_codes: Iterable[str], *, what: str = "label") -> Words:
    """What a helper does first, where no statement says so already."""
    codes = list(p_codes)
    swallowed = any(code.startswith(SAY_SWALLOWED) for code in codes)
    eyes = any(code.startswith(SAY_EYES) for code in codes)
    runs = []
    if not swallowed:
        runs += [Run("Swallowed:", strong=True), Run(" rinse mouth. ")]
    if not eyes:
        runs += [
            Run("In eyes:".replace(" ", NBSP), strong=True),
            Run(" rinse with water for several minutes. "),
        ]
    return (*runs, Run(f"Call and read out this {what}.", strong=True))


def read_out_here(words: Words, what: str) -> Words:
    """First words of a label or card, shown elsewhere: read out what is at hand."""
    return (*words[:-1], Run(f"Call and read out this {what}.", strong=True))


def in_vessel(vessel: str) -> str:
    """``second jug`` is told as "In a second jug"; a name or article stays."""
    first = vessel.split(" ")[0].lower()
    named = vessel[-1].isdigit() or first in {"a", "an", "the", "another", "your"}
    if named or vessel[0].isupper():
        return f"In {vessel}"
    return f"In {'an' if first[0] in 'aeiou' else 'a'} {vessel}"


def kept_words(plan: Plan) -> str:
    """``Keeps 12 months.``, or that nobody knows."""
    lasts = plan.recipe.lasts
    if lasts is None:
        return "No discard date known: test before use."
    return f"Keeps {bound(show_duration(lasts))}."


def reaction_sentences(plan: Plan, catalogue: Catalogue) -> tuple[str, ...]:
    """Each reaction in a sentence: the equation, what limited it, what is left over."""
    return tuple(_reaction_sentence(run, plan, catalogue) for run in plan.solution.runs)


def uncertainty_sentence(plan: Plan, catalogue: Catalogue, settings: Settings) -> str:
    """How well the strength is known, and whether another reagent may limit; or ""."""
    if plan.relative_u is None:
        return ""
    known = (
        f"Strength known to ±{plan.relative_u * 100:.2g} % (standard uncertainty, from "
        "balance, cylinder and assay)."
    )
    near = may_limit_instead(plan.job, plan.solution, settings)
    if not near:
        return known
    names = " or ".join(catalogue.substance(chemical).name for chemical in near)
    return f"{known} Within that, {names} may be the one used up."


def _reaction_sentence(run: ReactionRun, plan: Plan, catalogue: Catalogue) -> str:
    lines = plan.solution.ledger.lines
    left = [
        f"{figures(lines[s.chemical].present_g, 2)} g of "
        f"{catalogue.substance(s.chemical).name}"
        for s, _ in run.equation.reactants
        if lines[s.chemical].present_g > 0
    ]
    over = f"{' and '.join(left)} left over" if left else "nothing left over"
    gas = ""
    if run.gas is not None:
        gas = f" {figures(run.gas.volume_L, 2)} L of {run.gas.formula} come off."
    used_up = catalogue.substance(run.limiting).name
    return f"{run.equation}: {used_up} is used up, {over}.{gas}"


def _made_from(plan: Plan, catalogue: Catalogue, begun: bool) -> Words:
    reagents = {c for run in plan.solution.runs for c in run.consumed_g}
    if not reagents or not plan.job.volume_mL:
        return ()
    per_litre = Decimal(1000) / plan.job.volume_mL
    lines = plan.solution.ledger.lines
    listed = [
        (c, line.added_g * per_litre)
        for c, line in lines.items()
        if c in reagents and line.added_g > 0
    ]
    runs = _listed("Made from", listed, " g/L", catalogue, strong=False)
    return (Run(" "), *runs) if begun else runs


def _listed(
    lead: str,
    items: Sequence[tuple[str, Decimal | None]],
    tail: str,
    catalogue: Catalogue,
    *,
    strong: bool = True,
) -> Words:
    if not items:
        return ()
    runs = [Run(f"{lead} ")]
    for place, (chemical, amount) in enumerate(items):
        name, hydrate = split_hydrate(catalogue.substance(chemical).name)
        between = "" if not place else " and " if len(items) == 2 else ", "
        rest = f" {hydrate}" if hydrate else ""
        figure = _told(amount) if amount is not None else ""
        last = tail if place == len(items) - 1 else ""
        end = "." if place == len(items) - 1 else ""
        runs += [
            Run(f"{between}", strong=False),
            Run(name, strong=strong),
            Run(f"{rest}{NBSP}{figure}{bound(last)}{end}"),
        ]
    return tuple(run for run in runs if run.text)


def _told(value: Decimal) -> str:
    """A figure per litre: to 0.1 below a hundred, whole from there on."""
    step = Decimal(1) if value >= 100 else Decimal("0.1")
    if value < LEAST_TOLD:
        return figures(value, 2)
    return plain(value.quantize(step, rounding=ROUND_HALF_UP))
