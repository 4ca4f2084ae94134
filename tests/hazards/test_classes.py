"""The class strings of Annex VI part 1, 1.1.2.1.1."""

import pytest

from labelkit.errors import BadInput
from labelkit.hazards.classes import HazardClass, every_class, read_class


@pytest.mark.parametrize("text", every_class())
def test_every_class_is_written_as_it_was_read(text: str) -> None:
    assert str(read_class(text)) == text


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Acute Tox. 4 (oral)", HazardClass("Acute Tox.", "4", "oral")),
        ("Repr. 1B FD", HazardClass("Repr.", "1B", "FD")),
        ("STOT SE 3 (H336)", HazardClass("STOT SE", "3", "H336")),
        ("Carc. 1B i", HazardClass("Carc.", "1B", "i")),
        ("Lact.", HazardClass("Lact.")),
        ("ED HH 1", HazardClass("ED HH", "1")),
        ("vPvB", HazardClass("vPvB")),
    ],
)
def test_family_category_and_detail_are_told_apart(
    text: str, expected: HazardClass
) -> None:
    assert read_class(text) == expected


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("Skin Corr. 1D", "Skin Corr. 1, Skin Corr. 1A, Skin Corr. 1B, Skin Corr. 1C"),
        ("STOT SE 3", "STOT SE 3 (H335), STOT SE 3 (H336)"),
        ("Repr. 2 FD", "Repr. 2, Repr. 2 f, Repr. 2 d, Repr. 2 fd"),
        ("skin corr. 1B", "Skin Corr. 1B"),
        ("", "Skin Corr. 1B"),
        (" Lact.", "Lact."),
        ("Aquatic Chronic 5", "Aquatic Chronic 1, Aquatic Chronic 2"),
    ],
)
def test_an_unknown_class_is_refused_with_what_to_write(
    text: str, instead: str
) -> None:
    with pytest.raises(BadInput) as refused:
        read_class(text)
    assert str(refused.value).startswith(f"'{text}' is no hazard class. Write one of: ")
    assert instead in str(refused.value)
