"""Which notes on the law are shown where."""

from datetime import date

import pytest

from labelkit.mixing.legal import LegalNote, legal_notes, region_of


def note(name: str, *regions: str, chemicals: frozenset[str]) -> LegalNote:
    return LegalNote(
        name,
        "title",
        "text",
        date(2026, 11, 25),
        "Check it.",
        regions=regions,
        chemicals=chemicals,
    )


ACID = frozenset({"acid"})
EU = note("eu", "EU", chemicals=ACID)
GB = note("gb", "GB", chemicals=ACID)
BOTH = note("both", "EU", "GB", chemicals=ACID)
LABELS = note("labels", "EU", chemicals=frozenset())
NOTES = (EU, GB, BOTH, LABELS)


@pytest.mark.parametrize(
    ("country", "region"),
    [("DE", "EU"), ("no", "EU"), ("GB", "GB"), ("uk", "GB"), ("US", ""), ("", "")],
)
def test_a_country_has_a_region(country: str, region: str) -> None:
    assert region_of(country) == region


@pytest.mark.parametrize(
    ("country", "shown"),
    [
        ("", (EU, GB, BOTH)),  # nobody knows where: everything is said
        ("FR", (EU, BOTH)),
        ("GB", (GB, BOTH)),
        ("US", ()),
    ],
)
def test_notes_follow_the_country(country: str, shown: tuple[LegalNote, ...]) -> None:
    assert legal_notes({"acid", "water"}, NOTES, country) == shown


def test_other_chemicals_have_no_notes() -> None:
    assert legal_notes({"water"}, NOTES) == ()
