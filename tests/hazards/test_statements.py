"""Wording: complete in the language used, ready to print, nothing left to fill in."""

import re

import pytest
from msgspec.structs import replace

from labelkit.files.statements import read_statements
from labelkit.hazards.mixture import Classification
from labelkit.hazards.precaution import EYES_AND_CALL
from labelkit.hazards.statements import (
    Statements,
    complete_or,
    hazard_sentences,
    needed_codes,
    precaution_sentences,
)
from tests.hazards.making import chemical, measured, verdict

ENGLISH = read_statements()
NBSP = "\u00a0"


def plain(verdict_: Classification, **more: object) -> list[str]:
    runs = precaution_sentences(ENGLISH, verdict_, **more)  # type: ignore[arg-type]
    return ["".join(text for text, _ in one).replace(NBSP, " ") for one in runs]


def with_codes(*codes: str, classes: tuple[str, ...] = ()) -> Classification:
    return Classification("eu-clp", p=codes, classes=classes)


def test_english_is_complete() -> None:
    assert ENGLISH.missing() == ()
    assert set(needed_codes()) <= set(ENGLISH.by_code)


@pytest.mark.parametrize("dry", [False, True])
def test_no_printed_sentence_has_an_ellipsis_a_slash_or_brackets(dry: bool) -> None:
    codes = tuple(code for code in ENGLISH.by_code if code.startswith("P"))
    sentences = plain(with_codes(*codes), dry=dry)
    assert len(sentences) == len(codes) > 60
    for sentence in sentences:
        assert not re.search(r"[…/\[\]{}]", sentence), sentence
        assert sentence.endswith("."), sentence


def test_every_wording_says_where_it_comes_from_and_ten_rest_on_memory() -> None:
    assert all(one.source for one in ENGLISH.by_code.values())
    memory = {code for code, one in ENGLISH.by_code.items() if not one.seen}
    assert memory == {
        "P103", "P280", "EUH380", "EUH381", "EUH430", "EUH431", "EUH440", "EUH441",
        "EUH450", "EUH451",
    }  # fmt: skip


def test_hazard_statements_are_printed_as_the_law_words_them() -> None:
    # CLP Annex III part 1
    data = chemical("agent", "Carc. 2", "Eye Irrit. 2")
    found = verdict((data, "20"), ph=measured(7))
    assert hazard_sentences(ENGLISH, found) == (
        "Suspected of causing cancer.",
        "Causes serious eye irritation.",
    )


def test_organs_are_named_where_they_are_known() -> None:
    iodide = chemical("iodide", "STOT RE 1", organs={"H372": "thyroid"})
    assert hazard_sentences(ENGLISH, verdict((iodide, "20"))) == (
        "Causes damage to organs (thyroid) through prolonged or repeated exposure.",
    )


def test_sensitisers_are_filled_in() -> None:
    one, two = chemical("metol", "Skin Sens. 1"), chemical("amber", "Skin Sens. 1")
    found = verdict((one, "0.5"), (two, "0.5"))
    assert hazard_sentences(ENGLISH, found) == (
        "Contains amber and metol. May produce an allergic reaction.",
    )


def test_unknown_acute_toxicity_is_told_with_its_share_and_routes() -> None:
    # 3.1.3.6.2.2
    poison = chemical(
        "p", "Acute Tox. 3 (oral)", "Acute Tox. 3 (vapour)", "Acute Tox. 3 (dust/mist)"
    )
    silent = chemical("s", unknown_acute=("oral", "inhalation"))
    found = verdict((poison, "60"), (silent, "11.5"))
    assert hazard_sentences(ENGLISH, found)[-1] == (
        f"11.5{NBSP}% of the mixture consists of ingredients of unknown acute toxicity"
        " (oral, inhalation)."
    )


@pytest.mark.parametrize(
    ("code", "lead_in", "rest"),
    [
        ("P305+P351+P338", "IF IN EYES:", " Rinse cautiously with water"),
        ("P302+P352", "IF ON SKIN:", " Wash with plenty of water."),
        ("P301+P330+P331", "IF SWALLOWED:", " Rinse mouth. Do NOT induce vomiting."),
        ("P304+P340", "IF INHALED:", " Remove person to fresh air"),
    ],
)
def test_a_lead_in_is_strong_and_does_not_break(
    code: str, lead_in: str, rest: str
) -> None:
    ((first, second),) = precaution_sentences(ENGLISH, with_codes(code))
    assert first == (lead_in.replace(" ", NBSP), True)
    assert second[0].startswith(rest)
    assert second[1] is False


def test_longer_lead_ins_are_strong_and_may_break_after_the_capitals() -> None:
    (hair, exposed) = precaution_sentences(
        ENGLISH, with_codes("P303+P361+P353", "P308+P313")
    )
    assert hair[0] == (f"IF{NBSP}ON{NBSP}SKIN (or hair):", True)
    assert exposed[0] == ("IF exposed or concerned:", True)


def test_eyes_and_call_are_one_block() -> None:
    assert plain(with_codes(EYES_AND_CALL)) == [
        "IF IN EYES: Rinse cautiously with water for several minutes. Remove contact"
        " lenses, if present and easy to do. Continue rinsing. Immediately call a"
        " POISON CENTER or doctor."
    ]


@pytest.mark.parametrize(
    ("classes", "worn"),
    [
        (("Eye Irrit. 2",), "eye protection"),
        (("Skin Sens. 1",), "protective gloves"),
        (("Carc. 2",), "protective gloves and eye protection"),
        (
            ("Skin Corr. 1B", "Eye Dam. 1"),
            "protective gloves, protective clothing and eye protection",
        ),
        (("Acute Tox. 4 (dermal)",), "protective gloves"),
    ],
)
def test_protection_is_chosen_by_class(classes: tuple[str, ...], worn: str) -> None:
    assert plain(with_codes("P280", classes=classes)) == [f"Wear {worn}."]


def test_disposal_says_where_this_places_waste_goes() -> None:
    found = with_codes("P501")
    assert plain(found) == ["Dispose of contents and container to hazardous waste."]
    here = plain(found, disposal="the drum in the yard, Tern Street.")
    assert here == [
        "Dispose of contents and container to the drum in the yard, Tern Street."
    ]
    odd = plain(found, disposal="{the} drum")
    assert odd == ["Dispose of contents and container to {the} drum."]


def test_a_dry_mixture_is_dust() -> None:
    assert plain(with_codes("P260")) == ["Do not breathe mist, vapours or spray."]
    assert plain(with_codes("P260"), dry=True) == ["Do not breathe dust."]


def test_american_labels_are_spelled_so() -> None:
    # 29 CFR 1910.1200, Appendix C
    found = Classification("us-hcs", label_h=("H272", "H225"), p=("P261",))
    assert hazard_sentences(ENGLISH, found) == (
        "May intensify fire; oxidizer.",
        "Highly flammable liquid and vapor.",
    )
    assert plain(found) == ["Avoid breathing mist, vapors or spray."]


def test_a_language_is_used_only_when_it_is_whole() -> None:
    whole = replace(ENGLISH, language="xx")
    codes = dict(ENGLISH.by_code)
    del codes["H314"]
    torn = Statements("xx", codes, ENGLISH.fill)
    fills = {key: word for key, word in ENGLISH.fill.items() if key != "gloves"}
    wordless = Statements("xx", ENGLISH.by_code, fills)
    assert complete_or(whole, ENGLISH) is whole
    assert complete_or(torn, ENGLISH) is ENGLISH
    assert complete_or(wordless, ENGLISH) is ENGLISH
    assert complete_or(None, ENGLISH) is ENGLISH
    assert (torn.missing(), wordless.missing()) == (("H314",), ("fill.gloves",))


def test_a_language_that_is_not_there_falls_back_to_english() -> None:
    assert read_statements("xx").language == "en"
    assert read_statements("../en").language == "en"
