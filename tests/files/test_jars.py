"""What stands in the cupboard, by exact chemical."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from labelkit.errors import Ambiguous, BadInput
from labelkit.files.chemicals import read_catalogue
from labelkit.files.jars import jars_from_text, read_jars
from labelkit.mixing.bench import Jar

TWO = """
[[jar]]
chemical = "Sodium hydroxide"
lot      = "A-1402"
assay    = "97 %"
opened   = 2031-03-14
pack     = "500  g"
price    = "7.50 EUR"

[[jar]]
chemical = "metol"
opened   = "2031-01-02"
"""


def test_every_key_of_a_jar_is_read(tmp_path: Path) -> None:
    path = tmp_path / "jars.toml"
    path.write_text(TWO, encoding="utf-8")
    assert read_jars(path, read_catalogue()) == (
        Jar(
            chemical="sodium-hydroxide",
            lot="A-1402",
            assay_percent=Decimal(97),
            opened=date(2031, 3, 14),
            pack="500 g",
            price="7.50 EUR",
        ),
        Jar(chemical="metol", opened=date(2031, 1, 2)),
    )


def test_without_a_catalogue_a_chemical_is_taken_as_written() -> None:
    assert [jar.chemical for jar in jars_from_text(TWO)] == [
        "Sodium hydroxide",
        "metol",
    ]


def test_an_empty_cupboard_has_no_jars() -> None:
    assert jars_from_text("") == ()


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            "[[jar]]",
            'jar 1, chemical: is missing. Write chemical = "sodium-hydroxide".',
        ),
        (
            '[[jar]]\nchemical = "metol"\nassay = 97\n',
            'jar 1, assay: 97 is a bare number. Write assay = "98 %".',
        ),
        (
            '[[jar]]\nchemical = "metol"\nassay = "101 %"\n',
            "jar 1, assay: '101 %' is more than there can be. Write at most 100 %; a "
            "hydrate that has dried out is over 100 % of itself: name the drier form "
            "instead.",
        ),
        (
            '[[jar]]\nchemical = "metol"\nopened = "14 March"\n',
            "jar 1, opened: '14 March' is not a date. Write it like 2031-03-14.",
        ),
        (
            '[[jar]]\nchemical = "metol"\npack = "500"\n',
            "jar 1, pack: '500' has no unit. Write one of: g, kg, mg, mL, L, lb, oz, "
            "ozt, grain, drachm, drop, US fl oz, imp fl oz (and so on from minim to "
            "gallon).",
        ),
        (
            '[[jars]]\nchemical = "metol"\n',
            "jars: is not a known key. Did you mean jar?",
        ),
    ],
)
def test_a_fault_is_told_with_what_to_write(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        jars_from_text(text, read_catalogue(), place="jars.toml")
    assert str(caught.value) == f"jars.toml, {line}"


def test_an_unclear_chemical_is_asked() -> None:
    text = '[[jar]]\nchemical = "borax"\n'
    with pytest.raises(Ambiguous):
        jars_from_text(text, read_catalogue())
    chosen = {"borax": "borax-pentahydrate"}
    (jar,) = jars_from_text(text, read_catalogue(), choices=chosen)
    assert jar.chemical == "borax-pentahydrate"
