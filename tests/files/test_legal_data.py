"""The dated notes on the law."""

from datetime import date

from labelkit.files.chemicals import read_catalogue
from labelkit.files.legal import read_legal_notes

NOTES = {note.id: note for note in read_legal_notes()}
CATALOGUE = read_catalogue()
# the collection of facts the notes were made from holds these twelve
COLLECTED = {
    "boron-limits", "cmr-public", "dichromate-authorisation", "explosives-precursors",
    "drug-precursors", "atp-dates", "clp-label-format", "new-hazard-classes",
    "star-marks", "hydrates", "note-b", "uk-poisons",
}  # fmt: skip


def test_every_note_is_there_dated_and_says_where_to_check() -> None:
    assert set(NOTES) == COLLECTED | {"gb-licences"}
    for note in NOTES.values():
        assert note.as_of == date(2026, 11, 25)
        assert note.check.startswith("Check ")
        assert len(note.source.split()) > 2
        assert set(note.regions) <= {"EU", "GB"}


def test_notes_are_about_chemicals_and_parents_that_exist() -> None:
    parents = set(CATALOGUE.parents) | {"nitric-acid"}
    for note in NOTES.values():
        assert all(chemical in CATALOGUE for chemical in note.chemicals)
        assert set(note.above_percent) <= parents


def test_limits_are_those_of_the_acts() -> None:
    # Regulation (EU) 2019/1148, Annex I, column 2
    assert NOTES["explosives-precursors"].above_percent == {
        "sulfuric-acid": 15, "hydrogen-peroxide": 12, "nitric-acid": 3,
    }  # fmt: skip
    assert len(NOTES["boron-limits"].chemicals) == 7
