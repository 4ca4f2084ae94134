"""``labelkit check``: every fault in the files a person wrote, and on the shelf."""

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import click

from labelkit.cli.own_layouts import read_any
from labelkit.cli.params import answer, in_a_workplace, json_option
from labelkit.cli.printable import unprintable
from labelkit.cli.shelf_check import fault_of, shelf_troubles, trouble_json
from labelkit.cli.workplace import Workplace
from labelkit.cli.workshop import place_workshop
from labelkit.cli.workshop_names import WorkshopNames
from labelkit.errors import Fault, LabelkitError, NoAnswer
from labelkit.files.printed import printed_texts
from labelkit.files.workshop import is_a_workshop, read_workshop

__all__ = ["command"]

SPECIAL = ("labelkit.toml", "chemicals.toml", "jars.toml")


@click.command("check")
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--shelf", is_flag=True, help="Bottles too near each other, too old, used too far."
)
@json_option
@in_a_workplace
def command(
    place: Workplace, files: tuple[Path, ...], shelf: bool, as_json: bool
) -> None:
    """Read FILES, or every file of the bench, and report every fault.

    With --shelf the bottles are looked at instead, and FILES only where they are named.
    """
    paths = list(files)
    if not files and not shelf:
        paths = list(_of_the_bench(place))
    faults = _every_fault(place, paths)
    found = shelf_troubles(place) if shelf else ()
    if as_json:
        answer({"items": [*map(_as_json, faults), *map(trouble_json, found)]})
    if faults or found:
        raise NoAnswer.of([*faults, *map(fault_of, found)])
    click.echo(_nothing_found(paths, shelf=shelf), err=as_json)


def _nothing_found(paths: list[Path], *, shelf: bool) -> str:
    files = [f"{len(paths)} files read, no fault found."] if paths or not shelf else []
    if shelf:
        files.append(
            "On the shelf nothing past its date, and nothing found that must stand "
            "apart. This does not mean safe."
        )
    return " ".join(files)


def _of_the_bench(place: Workplace) -> Iterator[Path]:
    bench = place.the_bench()
    for path in (bench.settings, bench.chemicals, bench.jars):
        if path.is_file():
            yield path
    if bench.recipes.is_dir():
        yield from sorted(bench.recipes.glob("*.toml"))
    yield from place.own_layouts.files()
    others = (path for path in bench.folder.glob("*.toml") if path.name not in SPECIAL)
    yield from sorted(filter(is_a_workshop, others))


def _every_fault(place: Workplace, paths: Iterable[Path]) -> list[Fault]:
    """The faults of all files, each told once, where it was found first."""
    found: dict[Fault, None] = {}
    for path in paths:
        of_it = _faults(place, path)
        if is_a_workshop(path):  # what its recipes and layouts have was told
            of_it = tuple(f for f in of_it if not any(_tells(f, one) for one in found))
            if not found and not of_it:
                of_it = _of(lambda one: place_workshop(place, one), path)
        found |= dict.fromkeys(of_it)
    return list(found)


def _faults(place: Workplace, path: Path) -> tuple[Fault, ...]:
    """What its reader says, then every text that could not be printed."""
    found = _of(_reader(place, path), path)
    if _is_layout(path):
        return found
    told = {fault.place for fault in found}
    letters = [f for f in unprintable(printed_texts(path)) if f.place not in told]
    return (*found, *letters)


def _tells(fault: Fault, told: Fault) -> bool:
    """Whether a fault is one that was told, met again on the way from another file."""
    same = (fault.problem, fault.remedy) == (told.problem, told.remedy)
    return same and f", {fault.place}".endswith(f", {told.place}")


def _of(read: Callable[[Path], object], path: Path) -> tuple[Fault, ...]:
    try:
        read(path)
    except LabelkitError as error:
        return error.faults
    return ()


def _reader(place: Workplace, path: Path) -> Callable[[Path], object]:
    from labelkit.files.chemicals import read_own_chemicals
    from labelkit.files.jars import read_jars
    from labelkit.files.recipes import read_recipe
    from labelkit.files.settings import read_settings

    if path.name in SPECIAL:
        readers: tuple[Callable[[Path], object], ...] = (
            read_settings,
            read_own_chemicals,
            read_jars,
        )
        return readers[SPECIAL.index(path.name)]
    if _is_layout(path):
        return read_any
    if is_a_workshop(path):
        return lambda one: read_workshop(one, WorkshopNames(place))
    return lambda one: place.plan(read_recipe(one, place.catalogue))


def _is_layout(path: Path) -> bool:
    return path.absolute().parent.name == "layouts"


def _as_json(fault: Fault) -> dict[str, str]:
    return {"place": fault.place, "problem": fault.problem, "remedy": fault.remedy}
