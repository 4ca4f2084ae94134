"""The bench: the folder a person works in, and the recipes in it."""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct, field

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Unknown
from labelkit.files.names import recipe_name
from labelkit.files.tables import nearest

if TYPE_CHECKING:
    from labelkit.mixing.catalogue import Catalogue
    from labelkit.mixing.recipe import Recipe

__all__ = ["ENVIRONMENT", "SETTINGS", "Bench", "RecipeFolder", "find_bench"]

SETTINGS = "labelkit.toml"
ENVIRONMENT = "LABELKIT_BENCH"

_SUFFIX = ".toml"
_MOST_LISTED = 12


class Bench(Struct, frozen=True):
    """Where everything of one bench stands; not all of it need be there."""

    folder: Path

    @property
    def settings(self) -> Path:
        """The settings."""
        return self.folder / SETTINGS

    @property
    def recipes(self) -> Path:
        """The folder of own recipes."""
        return self.folder / "recipes"

    @property
    def chemicals(self) -> Path:
        """Own chemicals."""
        return self.folder / "chemicals.toml"

    @property
    def jars(self) -> Path:
        """What stands in the cupboard."""
        return self.folder / "jars.toml"

    @property
    def layouts(self) -> Path:
        """The folder of own label, card and sheet layouts."""
        return self.folder / "layouts"

    @property
    def shelf(self) -> Path:
        """The shelf."""
        return self.folder / "shelf.sqlite3"

    @property
    def prints(self) -> Path:
        """The folder of what was printed."""
        return self.folder / "prints"


def find_bench(
    explicit: Path | None, environ: Mapping[str, str], start: Path
) -> Bench | None:
    """The bench to work in; None where there is none.

    Args:
        explicit: as named by hand, which goes first.
        environ: its ``LABELKIT_BENCH`` goes second.
        start: the folder from which the nearest bench is looked for, upwards.

    Raises:
        Unknown: a folder is named that is no bench.
    """
    named = environ.get(ENVIRONMENT, "")
    if explicit is not None:
        return _bench_at(explicit, "--bench")
    if named:
        return _bench_at(Path(named), ENVIRONMENT)
    here = start.absolute()
    for folder in (here, *here.parents):
        if (folder / SETTINGS).is_file():
            return Bench(folder)
    return None


def _bench_at(folder: Path, place: str) -> Bench:
    if (folder / SETTINGS).is_file():
        return Bench(folder)
    raise Unknown(
        f"{quoted(folder)} is no bench: it has no {SETTINGS}",
        place=place,
        remedy="Set one up with labelkit init.",
    )


class RecipeFolder(Struct, frozen=True):
    """The recipes of a folder, by name.

    Attributes:
        folder: None where there is no bench; then only paths can be read.
        catalogue: the chemicals, a bench's own among them.
        choices: ids already chosen for words that fit several chemicals.
    """

    folder: Path | None
    catalogue: "Catalogue"
    choices: Mapping[str, str] = field(default_factory=dict)

    def names(self) -> tuple[str, ...]:
        """Every recipe there is, in alphabetical order."""
        return tuple(sorted(self._names()))

    def read(self, name: str) -> "Recipe":
        """The recipe with that name, in either case.

        A name never leads out of the folder, so that it may come from anywhere.

        Raises:
            Unknown: there is no such recipe; near misses are named.
            Ambiguous: nothing is wrong but words that fit several chemicals.
            BadInput: the name is none, or the recipe has faults.
            ShelfError: its file cannot be opened.
        """
        wanted, files = recipe_name(name), self._files()
        in_any_case = {known.casefold(): known for known in files}
        known = wanted if wanted in files else in_any_case.get(wanted.casefold(), "")
        if not known:
            raise _unknown(wanted, files)
        return self._read(files[known])

    def find(self, word: str) -> "Recipe":
        """The recipe that a person at this machine means by a name or by a path.

        Raises:
            Unknown: there is neither; near misses are named.
            Ambiguous: nothing is wrong but words that fit several chemicals.
            BadInput: the recipe has faults.
            ShelfError: its file cannot be opened.
        """
        if _is_path(word):
            return self._read(Path(word))
        return self.read(word)

    def _read(self, path: Path) -> "Recipe":
        from labelkit.files.recipes import read_recipe  # to find a bench needs none

        return read_recipe(path, self.catalogue, choices=self.choices)

    def _files(self) -> dict[str, Path]:
        if self.folder is None:
            return {}
        return {name: self.folder / f"{name}{_SUFFIX}" for name in self._names()}

    def _names(self) -> list[str]:
        if self.folder is None or not self.folder.is_dir():
            return []
        with os.scandir(self.folder) as there:  # asked for by every record page
            files = [file.name for file in there]
        return [
            file.removesuffix(_SUFFIX)
            for file in files
            if file.endswith(_SUFFIX) and not file.startswith(".")
        ]


def _is_path(word: str) -> bool:
    return word.endswith(_SUFFIX) or "/" in word or "\\" in word


def _unknown(name: str, files: Mapping[str, Path]) -> Unknown:
    listed = ", ".join(sorted(files)[:_MOST_LISTED])
    return Unknown(
        f"no recipe is called {quoted(name)}",
        remedy=nearest(name, files)
        or (f"There are: {listed}." if listed else "Write the path of a .toml file."),
    )
