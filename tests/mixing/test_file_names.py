"""A file of labels has a name that says which, and leads nowhere else."""

from datetime import datetime
from pathlib import PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.mixing.file_names import label_file_name
from labelkit.mixing.ports import Record

NUMBER = "7K3M-Q9TX-8"


def batch(recipe: str, title: str = "Borate alkali stock") -> Record:
    noon = datetime.fromisoformat("2031-03-14T12:00")
    return Record(NUMBER, recipe, title, noon, "M. Osei", None, 2, {})


@pytest.mark.parametrize(
    ("recipe", "bottle", "others", "name"),
    [
        ("borate-alkali", None, 0, f"borate-alkali-{NUMBER}.pdf"),
        ("borate-alkali", 2, 0, f"borate-alkali-{NUMBER}-bottle-2.pdf"),
        ("borate-alkali", None, 3, f"borate-alkali-{NUMBER}-and-3-more.pdf"),
        ("Größe_2", None, 0, f"größe_2-{NUMBER}.pdf"),
        ("", None, 0, f"borate-alkali-stock-{NUMBER}.pdf"),
        ("../../etc/x", None, 0, f"etc-x-{NUMBER}.pdf"),
        ("...", None, 0, f"label-{NUMBER}.pdf"),
    ],
)
def test_the_name_says_what_and_which(
    recipe: str, bottle: int | None, others: int, name: str
) -> None:
    assert label_file_name(batch(recipe), bottle, others) == name


@given(st.text(), st.text())
def test_it_is_one_name_in_every_folder(recipe: str, title: str) -> None:
    name = label_file_name(batch(recipe, title))
    assert PurePosixPath(name).name == PureWindowsPath(name).name == name
    assert name.isprintable()
    assert not name.startswith((".", "-"))
    assert len(name) < 80
