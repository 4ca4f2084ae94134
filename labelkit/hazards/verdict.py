"""What one file of rules answers, and how the answers are put together."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import TypeVar

from msgspec import Struct, field

from labelkit.hazards.classes import HazardClass
from labelkit.hazards.mixture import Reason

__all__ = ["Finding", "Verdict", "merge"]

_T = TypeVar("_T")


class Finding(Struct, frozen=True):
    """One class the mixture reaches.

    Attributes:
        names: the ingredients that cause it, the strongest first.
        names_each: every one of them reaches it alone (Article 18(3), authority FAQ
            0333), not only the main contributors to a sum.
    """

    hazard_class: HazardClass
    names: tuple[str, ...] = ()
    names_each: bool = False


class Verdict(Struct, frozen=True):
    """The answer of one hazard class; an empty one says that nothing was reached.

    Attributes:
        also_named: names a label must give although the class came from others.
        organs: text that H370 to H373 add, by H code.
        unknown: [% w/w] of unknown acute toxicity by route.
    """

    findings: tuple[Finding, ...] = ()
    reasons: tuple[Reason, ...] = ()
    notices: tuple[str, ...] = ()
    not_determined: tuple[str, ...] = ()
    euh: tuple[str, ...] = ()
    euh208_names: tuple[str, ...] = ()
    also_named: tuple[str, ...] = ()
    organs: Mapping[str, str] = field(default_factory=dict)
    ate_mix: Mapping[str, Decimal] = field(default_factory=dict)
    unknown: Mapping[str, Decimal] = field(default_factory=dict)

    @property
    def classes(self) -> tuple[HazardClass, ...]:
        """The classes reached."""
        return tuple(finding.hazard_class for finding in self.findings)


def merge(verdicts: Iterable[Verdict]) -> Verdict:
    """All verdicts as one; nothing is said twice."""
    given = tuple(verdicts)
    return Verdict(
        findings=_all(v.findings for v in given),
        reasons=_all(v.reasons for v in given),
        notices=_all(v.notices for v in given),
        not_determined=_all(v.not_determined for v in given),
        euh=_all(v.euh for v in given),
        euh208_names=_all(v.euh208_names for v in given),
        also_named=_all(v.also_named for v in given),
        organs={code: text for v in given for code, text in v.organs.items()},
        ate_mix={route: ate for v in given for route, ate in v.ate_mix.items()},
        unknown={route: share for v in given for route, share in v.unknown.items()},
    )


def _all(groups: Iterable[tuple[_T, ...]]) -> tuple[_T, ...]:
    return tuple(dict.fromkeys(item for group in groups for item in group))
