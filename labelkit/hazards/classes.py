"""The class strings the law uses, such as ``Acute Tox. 4 (oral)``, read and written."""

import re
from difflib import get_close_matches
from functools import lru_cache

from msgspec import Struct

from labelkit.errors import BadInput

__all__ = ["INHALATION", "ROUTES", "HazardClass", "every_class", "read_class"]

ROUTES = ("oral", "dermal", "gas", "vapour", "dust/mist")
INHALATION = ("gas", "vapour", "dust/mist")

_LETTERS_1 = ("", "F", "D", "FD", "Fd", "Df")
_LETTERS_2 = ("", "f", "d", "fd")

# Category -> what may or must stand after it. Regulation (EC) No 1272/2008, Annex VI
# part 1, 1.1.2.1.1, and for the categories of the UN system alone (Acute Tox. 5, Skin
# Irrit. 3, Eye Irrit. 2A and 2B, Aquatic Acute 2 and 3) the GHS chapters of that name.
_PLAIN: tuple[str, ...] = ("",)
_TWO: dict[str, tuple[str, ...]] = {"1": _PLAIN, "2": _PLAIN}
_THREE = {"1": _PLAIN, "2": _PLAIN, "3": _PLAIN}
_C_TO_F = dict.fromkeys("CDEF", _PLAIN)
_SENSITISER = {"1": _PLAIN, "1A": _PLAIN, "1B": _PLAIN}
_FAMILIES: dict[str, dict[str, tuple[str, ...]]] = {
    "Expl.": dict.fromkeys(("1.1", "1.2", "1.3", "1.4"), _PLAIN),
    "Flam. Gas": dict.fromkeys(("1A", "1B", "2"), _PLAIN),
    "Ox. Gas": {"1": _PLAIN},
    "Press. Gas": {"": _PLAIN},
    "Flam. Liq.": _THREE,
    "Flam. Sol.": _TWO,
    "Self-react.": _C_TO_F,
    "Org. Perox.": _C_TO_F,
    "Pyr. Liq.": {"1": _PLAIN},
    "Pyr. Sol.": {"1": _PLAIN},
    "Self-heat.": _TWO,
    "Water-react.": _THREE,
    "Ox. Liq.": _THREE,
    "Ox. Sol.": _THREE,
    "Met. Corr.": {"1": _PLAIN},
    "Acute Tox.": dict.fromkeys("12345", ROUTES),
    "Skin Corr.": dict.fromkeys(("1", "1A", "1B", "1C"), _PLAIN),
    "Skin Irrit.": {"2": _PLAIN, "3": _PLAIN},
    "Eye Dam.": {"1": _PLAIN},
    "Eye Irrit.": dict.fromkeys(("2", "2A", "2B"), _PLAIN),
    "Resp. Sens.": _SENSITISER,
    "Skin Sens.": _SENSITISER,
    "Muta.": dict.fromkeys(("1A", "1B", "2"), _PLAIN),
    "Carc.": {"1A": ("", "i"), "1B": ("", "i"), "2": _PLAIN},
    "Repr.": {"1A": _LETTERS_1, "1B": _LETTERS_1, "2": _LETTERS_2},
    "Lact.": {"": _PLAIN},
    "STOT SE": {"1": _PLAIN, "2": _PLAIN, "3": ("H335", "H336")},
    "STOT RE": _TWO,
    "Asp. Tox.": {"1": _PLAIN},
    "ED HH": _TWO,
    "ED ENV": _TWO,
    "PBT": {"": _PLAIN},
    "vPvB": {"": _PLAIN},
    "PMT": {"": _PLAIN},
    "vPvM": {"": _PLAIN},
    "Aquatic Acute": _THREE,
    "Aquatic Chronic": {**_THREE, "4": _PLAIN},
}
_TO_GO_BY = ("Skin Corr. 1B", "Acute Tox. 4 (oral)", "STOT SE 3 (H335)")
_BARE = ("Repr.", "Carc.")  # letters stand bare, all else in round brackets
_REST = re.compile(
    r"(?: (?P<category>\d(?:\.\d)?[ABC]?|[C-F]))?"
    r"(?: \((?P<bracketed>[^()]+)\)| (?P<letters>[FDfdi]+))?"
)


class HazardClass(Struct, frozen=True):
    """One hazard class and category.

    Attributes:
        family: the class, ``Skin Corr.``.
        category: ``1B``; "" where the class has only one.
        detail: route of acute toxicity, H335 or H336 of STOT SE 3, letters of Repr.
            (F and D known or presumed, f and d suspected), ``i`` of Carc. for
            inhalation only.
    """

    family: str
    category: str = ""
    detail: str = ""

    def __str__(self) -> str:
        words = [self.family, self.category, self.detail]
        if self.detail and self.family not in _BARE:
            words[2] = f"({self.detail})"
        return " ".join(word for word in words if word)


@lru_cache(maxsize=1024)
def read_class(text: str) -> HazardClass:
    """The class that ``text`` names.

    Raises:
        BadInput: no class of the regulation is written so.
    """
    family = next((name for name in _FAMILIES if f"{text} ".startswith(f"{name} ")), "")
    rest = _REST.fullmatch(text.removeprefix(family))
    category = (rest["category"] or "") if rest else ""
    detail = (rest["bracketed"] or rest["letters"] or "") if rest else ""
    found = HazardClass(family, category, detail)
    if str(found) != text or detail not in _FAMILIES.get(family, {}).get(category, ()):
        raise BadInput(f"'{text}' is no hazard class", remedy=_instead(text, found))
    return found


def _instead(text: str, found: HazardClass) -> str:
    """What to write for ``text``: the nearest classes, else two to go by."""
    categories = _FAMILIES.get(found.family)
    if categories is None:
        near = get_close_matches(text, every_class(), n=3)
        return f"Write one of: {', '.join(near or _TO_GO_BY)}."
    if found.category in categories:
        categories = {found.category: categories[found.category]}
    kin = (
        HazardClass(found.family, category, detail)
        for category, details in categories.items()
        for detail in details
    )
    return f"Write one of: {', '.join(str(one) for one in kin)}."


def every_class() -> list[str]:
    """Every class string that can be read."""
    return [
        str(HazardClass(family, category, detail))
        for family, categories in _FAMILIES.items()
        for category, details in categories.items()
        for detail in details
    ]
