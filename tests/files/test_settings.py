"""The settings of a bench: every key, every default, every fault at once."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors import BadInput, Unknown
from labelkit.files.settings import read_settings, settings_from_text
from labelkit.mixing.bench import Settings

WHOLE = """
room        = "Tern Street Print Room"
address     = "4 Tern Street"
phone       = "+44 20 7946 0000"
profile     = "room"
regime      = "gb-clp"
country     = "GB"
emergency   = "112"
disposal    = "Blue drum by the door"
base_url    = "https://bottles.example.org/"
balance     = "10 mg"
cylinder    = "1 mL"
label       = "tall"
sheet       = "a4-74x105"
paper       = "Letter"
mono        = true
keyline     = false
nudge       = ["0.5 mm", "-1 mm"]
nudge_back  = ["0 mm", "1,5 mm"]
scale       = [1.002, 1]
language    = "en"
"""


def test_every_key_is_read() -> None:
    assert settings_from_text(WHOLE) == Settings(
        room="Tern Street Print Room",
        address="4 Tern Street",
        phone="+44 20 7946 0000",
        profile="room",
        regime="gb-clp",
        country="GB",
        emergency="112",
        disposal="Blue drum by the door",
        base_url="https://bottles.example.org",
        balance_g=Decimal("0.01"),
        cylinder_mL=Decimal(1),
        label="tall",
        sheet="a4-74x105",
        paper="Letter",
        mono=True,
        keyline=False,
        nudge_mm=(Decimal("0.5"), Decimal(-1)),
        nudge_back_mm=(Decimal(0), Decimal("1.5")),
        scale=(Decimal("1.002"), Decimal(1)),
        language="en",
    )


def test_an_empty_file_gives_every_default() -> None:
    assert settings_from_text("") == Settings()


@pytest.mark.parametrize(
    ("profile", "drawn"), [("own", True), ("room", True), ("supply", False)]
)
def test_a_keyline_left_out_follows_the_profile(profile: str, drawn: bool) -> None:
    assert settings_from_text(f'profile = "{profile}"').draws_keyline is drawn
    text = f'profile = "{profile}"\nkeyline = true'
    assert settings_from_text(text).draws_keyline


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            'profile = "shared"',
            "profile: 'shared' is not known. Write one of: own, room, supply.",
        ),
        (
            'regime = "reach"',
            "regime: 'reach' is not known. "
            "Write one of: eu-clp, gb-clp, un-ghs, us-hcs.",
        ),
        ('paper = "A5"', "paper: 'A5' is not known. Write one of: A4, Letter."),
        ('language = "de"', "language: 'de' is not known. Write one of: en."),
        ("phone = 5", 'phone: 5 is a bare number. Write phone = "text in quotes".'),
        ('mono = "no"', "mono: 'no' is a text. Write mono = true or mono = false."),
        ("mono = 1", "mono: 1 is a bare number. Write mono = true or mono = false."),
        ("balance = 0.1", 'balance: 0.1 is a bare number. Write balance = "0.1 g".'),
        ('balance = "0.1 mL"', "balance: '0.1 mL' is a volume. Write it as 0.1 g."),
        ('cylinder = "5 g"', "cylinder: '5 g' is a mass. Write it as 5 mL."),
        (
            'base_url = "bottles.example.org"',
            "base_url: 'bottles.example.org' is no address that a label can point to. "
            "Write it like https://bottles.example.org, without ? or #.",
        ),
        (
            'base_url = "https://a.example/?b=1"',
            "base_url: 'https://a.example/?b=1' is no address that a label can point "
            "to. Write it like https://bottles.example.org, without ? or #.",
        ),
        (
            'nudge = ["1 mm"]',
            "nudge: is not two lengths: right, down. "
            'Write nudge = ["0.5 mm", "-1 mm"].',
        ),
        ('nudge = ["1", "1 mm"]', "nudge: '1' has no unit. Write mm."),
        ('nudge = ["1 cm", "1 mm"]', "nudge: '1 cm' has an unknown unit. Write mm."),
        (
            'nudge = ["20.1 mm", "1 mm"]',
            "nudge: '20.1 mm' is more than a printer is ever off. Write at most 20 mm.",
        ),
        *(
            (
                f"scale = {scale}",
                "scale: is not two numbers from 0.9 to 1.1. Write 100 ÷ measured "
                "across, 200 ÷ measured down, such as [1.002, 0.998].",
            )
            for scale in ("[1]", "[1, 1.11]", "[1, nan]", '[1, "1"]', "[true, 1]")
        ),
        ("scale = 1", "scale: 1 is a bare number. Write scale = [1, 1]."),
        ('balence = "0.1 g"', "balence: is not a known key. Did you mean balance?"),
    ],
)
def test_a_fault_is_told_with_what_to_write(text: str, line: str) -> None:
    with pytest.raises(BadInput) as caught:
        settings_from_text(text, place="labelkit.toml")
    assert str(caught.value) == f"labelkit.toml, {line}"


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    path = tmp_path / "labelkit.toml"
    path.write_text('profile = "x"\nbalance = "0 g"\ncolour = 3\n', encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_settings(path)
    profile, balance, colour = str(caught.value).split("\n")
    assert profile.startswith("labelkit.toml, profile: 'x' is not known.")
    assert balance.startswith("labelkit.toml, balance: '0 g' is not more than 0.")
    assert colour.startswith("labelkit.toml, colour: is not a known key.")


def test_settings_that_are_not_there_are_unknown(tmp_path: Path) -> None:
    with pytest.raises(Unknown, match="there is no file"):
        read_settings(tmp_path / "labelkit.toml")


@given(st.text(alphabet="htps:/.abc@[]1 ?#é", max_size=20))
def test_an_address_is_kept_or_refused(address: str) -> None:
    try:
        kept = settings_from_text(f'base_url = "{address}"').base_url
    except BadInput:
        return
    assert kept in address
    assert not kept or kept.startswith(("http://", "https://"))
    assert not set(kept) & set(" ?#é")
