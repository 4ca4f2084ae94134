"""Small packs and statement codes, from the frozen record and its own words."""

from decimal import Decimal
from typing import Any

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput, ShelfError
from labelkit.mixing.small_label import small_pack, with_codes
from labelkit.mixing.words import BottleText, HazardText, Headline, Pictogram, Run

P102, P280 = (Run("Keep out of reach of children."),), (Run("Wear gloves."),)
EYES = (Run("IF IN EYES:", strong=True), Run(" Rinse cautiously with water."))
SKIN = (Run("IF ON SKIN (or hair):", strong=True), Run(" Take off clothing."))
WORDS = {
    "P102": P102,
    "P273": (Run("Avoid release to the environment."),),
    "P280": P280,
    "P303+P361+P353": SKIN,
    "P305+P351+P338": EYES,
    "P305+P351+P338+P310": EYES,
    "P337+P313": (Run("If eye irritation persists: Get medical advice."),),
    "P501": (Run("Dispose of contents and container as hazardous waste."),),
}
H = {
    "H302": "Harmful if swallowed.",
    "H314": "Causes severe skin burns and eye damage.",
    "H319": "Causes serious eye irritation.",
    "H410": "Very toxic to aquatic life with long lasting effects.",
    "EUH031": "Contact with acids liberates toxic gas.",
}
PICTOGRAMS = {"GHS05": "Corrosive", "GHS07": "Irritant", "GHS09": "Environment"}


def frozen(regime: str = "eu-clp", **given: Any) -> dict[str, Any]:
    """A classification as the record keeps it."""
    usual: dict[str, Any] = {
        "regime": regime, "signal": "Warning", "pictograms": [], "classes": [],
        "h": [], "label_h": [], "euh": [], "p": [],
    }  # fmt: skip
    return usual | given


IRRITANT = frozen(
    classes=["Eye Irrit. 2"], h=["H319"], label_h=["H319"], pictograms=["GHS07"],
    p=["P102", "P280", "P305+P351+P338", "P337+P313", "P501"],
)  # fmt: skip
HARMFUL = frozen(
    classes=["Acute Tox. 4 (oral)"], h=["H302"], label_h=["H302"],
    pictograms=["GHS07"], p=["P102", "P501"],
)  # fmt: skip
SILVER = frozen(
    signal="Danger", pictograms=["GHS05", "GHS09"],
    classes=["Skin Corr. 1B", "Eye Dam. 1", "Aquatic Acute 1", "Aquatic Chronic 1"],
    h=["H314", "H318", "H400", "H410"], label_h=["H314", "H410"],
    p=["P102", "P273", "P280", "P303+P361+P353", "P305+P351+P338+P310", "P501"],
)  # fmt: skip


def bottle(hazard: dict[str, Any], mL: str = "50") -> BottleText:
    """The words that were printed for it."""
    return BottleText(
        name="Stock", number="AG2N-6TXM-7", headline=Headline("ready", "USE AS IS"),
        strength=(), contents=(), made="", discard_label="", discard="",
        hazard=HazardText(
            signal=hazard["signal"].upper(),
            pictograms=tuple(Pictogram(c, PICTOGRAMS[c]) for c in hazard["pictograms"]),
            contains="Contains something.",
            statements=tuple(H[c] for c in (*hazard["label_h"], *hazard["euh"])),
            precautions=tuple(WORDS[code] for code in hazard["p"]),
            open_points=("Not determined: metal corrosion.",),
        ),
        first_words=(), never_with="", aid="", aid_full="", code="", code_means="",
        volume_mL=Decimal(mL),
    )  # fmt: skip


def small(
    hazard: dict[str, Any], mL: str = "50", *, for_public: bool = False
) -> tuple[HazardText, str]:
    text, said = small_pack(bottle(hazard, mL), hazard, for_public=for_public)
    return text.hazard, said


def test_an_eye_irritant_keeps_pictogram_and_signal_word() -> None:
    # CLP, Annex I, 1.5.2.1.1: H and P of Eye Irrit. 2 may go, the rest stays.
    hazard, said = small(IRRITANT)
    assert (hazard.signal, hazard.statements, hazard.precautions) == ("WARNING", (), ())
    assert [p.code for p in hazard.pictograms] == ["GHS07"]
    assert said == (
        "Small pack: H319, P102, P280, P305+P351+P338, P337+P313 and P501 left off "
        "under CLP, Annex I, 1.5.2."
    )
    assert hazard.open_points == ("Not determined: metal corrosion.", said)


def test_a_corrosive_keeps_all_its_own_and_what_belongs_to_no_class() -> None:
    # 1.5.2.1.1 names Aquatic Acute 1 and Chronic 1, not Skin Corr. or Eye Dam.
    hazard, said = small(SILVER)
    assert hazard.statements == (H["H314"],)
    assert hazard.precautions == tuple(WORDS[c] for c in SILVER["p"] if c != "P273")
    assert said == "Small pack: H410 and P273 left off under CLP, Annex I, 1.5.2."


def test_what_is_supplied_to_the_public_keeps_more() -> None:
    # 1.5.2.1.1: Acute Tox. 4 only where not supplied to the public.
    hazard, _ = small(HARMFUL)
    assert hazard.statements == ()
    with pytest.raises(BadInput, match="Stock reaches no class that may leave"):
        small(HARMFUL, for_public=True)


@pytest.mark.parametrize("mL", ["0.5", "124.9", "125"])
def test_up_to_125_mL_is_small(mL: str) -> None:
    assert "Small pack:" in small(IRRITANT, mL)[1]


@pytest.mark.parametrize(
    ("hazard", "mL", "told"),
    [
        (IRRITANT, "125.1", "a bottle of 125.1 mL is no small pack. CLP, Annex I, 1"),
        (IRRITANT | {"regime": "us-hcs"}, "100.1", "of 100.1 mL is no small pack"),
        (IRRITANT | {"regime": "un-ghs"}, "50", "un-ghs has no rule for small packs"),
        (frozen(), "50", "reaches no class that may leave a statement off"),
    ],
)
def test_where_it_does_not_apply_it_is_refused_in_one_line(
    hazard: dict[str, Any], mL: str, told: str
) -> None:
    with pytest.raises(BadInput) as refused:
        small(hazard, mL)
    (fault,) = refused.value.faults
    assert told in str(fault)
    assert fault.place == "--small-pack"
    assert "print the whole label" in str(fault)


def test_an_american_bottle_points_to_its_outer_pack() -> None:
    # 29 CFR 1910.1200(f)(12): up to 100 mL
    hazard, said = small(IRRITANT | {"regime": "us-hcs"}, "100")
    assert (hazard.statements, hazard.precautions) == ((), ())
    assert "29 CFR 1910.1200(f)(12). The outer pack carries the whole label." in said


def test_supplements_are_never_left_off() -> None:
    euh = IRRITANT | {"euh": ["EUH031"]}
    assert small(euh)[0].statements == (H["EUH031"],)


def test_words_that_do_not_go_with_their_codes_are_refused() -> None:
    text = bottle(IRRITANT)
    short = replace(text, hazard=replace(text.hazard, precautions=(P102,)))
    with pytest.raises(ShelfError, match="do not go with its codes"):
        small_pack(short, IRRITANT, for_public=False)
    with pytest.raises(ShelfError, match="leave --small-pack and --codes out"):
        with_codes(short, IRRITANT)


def test_codes_stand_at_the_end_of_each_sentence() -> None:
    euh = IRRITANT | {"euh": ["EUH031"]}
    hazard = with_codes(bottle(euh), euh).hazard
    assert hazard.statements == (
        "Causes serious eye irritation (H319).",
        "Contact with acids liberates toxic gas (EUH031).",
    )
    assert hazard.precautions[0][-1].text == "Keep out of reach of children (P102)."
    lead_in, rest = hazard.precautions[2]
    assert lead_in == EYES[0]
    assert rest.text == " Rinse cautiously with water (P305+P351+P338)."


def test_without_a_class_there_is_no_code_to_print() -> None:
    none = frozen(signal="")
    text = replace(bottle(none), hazard=HazardText(none_reached=(Run("Not safe."),)))
    assert with_codes(text, none) == text
