"""A notice's layout is read whole, or refused with every fault named."""

from pathlib import Path

import pytest

from labelkit.errors import BadInput
from labelkit.printing.notices_layout import notice_layout, read_notice_layout

GOOD = """
name   = "unknown"
size   = [74, 105]
margin = 3.6

[[box]]
shows = "word"
at    = [3.6, 3.6]
size  = [66.8, 9.85]
text  = [40, 40]
"""


def faults_of(folder: Path, text: str) -> list[str]:
    file = folder / "unknown.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_notice_layout(file)
    return str(caught.value).splitlines()


@pytest.mark.parametrize("name", ["unknown", "waste"])
def test_the_built_in_ones_are_as_large_as_the_sheet_for_tall_labels(name: str) -> None:
    layout = notice_layout(name)
    assert (layout.name, layout.width, layout.height) == (name, 74.0, 105.0)
    assert layout.margin == 3.6


@pytest.mark.parametrize(
    ("was", "written", "told"),
    [
        ('shows = "word"', 'shows = "wrod"', "box 1, shows: 'wrod' cannot be used"),
        ("[40, 40]", "[40, 6.5]", "box 1, text: [40, 6.5] cannot be used"),
        ("[40, 40]", "[6.6, 40]", "box 1, text: [6.6, 40] cannot be used"),
        ("at    = [3.6, 3.6]", "at = [3.5, 3.6]", "leaves the margin of 3.6 mm"),
        ("[66.8, 9.85]", "[66.9, 9.85]", "leaves the margin of 3.6 mm"),
        ("margin = 3.6", "margn = 3.6", "margn: is not a key of a notice"),
        ("size   = [74, 105]\n", "", "size: is missing"),
        ('shows = "word"', 'shows = ["by", "looks"]', "box 1, split: is missing"),
        ("name ", "name = ", "unknown.toml"),
    ],
)
def test_each_fault_is_named_with_its_box_and_key(
    tmp_path: Path, was: str, written: str, told: str
) -> None:
    assert was in GOOD
    (fault, *_) = faults_of(tmp_path, GOOD.replace(was, written))
    assert fault.startswith("unknown.toml")
    assert told in fault or any(
        told in one for one in faults_of(tmp_path, GOOD.replace(was, written))
    )


def test_the_smallest_type_is_taken_and_a_tenth_less_is_not(tmp_path: Path) -> None:
    file = tmp_path / "unknown.toml"
    file.write_text(GOOD.replace("[40, 40]", "[40, 6.6]"), encoding="utf-8")
    assert read_notice_layout(file).boxes[0].smallest == 6.6
    assert "6.6 pt or more" in faults_of(tmp_path, GOOD.replace("40]", "6.5]"))[0]


def test_all_faults_of_a_file_are_told_together(tmp_path: Path) -> None:
    wrong = GOOD.replace("margin = 3.6", "").replace("word", "wrod")
    assert len(faults_of(tmp_path, wrong)) == 2


def test_a_file_that_is_no_text_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "unknown.toml"
    file.write_bytes(b"\xff\xfe")
    with pytest.raises(BadInput, match=r"unknown\.toml"):
        read_notice_layout(file)
