"""Adding up shares over limits, and what comes of the sum."""

from collections.abc import Callable, Iterable
from decimal import Decimal
from fractions import Fraction

from msgspec import Struct

from labelkit.hazards.classes import HazardClass
from labelkit.hazards.data import HazardData
from labelkit.hazards.limits import shown
from labelkit.hazards.mixture import Ingredient, Reason
from labelkit.hazards.verdict import Finding, Verdict, merge

__all__ = [
    "Sum",
    "Term",
    "added_up_to",
    "most_severe",
    "reached_by",
    "relevant_ingredients",
]


class Term(Struct, frozen=True):
    """One ingredient in a sum, with the limit that holds for it [% w/w]."""

    name: str
    percent: Decimal
    limit: Decimal

    @property
    def part(self) -> Fraction:
        """How much of its limit it fills; exact."""
        return Fraction(self.percent) / Fraction(self.limit)


class Sum(Struct, frozen=True):
    """Shares over limits, added up: reached from 1 on.

    ECHA, Guidance on the Application of the CLP Criteria, part 1, additivity with
    specific limits. Without any it says the same as the tables of Annex I.
    """

    terms: tuple[Term, ...]

    @classmethod
    def of(cls, terms: Iterable[tuple[Ingredient, Decimal]]) -> "Sum":
        """The sum of ingredients, each with its limit, largest part first."""
        made = (Term(i.data.name, i.percent, limit) for i, limit in terms)
        return cls(tuple(sorted(made, key=lambda term: (-term.part, term.name))))

    @property
    def total(self) -> Fraction:
        """The sum of the parts; exact."""
        return sum((term.part for term in self.terms), Fraction(0))

    @property
    def reached(self) -> bool:
        """Whether the class is reached."""
        return self.total >= 1

    @property
    def main(self) -> tuple[str, ...]:
        """The fewest ingredients, largest first, that reach the limit by themselves."""
        running, names = Fraction(0), []
        for term in self.terms:
            if running >= 1:
                break
            running += term.part
            names.append(term.name)
        return tuple(names)

    def __str__(self) -> str:
        sign = "≥" if self.reached else "<"
        limits = {term.limit for term in self.terms}
        if len(limits) == 1:
            (limit,) = limits
            added = " + ".join(f"{t.name} {shown(t.percent)} %" for t in self.terms)
            total = sum((t.percent for t in self.terms), Decimal(0))
            equals = f" = {shown(total)} %" if len(self.terms) > 1 else ""
            return f"{added}{equals} {sign} {shown(limit)} %"
        added = " + ".join(
            f"{t.name} {shown(t.percent)} of {shown(t.limit)} %" for t in self.terms
        )
        return f"{added} = {shown(self.total)} {sign} 1"


def reached_by(total: Sum, target: HazardClass, rule: str) -> Verdict:
    """The class as reached, with its main contributors."""
    reason = Reason(str(target), rule, str(total))
    return Verdict(findings=(Finding(target, total.main),), reasons=(reason,))


def added_up_to(total: Sum, target: HazardClass, rule: str) -> Verdict:
    """The class if the sum reaches it, else why not."""
    if not total.terms:
        return Verdict()
    if total.reached:
        return reached_by(total, target, rule)
    return Verdict(reasons=(Reason(str(target), rule, f"not reached: {total}"),))


def most_severe(tried: Iterable[Verdict]) -> Verdict:
    """The first that reached a class, with the reasons why the others did not."""
    answers = tuple(tried)
    found = next((one for one in answers if one.findings), Verdict())
    failed = (one for one in answers if not one.findings)
    return merge((found, *failed))


def relevant_ingredients(
    concerned: Iterable[Ingredient], cut_off: Callable[[HazardData], Decimal], of: str
) -> tuple[list[Ingredient], tuple[Reason, ...]]:
    """Those at their cut-off or above it, which enter the sum, and why others do not.

    Annex I, 1.1.2.2 and Table 1.1; "relevant ingredients" in 3.2.3.3.1 and 3.3.3.3.1.
    """
    asked = [(i, cut_off(i.data)) for i in concerned]
    dropped = tuple(_left_out(i, cut, of) for i, cut in asked if i.percent < cut)
    return [i for i, cut in asked if i.percent >= cut], dropped


def _left_out(ingredient: Ingredient, cut: Decimal, of: str) -> Reason:
    share = f"{ingredient.data.name} {shown(ingredient.percent)} %"
    text = f"{share} is below its cut-off of {shown(cut)} %: left out"
    return Reason(of, "Table 1.1", text)
