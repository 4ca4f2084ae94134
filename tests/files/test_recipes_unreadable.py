"""What is no recipe at all is told in one line; nothing ends in a traceback."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from labelkit.errors import BadInput, LabelkitError, ShelfError, Unknown
from labelkit.files.chemicals import read_catalogue
from labelkit.files.recipes import read_recipe, recipe_from_text


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            'title = "Stock"\namount = 17.3 g\n',
            "stock.toml, line 2: 'amount = 17.3 g' is not TOML (expected newline or "
            "end of document after a statement). "
            'Write key = "text in quotes" or key = number, one a line.',
        ),
        (
            'title = "a"\ntitle = "b"\n',
            "stock.toml, line 2: 'title = \"b\"' is not TOML (cannot overwrite a "
            'value). Write key = "text in quotes" or key = number, one a line.',
        ),
        (
            'title = """a',
            'stock.toml, line 1: \'title = """a\' is not TOML (unterminated '
            'string). Write key = "text in quotes" or key = number, one a line.',
        ),
    ],
)
def test_what_is_not_toml_is_told_with_its_line(
    told: Callable[[str], list[str]], text: str, line: str
) -> None:
    assert told(text) == [line]


@pytest.mark.parametrize("text", [f"x = {'9' * 5000}", f"x = {'[' * 20_000}"])
def test_what_has_no_end_is_refused(
    told: Callable[[str], list[str]], text: str
) -> None:
    assert len(told(text)) == 1


def test_a_file_that_is_not_there_is_unknown(tmp_path: Path) -> None:
    with pytest.raises(Unknown, match="there is no file"):
        read_recipe(tmp_path / "nothing.toml", read_catalogue())


def test_a_folder_is_no_recipe(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="is a folder"):
        read_recipe(tmp_path, read_catalogue())


def test_a_name_that_is_too_long_is_one_line(tmp_path: Path) -> None:
    with pytest.raises((Unknown, ShelfError)) as caught:
        read_recipe(tmp_path / ("x" * 5000), read_catalogue())
    assert "\n" not in str(caught.value)


def test_a_file_that_is_not_utf_8_is_told_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "stock.toml"
    path.write_bytes('title = "a"\nnote = "café"\n'.encode("latin-1"))
    with pytest.raises(BadInput) as caught:
        read_recipe(path, read_catalogue())
    assert str(caught.value) == (
        "stock.toml, line 2: is not UTF-8 (byte 0xe9). Save it as UTF-8 in the editor."
    )


def test_a_huge_file_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "stock.toml"
    path.write_bytes(b"#" * 2_000_001)
    with pytest.raises(BadInput, match="too large for a file written by hand"):
        read_recipe(path, read_catalogue())


VALUES = st.sampled_from(
    ["5", "true", '"5 g"', '"5 mL"', '"jug"', '""', "[]", "{}", "nan", "[1]", '["a"]']
)
KEYS = st.sampled_from(
    [
        "title",
        "makes",
        "keeps",
        "step",
        "use",
        "strength",
        "reaction",
        "measured",
        "chemical",
        "bench_notes",
        "drop",
        "part",
        "set",
        "headline",
    ]
)
STEP_KEYS = st.sampled_from(
    [
        "add",
        "amount",
        "pour",
        "in",
        "make_up_to",
        "cool_to",
        "at",
        "wait",
        "assay",
        "text",
        "kind",
    ]
)


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.dictionaries(KEYS, VALUES, max_size=6),
    st.lists(st.dictionaries(STEP_KEYS, VALUES, max_size=4), max_size=4),
)
def test_whatever_is_written_is_read_or_told_line_by_line(
    top: dict[str, str], steps: list[dict[str, str]]
) -> None:
    text = "".join(f"{key} = {value}\n" for key, value in top.items())
    for step in steps if "step" not in top else []:
        text += "[[step]]\n" + "".join(f"{k} = {v}\n" for k, v in step.items())
    try:
        said = recipe_from_text(text, "stock", read_catalogue()).document
    except LabelkitError as error:
        said = text
        told = str(error).split("\n")
        assert all(line.startswith("stock.toml, ") for line in told)
    assert said == text
