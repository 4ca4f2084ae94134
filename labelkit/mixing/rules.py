"""What must not meet: pairs of chemicals by their tags, and what is said of them."""

from collections.abc import Collection, Iterable
from enum import StrEnum

from msgspec import Struct

from labelkit.chemistry.substances import Confidence

__all__ = ["Condition", "MixingRule", "Severity", "never_with", "rules_for"]


class Severity(StrEnum):
    """How bad it is when the two meet; deadliest first."""

    DEADLY = "deadly"
    SERIOUS = "serious"
    CAUTION = "caution"
    QUALITY = "quality"

    @property
    def rank(self) -> int:
        """0 for the deadliest."""
        return list(Severity).index(self)

    @property
    def level(self) -> str:
        """The level of the check: ``stop``, ``warn`` or ``note``."""
        return {"deadly": "stop", "serious": "warn"}.get(self.value, "note")


class Condition(StrEnum):
    """When a rule bites."""

    ANY = "any"
    DRY_OR_CONCENTRATED = "dry_or_concentrated"
    """Either partner is 10 % w/w or more of what is in the vessel."""
    STRONG_ACID = "strong_acid"
    """The acid is a strong one, or the mixture is hot."""
    CONTACT = "contact"
    """As it stands in the jar, with a vessel or with water; not in a solution."""
    WITH_THIRD = "with_third"
    """Something tagged with one of ``third`` is there too."""


class MixingRule(Struct, frozen=True):
    """One pair that must not meet.

    Attributes:
        tags_a: one side: a chemical with any of these tags.
        tags_b: the other side.
        third: tags of what must be there too, for ``with_third``.
        applies: the condition in words.
        product: what comes of it.
        gas: the gas given off, "" for none.
        never_with_a: printed on a bottle that holds side a: what it must not meet.
        never_with_b: the same for a bottle that holds side b.
    """

    id: str
    tags_a: frozenset[str]
    tags_b: frozenset[str]
    severity: Severity
    condition: Condition
    product: str
    text: str
    applies: str = ""
    gas: str = ""
    third: frozenset[str] = frozenset()
    never_with_a: str = ""
    never_with_b: str = ""
    source: str = ""
    confidence: Confidence = Confidence.MEMORY

    def touches(self, tags: Collection[str]) -> bool:
        """Whether a chemical with ``tags`` stands on either side."""
        return bool((self.tags_a | self.tags_b) & set(tags))

    def joins(self, tags: Collection[str], others: Collection[str]) -> bool:
        """Whether two chemicals stand on opposite sides, whichever is which."""
        one, two = set(tags), set(others)
        return bool(
            (self.tags_a & one and self.tags_b & two)
            or (self.tags_a & two and self.tags_b & one)
        )

    def warning(self, tags: Collection[str]) -> str:
        """What a bottle that holds ``tags`` must not meet, "" where nothing is said."""
        if self._stands_on_a(tags):
            return self.never_with_a
        return self.never_with_b if self.tags_b & set(tags) else ""

    def rank(self, tags: Collection[str]) -> tuple[int, bool]:
        """How early a bottle that holds ``tags`` says so: the lower, the deadlier.

        Where only a dry or strong partner bites, that is side a; side b is one step
        safer, and what bites at any strength comes before what does not.
        """
        only_strong = self.condition is Condition.DRY_OR_CONCENTRATED
        safer = only_strong and not self._stands_on_a(tags)
        return self.severity.rank + safer, only_strong

    def _stands_on_a(self, tags: Collection[str]) -> bool:
        return bool(self.tags_a & set(tags) and self.never_with_a)


def rules_for(
    tags: Collection[str], rules: Iterable[MixingRule]
) -> tuple[MixingRule, ...]:
    """The rules that a chemical with ``tags`` stands in, deadliest first."""
    touched = [rule for rule in rules if rule.touches(tags)]
    return tuple(sorted(touched, key=lambda rule: rule.severity.rank))


def never_with(
    tags: Collection[str], rules: Iterable[MixingRule], *, concentrated: bool = True
) -> tuple[str, ...]:
    """What a bottle that holds ``tags`` must never meet, deadliest first, each once.

    Args:
        tags: of everything in the bottle.
        rules: in the order of the file, which decides between equals.
        concentrated: dry, or 10 % w/w or more of something in it; else the rules that
            bite only there are left out.
    """
    biting = [
        rule
        for rule in rules
        if concentrated or rule.condition is not Condition.DRY_OR_CONCENTRATED
    ]
    said: dict[str, str] = {}
    for rule in sorted(biting, key=lambda rule: rule.rank(tags)):
        warning = rule.warning(tags)
        said.setdefault(warning.partition(":")[0], warning)
    return tuple(warning for warning in said.values() if warning)
