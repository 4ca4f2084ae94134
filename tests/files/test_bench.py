"""The bench is found, its recipes are read by name, and a new one explains itself."""

from pathlib import Path

import pytest
from msgspec.structs import fields

from labelkit.errors import BadInput, ShelfError, Unknown
from labelkit.files.bench import Bench, RecipeFolder, find_bench
from labelkit.files.chemicals import read_catalogue, read_own_chemicals
from labelkit.files.jars import read_jars
from labelkit.files.new_bench import new_bench
from labelkit.files.settings import read_settings
from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import RecipeBook  # noqa: TC001 the protocol is checked

SALT = """
title = "{title}"
makes = "100 mL"
[[step]]
add = "sodium-chloride"
amount = "5 g"
"""


def make_bench(folder: Path) -> Path:
    folder.mkdir(parents=True)
    (folder / "labelkit.toml").touch()
    return folder


def test_a_bench_named_by_hand_goes_first(tmp_path: Path) -> None:
    named, other, near = (make_bench(tmp_path / name) for name in ("a", "b", "c"))
    environ = {"LABELKIT_BENCH": str(other)}
    assert find_bench(named, environ, near) == Bench(named)
    assert find_bench(None, environ, near) == Bench(other)
    assert find_bench(None, {}, near) == Bench(near)
    assert find_bench(None, {"LABELKIT_BENCH": ""}, near) == Bench(near)


def test_the_nearest_bench_above_is_found(tmp_path: Path) -> None:
    outer = make_bench(tmp_path / "outer")
    inner = make_bench(outer / "rooms" / "inner")
    below = inner / "recipes"
    below.mkdir()
    assert find_bench(None, {}, below) == Bench(inner)
    assert find_bench(None, {}, outer / "rooms") == Bench(outer)


def test_there_may_be_no_bench(tmp_path: Path) -> None:
    assert find_bench(None, {}, tmp_path) is None


def test_a_folder_that_is_no_bench_is_unknown(tmp_path: Path) -> None:
    with pytest.raises(Unknown) as caught:
        find_bench(tmp_path / "x", {}, tmp_path)
    assert str(caught.value).startswith("--bench: ")
    assert str(caught.value).endswith(
        "is no bench: it has no labelkit.toml. Set one up with labelkit init."
    )
    with pytest.raises(Unknown, match=r"^LABELKIT_BENCH: "):
        find_bench(None, {"LABELKIT_BENCH": str(tmp_path)}, tmp_path)


def test_everything_stands_where_the_bench_says() -> None:
    bench = Bench(Path("my-bench"))
    assert [
        bench.settings,
        bench.recipes,
        bench.chemicals,
        bench.jars,
        bench.layouts,
        bench.shelf,
        bench.prints,
    ] == [
        Path("my-bench", name)
        for name in (
            "labelkit.toml",
            "recipes",
            "chemicals.toml",
            "jars.toml",
            "layouts",
            "shelf.sqlite3",
            "prints",
        )
    ]


@pytest.fixture
def folder(tmp_path: Path) -> RecipeFolder:
    for name in ("pyro-b", "pyro-a", ".hidden"):
        path = tmp_path / f"{name}.toml"
        path.write_text(SALT.format(title=name), encoding="utf-8")
    (tmp_path / "notes.txt").touch()
    return RecipeFolder(tmp_path, read_catalogue())


def test_recipes_are_listed_in_alphabetical_order(folder: RecipeFolder) -> None:
    book: RecipeBook = folder
    assert book.names() == ("pyro-a", "pyro-b")


@pytest.mark.parametrize("name", ["pyro-a", "PYRO-A", " pyro-a ", "pyro-a.toml"])
def test_a_recipe_is_read_by_its_name_in_either_case(
    folder: RecipeFolder, name: str
) -> None:
    assert folder.read(name).name == "pyro-a"


def test_an_unknown_recipe_is_told_with_the_nearest(folder: RecipeFolder) -> None:
    with pytest.raises(Unknown) as near:
        folder.read("pyro-c")
    assert str(near.value) in {
        f"no recipe is called 'pyro-c'. Did you mean {name}?" for name in folder.names()
    }
    with pytest.raises(Unknown) as far:
        folder.read("zzz")
    assert str(far.value) == ("no recipe is called 'zzz'. There are: pyro-a, pyro-b.")


@pytest.mark.parametrize("name", ["../pyro-a", "/etc/x", "a\\b", "C:x", "", ".hidden"])
def test_a_name_never_leads_out_of_the_folder(folder: RecipeFolder, name: str) -> None:
    with pytest.raises(BadInput, match="is no name of a recipe"):
        folder.read(name)


def test_a_person_may_write_a_path(folder: RecipeFolder, tmp_path: Path) -> None:
    other = tmp_path / "elsewhere" / "salt.toml"
    other.parent.mkdir()
    other.write_text(SALT.format(title="Salt"), encoding="utf-8")
    assert folder.find(str(other)).title == "Salt"
    assert folder.find("pyro-b").title == "pyro-b"
    with pytest.raises(Unknown, match="there is no file"):
        folder.find(str(tmp_path / "nothing.toml"))


def test_without_a_bench_only_paths_can_be_read() -> None:
    nowhere = RecipeFolder(None, read_catalogue())
    assert nowhere.names() == ()
    with pytest.raises(Unknown) as caught:
        nowhere.find("pyro-a")
    assert str(caught.value) == (
        "no recipe is called 'pyro-a'. Write the path of a .toml file."
    )


def test_a_new_bench_reads_back_as_it_explains_itself(tmp_path: Path) -> None:
    new_bench(tmp_path / "my-bench")
    bench = find_bench(tmp_path / "my-bench", {}, tmp_path)
    assert bench is not None
    assert read_settings(bench.settings) == Settings()
    assert read_jars(bench.jars) == ()
    assert read_own_chemicals(bench.chemicals) == ()
    recipes = RecipeFolder(bench.recipes, read_catalogue())
    assert recipes.names() == ("bromide-stock",)
    assert recipes.read("bromide-stock").title == "Bromide stock"


def test_a_new_bench_names_every_setting(tmp_path: Path) -> None:
    new_bench(tmp_path)
    text = (tmp_path / "labelkit.toml").read_text("utf-8")
    keys = {
        field.name.removesuffix("_g").removesuffix("_mL").removesuffix("_mm")
        for field in fields(Settings)
    }
    written = {line.lstrip("# ").partition(" ")[0] for line in text.splitlines()}
    assert keys <= written


def test_the_examples_in_comments_can_be_used_as_they_are(tmp_path: Path) -> None:
    new_bench(tmp_path)
    for name in ("jars.toml", "chemicals.toml"):
        path = tmp_path / name
        lines = path.read_text("utf-8").splitlines()
        start = next(n for n, line in enumerate(lines) if line.startswith("# [["))
        used = "\n".join(line.removeprefix("# ") for line in lines[start:])
        path.write_text(used, encoding="utf-8")
    own = read_own_chemicals(tmp_path / "chemicals.toml")
    assert [entry.substance.id for entry in own] == ["house-soda"]
    (jar,) = read_jars(tmp_path / "jars.toml", read_catalogue())
    assert jar.chemical == "sodium-carbonate-monohydrate"


def test_a_new_bench_overwrites_nothing(tmp_path: Path) -> None:
    mine = tmp_path / "labelkit.toml"
    mine.write_text('room = "Mine"', encoding="utf-8")
    written = new_bench(tmp_path)
    assert mine not in written
    assert mine.read_text("utf-8") == 'room = "Mine"'
    assert new_bench(tmp_path) == ()


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(ShelfError) as caught:
        new_bench(tmp_path / "file")
    assert str(caught.value).endswith("Name a folder that you may write to.")
