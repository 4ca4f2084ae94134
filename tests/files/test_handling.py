"""The cautions that are not law, as they travel with labelkit."""

import re
from decimal import Decimal
from typing import Any

import pytest

from labelkit.chemistry.formulas import composition
from labelkit.chemistry.substances import Confidence
from labelkit.errors import BadInput
from labelkit.files import handling
from labelkit.files.chemicals import read_catalogue
from labelkit.files.data import tags
from labelkit.files.handling import read_handling
from labelkit.mixing.caution import Apart, CautionRule, Kind

HANDLING = read_handling()
CATALOGUE = read_catalogue()
PARENTS = {entry.substance.parent for entry in CATALOGUE}
EVERY = (*HANDLING.cautions, *HANDLING.apart)

# Two lines beside their term on the back of a card A5: 60 characters each.
LONGEST = 120
# Words that soothe. The work can hurt someone, so no caution says that it cannot.
SOOTHING = re.compile(
    r"\b(harmless|safe|safely|safer|mild|mildly|gentle|gently|benign|innocuous|"
    r"non-?toxic|only slightly|low toxicity|not (toxic|poisonous|dangerous|hazardous)|"
    r"no (danger|risk|worry)|don't worry|nothing to fear|natural|edible|"
    r"friendly|overstated|exaggerated)\b",
    re.IGNORECASE,
)
TELEPHONE = re.compile(r"\d[\d ()-]{4,}\d")

# Whom people fear or belittle most; a form of each.
TALKED_ABOUT = (
    "potassium-ferricyanide", "potassium-ferrocyanide-trihydrate", "pyrogallol",
    "potassium-dichromate", "ammonium-dichromate", "sodium-hydroxide",
    "potassium-hydroxide", "sodium-thiosulfate-pentahydrate",
    "ammonium-thiosulfate-60pct", "borax-decahydrate", "boric-acid",
    "sodium-metaborate-tetrahydrate", "silver-nitrate", "oxalic-acid-dihydrate",
    "ferric-oxalate-hydrate", "potassium-oxalate-monohydrate", "hydroquinone", "metol",
)  # fmt: skip


def of(kind: Kind) -> list[CautionRule]:
    return [rule for rule in HANDLING.cautions if rule.kind is kind]


def words_of(rule: CautionRule | Apart) -> str:
    if isinstance(rule, CautionRule):
        return rule.text
    return f"{rule.named_a} {rule.named_b} {rule.text}"


def test_no_two_have_the_same_name_or_say_the_same() -> None:
    assert len({rule.id for rule in HANDLING.cautions}) == len(HANDLING.cautions)
    assert len({rule.text for rule in HANDLING.cautions}) == len(HANDLING.cautions)
    assert len({pair.id for pair in HANDLING.apart}) == len(HANDLING.apart)


def test_every_kind_is_there() -> None:
    assert {rule.kind for rule in HANDLING.cautions} == set(Kind) - {Kind.APART}
    assert len(HANDLING.apart) == 8


@pytest.mark.parametrize("rule", HANDLING.cautions, ids=lambda rule: rule.id)
def test_a_caution_is_about_what_exists(rule: CautionRule) -> None:
    subject = rule.subject
    assert subject.tags | rule.together <= set(tags())
    assert subject.parents <= PARENTS
    for element in subject.elements:
        assert composition(element).atoms == {element: 1}


@pytest.mark.parametrize("pair", HANDLING.apart, ids=lambda pair: pair.id)
def test_a_pair_of_bottles_is_about_what_exists(pair: Apart) -> None:
    assert pair.tags_a
    assert pair.tags_b
    assert pair.tags_a | pair.tags_b <= set(tags())
    assert not pair.tags_a & pair.tags_b
    assert pair.text.endswith(".")


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.id)
def test_everything_names_its_source_and_how_far_to_trust_it(
    rule: CautionRule | Apart,
) -> None:
    assert len(rule.source.split()) > 2
    unseen = "recalled" in rule.source or "no source" in rule.source
    assert unseen == (rule.confidence is Confidence.MEMORY)


@pytest.mark.parametrize("rule", HANDLING.cautions, ids=lambda rule: rule.id)
def test_a_caution_is_one_or_two_sentences_that_a_card_holds(rule: CautionRule) -> None:
    assert rule.text.endswith(".")
    assert len(re.findall(r"[.!?](?:\s|$)", rule.text)) <= 2
    assert len(rule.text) <= LONGEST


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.id)
def test_nothing_is_soothed(rule: CautionRule | Apart) -> None:
    assert not SOOTHING.search(words_of(rule))


@pytest.mark.parametrize(
    "planted",
    ["Borax is harmless.", "Keep it safe.", "It is not toxic.", "A mild alkali."],
)
def test_the_guard_sees_a_soothing_word(planted: str) -> None:
    assert SOOTHING.search(planted)


def test_no_caution_tells_anyone_to_bring_it_up_or_whom_to_call() -> None:
    for rule in HANDLING.cautions:
        assert "induce vomiting" not in rule.text.lower()
        assert "vomit" not in rule.text or "never make anyone vomit" in rule.text
        assert not TELEPHONE.search(rule.text)
    assert TELEPHONE.search("01632 960 118")


@pytest.mark.parametrize("chemical", TALKED_ABOUT)
def test_one_line_is_true_of_each_that_people_talk_about(chemical: str) -> None:
    entry = CATALOGUE[chemical]
    assert len([r for r in of(Kind.TRUE) if r.subject.fits(entry)]) == 1


def test_lye_warms_water_by_what_the_caution_says() -> None:
    # CRC Handbook, table Enthalpy of Solution of Electrolytes: NaOH -44.51, KOH -57.61
    # kJ/mol; water 4.18 J/(g K), the 10 g counted with the 100 g, nothing lost
    told = re.search(r"10 g in 100 mL .* (\d+) °C", text_of("true-lye"))
    assert told
    for kJ_per_mol, g_per_mol in ((44.51, 39.997), (57.61, 56.106)):
        rise_K = 10 * kJ_per_mol / g_per_mol * 1000 / (110 * 4.18)
        assert abs(rise_K - float(told[1])) < 3


def test_borates_count_from_the_limit_of_their_class() -> None:
    # CLP Annex I, Table 3.7.2: Repr. 1B from 0.3 %; Annex VI, Note 11: added up
    assert "0.3 %" in text_of("true-borates")
    assert "added up" in text_of("true-borates")


def test_ten_air_changes_stand_between_what_manuals_ask() -> None:
    # 20 an hour in a navy manual, 5 to 10 in a British printers' sheet
    rule = next(r for r in HANDLING.cautions if r.id == "ten-air-changes")
    assert "ten times an hour" in rule.text
    assert "20" in rule.source
    assert "5 to 10" in rule.source
    assert rule.confidence is Confidence.MEMORY


def text_of(name: str) -> str:
    return next(rule.text for rule in HANDLING.cautions if rule.id == name)


def whole() -> dict[str, Any]:
    return {
        "id": "mask",
        "kind": "wear",
        "severity": "serious",
        "text": "Wear a mask.",
        "source": ["handbook"],
    }


def read(monkeypatch: pytest.MonkeyPatch, *cautions: dict[str, Any]) -> list[str]:
    """The lines that tell what is wrong with a file of these cautions."""
    data = {
        "sources": {"handbook": {"text": "a darkroom handbook", "confidence": "found"}},
        "caution": list(cautions),
    }
    monkeypatch.setattr(handling, "read_data", lambda _: data)
    try:
        read_handling.__wrapped__()
    except BadInput as error:
        return str(error).split("\n")
    return []


def test_a_whole_caution_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    assert read(monkeypatch, whole()) == []


@pytest.mark.parametrize(
    ("key", "value", "problem"),
    [
        ("tags", ["acids"], "'acids' is no tag"),
        ("together", ["vinegar"], "'vinegar' is no tag"),
        ("states", ["dry"], "'dry' is no state"),
        ("source", ["hearsay"], "'hearsay' is no source"),
        ("kind", "advice", "'advice' is not known"),
        ("where", "shelf", "'shelf' is not known"),
        ("temperature", Decimal(20), "is not a known key"),
    ],
)
def test_a_fault_is_told_with_its_place(
    monkeypatch: pytest.MonkeyPatch, key: str, value: object, problem: str
) -> None:
    (line,) = read(monkeypatch, whole() | {key: value})
    assert f"caution 1, {key}: " in line
    assert problem in line


def test_a_caution_without_a_source_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    bare = whole()
    del bare["source"]
    (line,) = read(monkeypatch, bare)
    assert "caution 1, source: is missing" in line


def test_faults_of_one_file_are_told_together(monkeypatch: pytest.MonkeyPatch) -> None:
    wrong = whole() | {"tags": ["acids"], "states": ["dry"]}
    assert len(read(monkeypatch, wrong, wrong)) == 4


def test_the_weakest_source_decides_how_far_to_trust_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    data = {
        "sources": {"handbook": {"text": "a darkroom handbook", "confidence": "found"}},
        "caution": [whole() | {"source": ["handbook", "crc-recalled"]}],
    }
    monkeypatch.setattr(handling, "read_data", lambda _: data)
    (rule,) = read_handling.__wrapped__().cautions
    assert rule.confidence is Confidence.MEMORY
    assert rule.source.startswith("a darkroom handbook; CRC Handbook")
