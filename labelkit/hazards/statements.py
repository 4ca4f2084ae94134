"""The wording of hazard, supplemental and precautionary statements, ready to print."""

import re
from collections.abc import Iterable, Mapping

from msgspec import Struct, field

from labelkit.hazards.checking import EUH_CODES
from labelkit.hazards.classes import INHALATION, read_class
from labelkit.hazards.label import COMBINED, ELEMENTS
from labelkit.hazards.limits import shown
from labelkit.hazards.mixture import Classification
from labelkit.hazards.precaution import CHILDREN, DISPOSAL, HOME
from labelkit.hazards.regimes import regime_named

__all__ = [
    "FILLS",
    "Statement",
    "Statements",
    "complete_or",
    "hazard_sentences",
    "needed_codes",
    "precaution_sentences",
]

NBSP = "\u00a0"

# The words a language must bring for the places a supplier fills in
FILLS = (
    "gloves", "clothing", "eyes", "and", "disposal", "unknown",
    "oral", "dermal", "inhalation",
)  # fmt: skip

_LETTERS = {
    "H360": ("", "F", "D", "FD", "Fd", "Df"),
    "H361": ("", "f", "d", "fd"),
    "H350": ("", "i"),
}
_WITH_ORGANS = ("H370", "H371", "H372", "H373")
_ORGANS = "organs"
_LEAD_IN = re.compile(r"^IF [^:]+:")
_BOUND = re.compile(r"^IF (?:SWALLOWED:|INHALED:|IN EYES:|ON SKIN:?|ON CLOTHING:)")
_AMERICAN = (("vapour", "vapor"), ("xidiser", "xidizer"))

# P280: what the classes ask for (ours; Annex IV leaves the choice to the supplier)
_GLOVES = ("Skin Corr.", "Skin Irrit.", "Skin Sens.", "Muta.", "Carc.", "Repr.")
_EYES = ("Skin Corr.", "Eye Dam.", "Eye Irrit.", "Muta.", "Carc.", "Repr.")
_CLOTHING = ("Skin Corr.",)

Run = tuple[str, bool]


class Statement(Struct, frozen=True):
    """One statement.

    Attributes:
        text: the wording of the law, with the places a supplier fills in.
        printed: the same with the choice made; "" where ``text`` can be printed.
        dry: printed on dry mixtures instead; "" for none.
        seen: read in its source, not recalled from memory.
    """

    code: str
    text: str
    printed: str = ""
    dry: str = ""
    source: str = ""
    seen: bool = False

    def wording(self, *, dry: bool = False) -> str:
        """What is printed, but for the words in curly brackets."""
        return (self.dry if dry else "") or self.printed or self.text


class Statements(Struct, frozen=True):
    """Every statement in one language, by code, and the words that fill them."""

    language: str
    by_code: Mapping[str, Statement]
    fill: Mapping[str, str] = field(default_factory=dict)

    def missing(self) -> tuple[str, ...]:
        """Codes and words without which a label could not be printed whole."""
        codes = [code for code in needed_codes() if code not in self.by_code]
        return (*codes, *(f"fill.{word}" for word in FILLS if word not in self.fill))


def complete_or(wanted: Statements | None, fallback: Statements) -> Statements:
    """A language is used only when whole, else another, whole: never a mixture."""
    return wanted if wanted is not None and not wanted.missing() else fallback


def needed_codes() -> tuple[str, ...]:
    """Every code that a label can carry."""
    hazards = {code for element in ELEMENTS.values() for code in _spellings(element.h)}
    precautions = {code for row in HOME for code in row.statements}
    stot = {"H335", "H336"}
    return tuple(
        sorted(
            {*hazards, *stot, *COMBINED, *EUH_CODES, *precautions, CHILDREN, DISPOSAL}
        )
    )


def _spellings(code: str) -> Iterable[str]:
    """A code of the label tables in all the forms in which it is printed."""
    if "x" in code:
        return [code.replace("x", ten) for ten in "013"]
    return [code + letters for letters in _LETTERS.get(code, ("",))] if code else []


def hazard_sentences(
    statements: Statements, verdict: Classification
) -> tuple[str, ...]:
    """H statements, then EUH, then the share of unknown toxicity; one each, complete.

    Each ends with a full stop.
    """
    hazards = (_hazard(statements, code, verdict) for code in verdict.label_h)
    supplements = (_supplement(statements, code, verdict) for code in verdict.euh)
    said = [f"{sentence}." for sentence in (*hazards, *supplements)]
    return tuple(
        _spelled(line, verdict) for line in (*said, *_unknown(statements, verdict))
    )


def _hazard(statements: Statements, code: str, verdict: Classification) -> str:
    text = statements.by_code[code].wording()
    organs = verdict.organs.get(code, "")
    if code in _WITH_ORGANS and organs:
        return text.replace(_ORGANS, f"{_ORGANS} ({organs})", 1)
    return text


def _supplement(statements: Statements, code: str, verdict: Classification) -> str:
    names = _listed(verdict.euh208_names, statements)
    return statements.by_code[code].wording().format(name=names)


def _unknown(statements: Statements, verdict: Classification) -> Iterable[str]:
    """3.1.3.6.2.2, one sentence for the routes that have the same share."""
    by_share: dict[str, list[str]] = {}
    for route, share in verdict.unknown.items():
        word = statements.fill["inhalation" if route in INHALATION else route]
        routes = by_share.setdefault(shown(share), [])
        if word not in routes:
            routes.append(word)
    for percent, routes in by_share.items():
        yield statements.fill["unknown"].format(
            percent=percent, routes=", ".join(routes)
        )


def precaution_sentences(
    statements: Statements,
    verdict: Classification,
    *,
    disposal: str = "",
    dry: bool = False,
) -> tuple[tuple[Run, ...], ...]:
    """The P statements, each as (text, strong) pairs; "IF IN EYES:" is strong.

    Args:
        statements: the wording.
        verdict: what was chosen, and for which classes.
        disposal: where the waste of this place goes; "" for the general words.
        dry: a dry mixture: dust instead of mist.
    """
    fills = {
        "protection": _protection(statements, verdict),
        "disposal": disposal.strip().rstrip(".") or statements.fill["disposal"],
    }
    sentences = (statements.by_code[code].wording(dry=dry) for code in verdict.p)
    return tuple(
        _in_runs(_spelled(sentence, verdict).format(**fills)) for sentence in sentences
    )


def _protection(statements: Statements, verdict: Classification) -> str:
    classes = [read_class(text) for text in verdict.classes]
    families = {one.family for one in classes}
    by_skin = any(
        one.family == "Acute Tox." and one.detail == "dermal" for one in classes
    )
    worn = [
        ("gloves", bool(families & set(_GLOVES)) or by_skin),
        ("clothing", bool(families & set(_CLOTHING))),
        ("eyes", bool(families & set(_EYES))),
    ]
    asked = [statements.fill[word] for word, needed in worn if needed]
    return _listed(asked or [statements.fill["gloves"]], statements)


def _listed(words: Iterable[str], statements: Statements) -> str:
    *first, last = tuple(words) or ("",)
    return f"{', '.join(first)} {statements.fill['and']} {last}" if first else last


def _in_runs(sentence: str) -> tuple[Run, ...]:
    """The lead-in strong, and unbreakable where it is in capitals; the rest plain."""
    lead_in = _LEAD_IN.match(sentence)
    if not lead_in:
        return ((sentence, False),)
    bound = _BOUND.sub(lambda found: found[0].replace(" ", NBSP), lead_in[0])
    return ((bound, True), (sentence[lead_in.end() :], False))


def _spelled(sentence: str, verdict: Classification) -> str:
    if not regime_named(verdict.regime).american:
        return sentence
    for british, american in _AMERICAN:
        sentence = sentence.replace(british, american)
    return sentence
