"""Signal word, pictograms and hazard statements: Articles 19 to 21, 26, 27."""

from collections.abc import Iterable, Sequence

from msgspec import Struct

from labelkit.hazards.classes import INHALATION, HazardClass, read_class
from labelkit.hazards.new_classes import STATEMENTS

__all__ = [
    "COMBINED",
    "ELEMENTS",
    "Element",
    "LabelElements",
    "h_code",
    "in_order",
    "keep_exclamation",
    "label_elements",
]


class Element(Struct, frozen=True):
    """What one category puts on the label."""

    pictogram: str = ""
    signal: str = ""
    h: str = ""


_D, _W = "Danger", "Warning"

# The label tables of Annex I parts 2 to 4 and Annex V. The rows stand in the order of
# printing: physical, health, environment, and in each the severe first. Of health the
# order is that in which precautions are chosen (`labelkit.hazards.precaution`).
# From memory: Expl., gases, self-reactive, peroxides, pyrophoric, water-reactive, and
# what the UN system has alone (Acute Tox. 5, Skin 3, Eye 2B, Aquatic Acute 2, 3).
_ROWS: tuple[tuple[str, str, str, str, str], ...] = (
    ("Expl.", "1.1", "GHS01", _D, "H201"),
    ("Expl.", "1.2", "GHS01", _D, "H202"),
    ("Expl.", "1.3", "GHS01", _D, "H203"),
    ("Expl.", "1.4", "GHS01", _W, "H204"),
    ("Flam. Gas", "1A", "GHS02", _D, "H220"),
    ("Flam. Gas", "1B", "GHS02", _D, "H221"),
    ("Pyr. Liq.", "1", "GHS02", _D, "H250"),
    ("Pyr. Sol.", "1", "GHS02", _D, "H250"),
    ("Water-react.", "1", "GHS02", _D, "H260"),
    ("Water-react.", "2", "GHS02", _D, "H261"),
    ("Ox. Gas", "1", "GHS03", _D, "H270"),
    ("Ox. Liq.", "1", "GHS03", _D, "H271"),
    ("Ox. Sol.", "1", "GHS03", _D, "H271"),
    ("Flam. Liq.", "1", "GHS02", _D, "H224"),
    ("Flam. Liq.", "2", "GHS02", _D, "H225"),
    ("Flam. Sol.", "1", "GHS02", _D, "H228"),
    *((kind, "C", "GHS02", _D, "H242") for kind in ("Self-react.", "Org. Perox.")),
    *((kind, "D", "GHS02", _D, "H242") for kind in ("Self-react.", "Org. Perox.")),
    ("Self-heat.", "1", "GHS02", _D, "H251"),
    ("Ox. Liq.", "2", "GHS03", _D, "H272"),
    ("Ox. Sol.", "2", "GHS03", _D, "H272"),
    ("Flam. Gas", "2", "", _W, "H221"),
    ("Flam. Liq.", "3", "GHS02", _W, "H226"),
    ("Flam. Sol.", "2", "GHS02", _W, "H228"),
    *((kind, "E", "GHS02", _W, "H242") for kind in ("Self-react.", "Org. Perox.")),
    *((kind, "F", "GHS02", _W, "H242") for kind in ("Self-react.", "Org. Perox.")),
    ("Self-heat.", "2", "GHS02", _W, "H252"),
    ("Water-react.", "3", "GHS02", _W, "H261"),
    ("Ox. Liq.", "3", "GHS03", _W, "H272"),
    ("Ox. Sol.", "3", "GHS03", _W, "H272"),
    ("Press. Gas", "", "GHS04", _W, "H280"),
    ("Met. Corr.", "1", "GHS05", _W, "H290"),
    ("Acute Tox.", "1", "GHS06", _D, "H3x0"),
    ("Acute Tox.", "2", "GHS06", _D, "H3x0"),
    ("Acute Tox.", "3", "GHS06", _D, "H3x1"),
    ("Skin Corr.", "1", "GHS05", _D, "H314"),
    ("Skin Corr.", "1A", "GHS05", _D, "H314"),
    ("Skin Corr.", "1B", "GHS05", _D, "H314"),
    ("Skin Corr.", "1C", "GHS05", _D, "H314"),
    ("Eye Dam.", "1", "GHS05", _D, "H318"),
    ("Resp. Sens.", "1", "GHS08", _D, "H334"),
    ("Resp. Sens.", "1A", "GHS08", _D, "H334"),
    ("Resp. Sens.", "1B", "GHS08", _D, "H334"),
    ("Carc.", "1A", "GHS08", _D, "H350"),
    ("Carc.", "1B", "GHS08", _D, "H350"),
    ("Muta.", "1A", "GHS08", _D, "H340"),
    ("Muta.", "1B", "GHS08", _D, "H340"),
    ("Repr.", "1A", "GHS08", _D, "H360"),
    ("Repr.", "1B", "GHS08", _D, "H360"),
    ("STOT SE", "1", "GHS08", _D, "H370"),
    ("STOT RE", "1", "GHS08", _D, "H372"),
    ("Asp. Tox.", "1", "GHS08", _D, "H304"),
    ("ED HH", "1", "", _D, ""),
    ("Carc.", "2", "GHS08", _W, "H351"),
    ("Muta.", "2", "GHS08", _W, "H341"),
    ("Repr.", "2", "GHS08", _W, "H361"),
    ("STOT SE", "2", "GHS08", _W, "H371"),
    ("STOT RE", "2", "GHS08", _W, "H373"),
    ("Skin Sens.", "1", "GHS07", _W, "H317"),
    ("Skin Sens.", "1A", "GHS07", _W, "H317"),
    ("Skin Sens.", "1B", "GHS07", _W, "H317"),
    ("Acute Tox.", "4", "GHS07", _W, "H3x2"),
    ("Eye Irrit.", "2", "GHS07", _W, "H319"),
    ("Eye Irrit.", "2A", "GHS07", _W, "H319"),
    ("Skin Irrit.", "2", "GHS07", _W, "H315"),
    ("STOT SE", "3", "GHS07", _W, ""),
    ("ED HH", "2", "", _W, ""),
    ("Acute Tox.", "5", "", _W, "H3x3"),
    ("Eye Irrit.", "2B", "", _W, "H320"),
    ("Skin Irrit.", "3", "", _W, "H316"),
    ("Lact.", "", "", "", "H362"),
    ("Aquatic Acute", "1", "GHS09", _W, "H400"),
    ("Aquatic Chronic", "1", "GHS09", _W, "H410"),
    ("Aquatic Chronic", "2", "GHS09", "", "H411"),
    ("Aquatic Acute", "2", "", "", "H401"),
    ("Aquatic Chronic", "3", "", "", "H412"),
    ("Aquatic Acute", "3", "", "", "H402"),
    ("Aquatic Chronic", "4", "", "", "H413"),
    ("ED ENV", "1", "", _D, ""),
    ("PBT", "", "", _D, ""),
    ("vPvB", "", "", _D, ""),
    ("PMT", "", "", _D, ""),
    ("vPvM", "", "", _D, ""),
    ("ED ENV", "2", "", _W, ""),
)  # fmt: skip
ELEMENTS = {(r[0], r[1]): Element(*r[2:]) for r in _ROWS}
_RANK = {key: rank for rank, key in enumerate(ELEMENTS)}

# Acute toxicity says the route in the tens: H302, H312, H332
_TENS = {"oral": "0", "dermal": "1", **dict.fromkeys(INHALATION, "3")}

# Annex III: statements of several routes in one category, the longest first
COMBINED = tuple(
    "+".join(f"H3{ten}{unit}" for ten in tens)
    for unit in "012"
    for tens in ("013", "01", "03", "13")
)

# Ours: which pictogram stands first
_PICTOGRAMS = (
    "GHS01", "GHS06", "GHS05", "GHS08", "GHS02", "GHS03", "GHS04", "GHS07", "GHS09",
)  # fmt: skip


class LabelElements(Struct, frozen=True):
    """The elements that classes put on a label, in the order of printing."""

    signal: str
    pictograms: tuple[str, ...]
    h: tuple[str, ...]
    label_h: tuple[str, ...]
    euh: tuple[str, ...] = ()


def label_elements(classes: Iterable[str], euh: Sequence[str] = ()) -> LabelElements:
    """The label elements of a set of classes, after precedence and redundancy."""
    read = in_order(read_class(text) for text in classes)
    codes = tuple(dict.fromkeys(code for one in read if (code := h_code(one))))
    supplements = dict.fromkeys(
        (*euh, *(STATEMENTS[str(one)] for one in read if str(one) in STATEMENTS))
    )
    printed = _without_repeats(codes, supplements)
    return LabelElements(
        signal=_signal(read),
        pictograms=_pictograms(read),
        h=codes,
        label_h=_combined(printed),
        euh=_supplements(codes, supplements),
    )


def in_order(classes: Iterable[HazardClass]) -> tuple[HazardClass, ...]:
    """Physical, health, environment; the severe first."""
    return tuple(
        sorted(
            set(classes),
            key=lambda one: (_RANK[one.family, one.category], one.detail),
        )
    )


def h_code(one: HazardClass) -> str:
    """The H code of a class, with the letters it carries; "" where it has none."""
    code = ELEMENTS[one.family, one.category].h
    if one.family == "Acute Tox.":
        return code.replace("x", _TENS[one.detail])
    if one.family == "STOT SE" and one.category == "3":
        return one.detail
    return code + one.detail if one.family in ("Repr.", "Carc.") else code


def _signal(classes: Iterable[HazardClass]) -> str:
    """Article 20(3): Danger suppresses Warning."""
    words = {ELEMENTS[one.family, one.category].signal for one in classes}
    return next((word for word in (_D, _W) if word in words), "")


def _without_repeats(codes: Iterable[str], euh: Iterable[str]) -> list[str]:
    """Article 27: what another statement says already is left off."""
    said, supplements = set(codes), set(euh)
    dropped = set()
    if "H314" in said:
        dropped.add("H318")
    if "H410" in said:
        dropped.add("H400")
    if "EUH071" in supplements:
        dropped.add("H335")
    return [code for code in codes if code not in dropped]


def _supplements(codes: Iterable[str], euh: Iterable[str]) -> tuple[str, ...]:
    """Annex II, 1.2.4: dryness is not told of what burns or irritates."""
    burns = {"H314", "H315"} & set(codes)
    return tuple(code for code in euh if not (code == "EUH066" and burns))


def _combined(codes: list[str]) -> tuple[str, ...]:
    """Annex III: routes of the same category in one sentence."""
    left = list(codes)
    for combination in COMBINED:
        parts = combination.split("+")
        if set(parts) <= set(left):
            left[min(left.index(part) for part in parts)] = combination
            left = [code for code in left if code not in parts]
    return tuple(left)


def _pictograms(classes: Sequence[HazardClass]) -> tuple[str, ...]:
    """The pictograms of all classes, less those that Article 26 takes away."""
    shown = {
        p for one in classes if (p := ELEMENTS[one.family, one.category].pictogram)
    }
    if "GHS01" in shown:  # 26(1)(a): the others become optional
        shown -= {"GHS02", "GHS03"}
    if shown & {"GHS02", "GHS06"}:  # 26(1)(e)
        shown.discard("GHS04")
    if "GHS07" in shown and not keep_exclamation(classes):
        shown.discard("GHS07")
    return tuple(code for code in _PICTOGRAMS if code in shown)


def keep_exclamation(classes: Iterable[HazardClass]) -> tuple[HazardClass, ...]:
    """The classes for which the exclamation mark still stands.

    Article 26(1)(b): none beside the skull. (c): not for skin and eye irritation beside
    corrosion, which here means of skin or eye, not of metals. (d): not for skin
    sensitisation, skin and eye irritation beside the health hazard of a respiratory
    sensitiser. 26(2): not for STOT SE 3 beside STOT SE 1 or 2.
    """
    all_of_them = tuple(classes)
    families = {one.family for one in all_of_them}
    gone: set[str] = set()
    if families & {"Skin Corr.", "Eye Dam."}:
        gone |= {"Skin Irrit.", "Eye Irrit."}
    if "Resp. Sens." in families:
        gone |= {"Skin Sens.", "Skin Irrit.", "Eye Irrit."}
    if any(one.family == "STOT SE" and one.category != "3" for one in all_of_them):
        gone.add("STOT SE")
    shown = [(one, ELEMENTS[one.family, one.category].pictogram) for one in all_of_them]
    if any(pictogram == "GHS06" for _, pictogram in shown):
        return ()
    return tuple(
        one
        for one, pictogram in shown
        if pictogram == "GHS07" and one.family not in gone
    )
