"""The reader of the statements: what it refuses, and which language it then uses."""

from pathlib import Path

import pytest

from labelkit.errors import BadInput
from labelkit.files import statements
from labelkit.resources import data_dir

WHOLE = (data_dir() / "statements.en.toml").read_text("utf-8")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(statements, "data_dir", lambda: tmp_path)
    return tmp_path


def write(folder: Path, language: str, text: str) -> None:
    (folder / f"statements.{language}.toml").write_text(text, "utf-8")


def test_a_whole_second_language_is_used(folder: Path) -> None:
    write(folder, "en", WHOLE)
    write(folder, "xx", WHOLE.replace("Causes skin irritation", "Hurts skin"))
    found = statements.read_statements("xx")
    assert found.language == "xx"
    assert found.by_code["H315"].wording() == "Hurts skin"


def test_a_torn_second_language_falls_back_whole(folder: Path) -> None:
    write(folder, "en", WHOLE)
    write(folder, "xx", WHOLE.replace('code = "H315"', 'code = "H999"'))
    assert statements.read_statements("xx").language == "en"


def test_missing_statements_are_told(folder: Path) -> None:
    assert not list(folder.iterdir())
    with pytest.raises(BadInput) as refused:
        statements.read_statements()
    assert str(refused.value) == (
        "statements.en.toml: the statements are missing. Install labelkit again."
    )


def test_a_file_that_is_no_toml_is_told(folder: Path) -> None:
    write(folder, "en", "code = ")
    with pytest.raises(BadInput, match=r"statements\.en\.toml: no TOML: .*"):
        statements.read_statements()


def test_all_faults_of_the_file_are_told_together(folder: Path) -> None:
    row = '[[statement]]\ncode = "H315"\ntext = "x"\nsource = "y"\nseen = true\n'
    write(folder, "en", f'{row}{row}[[statement]]\ncode = "H316"\n')
    with pytest.raises(BadInput) as refused:
        statements.read_statements()
    assert str(refused.value).splitlines() == [
        "statements.en.toml, statement 2: H315 stands there twice."
        " Keep one of the two.",
        "statements.en.toml, statement 3: text, source, seen left out."
        " Write code, text, source and seen.",
    ]
