"""The classification evidence of the built-in catalogue."""

import tomllib
from collections import Counter
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from labelkit.files.chemicals import read_catalogue, read_gases
from labelkit.files.evidence import read_annex_entries, read_other_authorities
from labelkit.hazards.checking import check_data
from labelkit.hazards.data import Basis, HazardData
from labelkit.hazards.label import label_elements

REFERENCES = Path(__file__).parent.parent / "references"
DERIVED = {
    form["id"]: form
    for form in tomllib.loads(
        REFERENCES.joinpath("chemicals-derived.toml").read_text("utf-8")
    )["form"]
}
CATALOGUE = read_catalogue()
EVERY = {entry.hazard.id: entry.hazard for entry in CATALOGUE}
# the totals are those of the collection of facts that the first 96 were made from
HAZARDS = {id_: hazard for id_, hazard in EVERY.items() if id_ in DERIVED}
MORE = {s.id: s.more for s in CATALOGUE.substances if s.id in DERIVED}
OFFICIAL = [hazard for hazard in HAZARDS.values() if hazard.official]


def own_entry(hazard: HazardData) -> tuple[list[str], list[str]]:
    """Classes and EUH codes as Annex VI has them, without what was added."""
    more = MORE[hazard.id]
    classes = [c for c in hazard.classes or () if c not in more.get("self_classes", ())]
    return classes, [c for c in hazard.euh if c not in more.get("added_euh", ())]


def test_55_forms_rest_on_annex_vi() -> None:
    # of them 5 through a group, and 5 hydrates through the anhydrous substance
    covers = Counter(MORE[h.id].get("annex_vi_covers", "substance") for h in OFFICIAL)
    assert covers == {"substance": 45, "hydrate": 5, "group": 5}
    assert {h.id for h in OFFICIAL if h.basis is Basis.GROUP} == {
        h.id for h in OFFICIAL if MORE[h.id].get("annex_vi_covers") == "group"
    }
    assert sum(len(own_entry(hazard)[0]) for hazard in OFFICIAL) == 163


def test_only_amidol_has_no_classification_at_all() -> None:
    without = [h.id for h in HAZARDS.values() if h.classes is None]
    assert without == ["amidol"]
    assert HAZARDS["amidol"].basis is None


def test_specific_limits_add_up() -> None:
    limits = [limit for hazard in HAZARDS.values() for limit in hazard.limits]
    assert len(limits) == 66
    assert sum(limit.minimum for limit in limits) == Decimal("1537.4")
    assert sum(limit.below or 0 for limit in limits) == 1404


def test_notes_marks_and_codes_add_up() -> None:
    notes = Counter(note for hazard in OFFICIAL for note in hazard.notes)
    assert notes == {"B": 14, "A": 5, "11": 4, "3": 2, "G": 1}
    marks = Counter(
        mark.startswith("limit")
        for more in MORE.values()
        for mark in more.get("annex_vi_marks", {})
    )
    assert marks == {False: 53, True: 4}
    assert sum("annex_vi_limit_star" in more for more in MORE.values()) == 8
    codes = {h.id: own_entry(h)[1] for h in OFFICIAL if own_entry(h)[1]}
    assert codes == {
        "sodium-metabisulfite": ["EUH031"],
        "sodium-bisulfite": ["EUH031"],
        "ammonium-thiocyanate": ["EUH032"],
        "sodium-hypochlorite-household": ["EUH031"],
    }


def test_estimates_and_m_factors_are_those_of_annex_vi_and_silver() -> None:
    assert {h.id: dict(h.ate) for h in HAZARDS.values() if h.ate} == {
        "pyrocatechol": {"oral": 300, "dermal": 600},
        "copper-sulfate-pentahydrate": {"oral": 481},
    }
    factors = {
        h.id: [None if m is None else int(m) for m in (h.m_acute, h.m_chronic)]
        for h in HAZARDS.values()
        if h.m_acute or h.m_chronic
    }
    assert factors == {
        "hydroquinone": [10, None],
        "copper-sulfate-pentahydrate": [10, 1],
        "sodium-hypochlorite-household": [10, 1],
        # registrants', quoting ECHA; Annex VI has none
        "silver-nitrate": [1000, 100],
    }
    assert "registrants" in MORE["silver-nitrate"]["m_source"]


@pytest.mark.parametrize("hazard", OFFICIAL, ids=lambda hazard: hazard.id)
def test_label_elements_are_those_annex_vi_lists(hazard: HazardData) -> None:
    wanted = DERIVED[hazard.id]
    classes, euh = own_entry(hazard)
    got = label_elements(classes, euh)
    listed = set(wanted["label_h"])
    assert set(got.h) >= listed
    assert {h for h in got.label_h if "+" not in h} <= listed
    assert got.signal == wanted.get("signal", "")
    # the table may list the exclamation mark that a graver pictogram supplants
    assert set(got.pictograms) <= set(wanted["pictograms"])
    assert set(wanted["pictograms"]) - set(got.pictograms) <= {"GHS07"}


@pytest.mark.parametrize("hazard", EVERY.values(), ids=lambda hazard: hazard.id)
def test_hazard_data_are_possible_and_named_shortly(hazard: HazardData) -> None:
    assert check_data(hazard) == []
    assert len(hazard.name) <= 32
    assert len(hazard.source.split()) > 2
    if hazard.classes is not None:
        assert hazard.confidence in {"found", "memory"}


def test_no_classification_of_our_own_reading_is_called_found() -> None:
    for hazard in HAZARDS.values():
        if hazard.classes == () or hazard.basis is Basis.COPIED:
            assert hazard.confidence == "memory", hazard.id
        if hazard.official:
            assert hazard.confidence == "found", hazard.id


def test_borates_carry_note_11_in_every_form() -> None:
    borates = [h for h in HAZARDS.values() if "borate" in h.tags]
    assert len(borates) == 7
    for hazard in borates:
        assert "Repr. 1B FD" in (hazard.classes or ())
        assert hazard.notes == ("11",)


def test_metaborate_is_read_across_and_says_so() -> None:
    bases = {i: HAZARDS[i].basis for i in HAZARDS if i.startswith("sodium-metaborate")}
    assert bases == {
        "sodium-metaborate-anhydrous": Basis.SELF,
        "sodium-metaborate-dihydrate": Basis.COPIED,
        "sodium-metaborate-tetrahydrate": Basis.COPIED,
    }
    assert all("read across" in HAZARDS[i].remark for i in bases)


def test_gaps_in_the_entries_are_filled_and_marked_as_ours() -> None:
    added = {i: more["added_euh"] for i, more in MORE.items() if "added_euh" in more}
    assert set(added) == {
        "sodium-sulfide-anhydrous",
        "sodium-sulfide-nonahydrate",
        "sodium-sulfide-60pct-flakes",
        "potassium-thiocyanate",
    }
    for chemical, codes in added.items():
        assert codes == ["EUH032"]
        assert HAZARDS[chemical].euh == ("EUH032",)
        assert "EUH032 is ours" in HAZARDS[chemical].remark


def test_strong_acids_and_bases_are_either_limited_or_not_additive() -> None:
    for hazard in HAZARDS.values():
        strong = hazard.tags & {"strong-acid", "strong-base"}
        if strong:
            assert hazard.acid_or_base != hazard.non_additive, hazard.id
        elif hazard.non_additive:
            pytest.fail(f"{hazard.id} is neither a strong acid nor a strong base")
    covered = {hazard.name for hazard in HAZARDS.values() if hazard.acid_or_base}
    assert covered == {
        "sodium hydroxide", "potassium hydroxide", "acetic acid", "sulfuric acid",
        "hydrochloric acid",
    }  # fmt: skip


def test_a_solutions_classes_are_those_of_what_is_dissolved() -> None:
    assert all(hazard.solute_share == 1 for hazard in HAZARDS.values())
    glacial, vinegar = HAZARDS["acetic-acid-glacial"], HAZARDS["vinegar-5pct"]
    assert glacial.limits == vinegar.limits


STRENGTHS = [pytest.param(i, f["at_strength"], id=i) for i, f in DERIVED.items()
             if "at_strength" in f]  # fmt: skip


@pytest.mark.parametrize(("chemical", "classes"), STRENGTHS)
def test_what_the_limits_give_at_the_strength_sold(
    chemical: str, classes: list[str]
) -> None:
    percent = CATALOGUE.substance(chemical).percent_by_mass
    assert percent is not None
    got = [
        limit.hazard_class
        for limit in HAZARDS[chemical].limits
        if limit.minimum <= percent and (limit.below is None or percent < limit.below)
    ]
    assert got == classes


def test_every_entry_of_annex_vi_is_named_and_dated() -> None:
    entries = read_annex_entries()
    cited = {more["annex_vi"] for more in MORE.values() if "annex_vi" in more}
    related = {m["related_annex_vi"] for m in MORE.values() if "related_annex_vi" in m}
    assert len(cited) == 37
    assert cited <= set(entries)
    # the entry of ammonium bromide is not in the catalogue; its remark tells of it
    assert related - set(entries) == {"035-005-00-7"}
    assert entries["607-750-00-3"].name == "citric acid"
    # Delegated Regulation (EU) 2021/849 (ATP 17), in application 17 December 2022
    assert entries["607-750-00-3"].regulation == "32021R0849"
    assert str(entries["607-750-00-3"].in_application) == "2022-12-17"


def test_what_other_authorities_found_is_kept_and_not_used() -> None:
    found = read_other_authorities()
    results = [result for each in found.values() for result in each]
    assert len(results) == 47
    assert sum(len(result.classes) for result in results) == 176
    assert sum(len(result.h) for result in results) == 72
    assert set(found) <= set(HAZARDS)
    assert all(result.years or result.list_flag for result in results)
    # Australia and Japan classify amidol; its print still says that there is no data
    assert len(found["amidol"]) == 2
    assert HAZARDS["amidol"].classes is None


def test_five_gases_are_known_by_formula() -> None:
    gases = read_gases()
    assert set(gases) == {"SO2", "H2S", "HCN", "NH3", "Cl2"}
    assert sum(len(gas.hazard.classes or ()) for gas in gases.values()) == 24
    assert gases["SO2"].hazard.ate == {"gas": 1000}
    assert gases["H2S"].hazard.ate == {"gas": 440}
    assert gases["Cl2"].hazard.m_acute == 100


def selected(**wanted: Any) -> list[str]:
    return [
        i
        for i, hazard in HAZARDS.items()
        if all(getattr(hazard, key) == value for key, value in wanted.items())
    ]


def test_organs_are_named_where_they_are_known() -> None:
    organs = {i: dict(h.organs) for i, h in HAZARDS.items() if h.organs}
    assert organs == {
        "potassium-iodide": {"H372": "thyroid"},
        "edta-disodium-dihydrate": {"H373": "respiratory tract"},
    }


def test_what_is_not_classified_says_on_what_that_rests() -> None:
    unclassified = selected(classes=())
    assert len(unclassified) == 22
    for chemical in unclassified:
        assert "recalled" in HAZARDS[chemical].source
        assert "classif" in HAZARDS[chemical].remark
