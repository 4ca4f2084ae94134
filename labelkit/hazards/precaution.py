"""Which precautionary statements a home label carries: Article 28 and Annex IV.

The law wants the redundant ones left out, one on disposal for the public, and no more
than six unless the hazards need it. How the places are shared out is ours.
"""

from collections.abc import Callable, Iterable

from msgspec import Struct

from labelkit.hazards.classes import INHALATION, ROUTES, HazardClass, read_class

__all__ = [
    "CHILDREN",
    "DISPOSAL",
    "EYES_AND_CALL",
    "HOME",
    "SAID_BY",
    "Chosen",
    "Home",
    "choose_precautions",
]

PLACES = 6  # Article 28(3)
CHILDREN, DISPOSAL = "P102", "P501"
EYES_AND_CALL = "P305+P351+P338+P310"  # one block

_Fits = Callable[[HazardClass], bool]


class Home(Struct, frozen=True):
    """One row: which classes it is for, and their statements in priority."""

    fits: _Fits
    statements: tuple[str, ...]

    @property
    def first_aid(self) -> str:
        """What a class that is present never loses; "" where it has none."""
        return next((code for code in self.statements if _is_aid(code)), "")


def _acute(categories: str, *routes: str) -> _Fits:
    def fits(one: HazardClass) -> bool:
        found = one.category in tuple(categories) and one.detail in routes
        return one.family == "Acute Tox." and found

    return fits


def _of(family: str, categories: str) -> _Fits:
    return lambda one: one.family == family and one.category in tuple(categories)


def _any_of(*families: str) -> _Fits:
    return lambda one: one.family in families


# The home pick out of the label tables of Annex I. Not picked: P272 and P284, which are
# for workplaces, and P240 to P243, for highly flammable liquids in bulk
HOME: tuple[Home, ...] = (
    Home(_acute("123", "oral"), ("P301+P310", "P264", "P270", "P405")),
    Home(_acute("12", "dermal"), ("P280", "P302+P352", "P310", "P405")),
    Home(_acute("3", "dermal"), ("P280", "P302+P352", "P312", "P405")),
    Home(_acute("12", *INHALATION), ("P260", "P304+P340", "P310", "P271")),
    Home(_acute("3", *INHALATION), ("P261", "P304+P340", "P311", "P271")),
    Home(
        _any_of("Skin Corr."),
        ("P280", EYES_AND_CALL, "P303+P361+P353", "P301+P330+P331"),
    ),
    Home(_any_of("Eye Dam."), ("P280", EYES_AND_CALL)),
    Home(_any_of("Resp. Sens."), ("P261", "P304+P340", "P342+P311")),
    Home(_any_of("Muta.", "Carc.", "Repr."), ("P280", "P308+P313", "P202", "P405")),
    Home(_of("STOT SE", "12"), ("P260", "P308+P311")),
    Home(_any_of("STOT RE"), ("P260", "P314")),
    Home(_any_of("Asp. Tox."), ("P301+P310", "P331", "P405")),
    Home(_any_of("Skin Sens."), ("P280", "P333+P313", "P302+P352", "P261")),
    Home(_acute("4", "oral"), ("P301+P312", "P264", "P270")),
    Home(_acute("4", "dermal"), ("P280", "P302+P352")),
    Home(_acute("4", *INHALATION), ("P261", "P304+P340")),
    Home(_any_of("Eye Irrit."), ("P280", "P305+P351+P338", "P337+P313")),
    Home(_of("Skin Irrit.", "2"), ("P280", "P302+P352", "P332+P313")),
    Home(_of("STOT SE", "3"), ("P261", "P271", "P304+P340")),
    Home(_any_of("Ox. Liq.", "Ox. Sol."), ("P220", "P210")),
    Home(_any_of("Flam. Liq."), ("P210", "P233", "P403+P235")),
    Home(_any_of("Met. Corr."), ("P234",)),
    Home(_of("Aquatic Acute", "1"), ("P273",)),
    Home(_any_of("Aquatic Chronic"), ("P273",)),
    Home(_any_of("Lact."), ("P263",)),
    # Ours, from memory of the label tables: what the UN system has alone, and solids
    Home(_acute("5", *ROUTES), ("P312",)),
    Home(_of("Skin Irrit.", "3"), ("P332+P313",)),
    Home(_of("Aquatic Acute", "23"), ("P273",)),
    Home(_any_of("Flam. Sol.", "Flam. Gas", "Pyr. Liq.", "Pyr. Sol."), ("P210",)),
    Home(_any_of("Expl.", "Self-react.", "Org. Perox."), ("P210",)),
    Home(_any_of("Self-heat."), ("P235", "P420")),
    Home(_any_of("Water-react."), ("P402+P404",)),
    Home(_any_of("Ox. Gas"), ("P220",)),
)

# Article 28(1): a statement that another one says already, or says more strongly
SAID_BY: dict[str, tuple[str, ...]] = {
    "P330": ("P301+P330+P331",),
    "P331": ("P301+P330+P331",),
    "P302+P352": ("P303+P361+P353",),
    "P305+P351+P338": (EYES_AND_CALL,),
    "P310": (EYES_AND_CALL,),
    "P311": ("P310", EYES_AND_CALL),
    "P312": ("P310", "P311", EYES_AND_CALL),
    "P301+P312": ("P301+P310",),
    "P261": ("P260",),
}


class Chosen(Struct, frozen=True):
    """The statements of a label in the order of printing.

    Attributes:
        beyond: how many more than six, for first aid (Article 28(3)).
    """

    codes: tuple[str, ...] = ()
    beyond: int = 0


def choose_precautions(classes: Iterable[str], *, for_public: bool = True) -> Chosen:
    """The home pick for a set of classes; nothing for none."""
    read = tuple(read_class(text) for text in classes)
    present = [row for row in HOME if any(map(row.fits, read))]
    if not read:
        return Chosen()
    fixed = (CHILDREN, DISPOSAL) if for_public else (DISPOSAL,)
    placed: list[str] = list(fixed)
    _share_out(placed, present)
    _keep_first_aid(placed, present)
    in_order = sorted(placed, key=_numbers)
    return Chosen(tuple(in_order), max(0, len(placed) - PLACES))


def _share_out(placed: list[str], present: list[Home]) -> None:
    """Pass 1: every class its first statement; pass 2: its second; until six."""
    longest = max((len(row.statements) for row in present), default=0)
    for turn in range(longest):
        for row in present:
            if turn < len(row.statements) and len(placed) < PLACES:
                _place(placed, row.statements[turn])


def _place(placed: list[str], code: str) -> None:
    """Put a statement down unless it is said; it takes over what it says as well."""
    if _is_said(placed, code):
        return
    weaker = next((one for one in placed if code in SAID_BY.get(one, ())), None)
    if weaker is None:
        placed.append(code)
    else:
        placed[placed.index(weaker)] = code


def _is_said(placed: list[str], code: str) -> bool:
    return code in placed or any(one in placed for one in SAID_BY.get(code, ()))


def _keep_first_aid(placed: list[str], present: list[Home]) -> None:
    """A class present never loses its first aid: the last of the others gives way."""
    for row in present:
        if not row.first_aid or _is_said(placed, row.first_aid):
            continue
        others = [one for one in placed if _gives_way(one)]
        if others and len(placed) >= PLACES:
            placed.remove(others[-1])
        _place(placed, row.first_aid)


def _gives_way(code: str) -> bool:
    return code not in (CHILDREN, DISPOSAL) and not _is_aid(code)


def _is_aid(code: str) -> bool:
    return code.startswith("P3")


def _numbers(code: str) -> tuple[int, ...]:
    return tuple(int(part[1:]) for part in code.split("+"))
