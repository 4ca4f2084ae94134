"""Recipes: TOML files a person writes, one for each solution or dry mixture."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from functools import partial
from pathlib import Path

from labelkit.chemistry.amounts import (
    Amount,
    Dimension,
    DROP_mL,
    parse_amount,
    parse_density,
    parse_duration,
)
from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput
from labelkit.files.chemicals import entries_from_tables
from labelkit.files.steps import Words, read_step
from labelkit.files.tables import Faults, Table
from labelkit.files.toml import parse_toml, read_text
from labelkit.files.usage import read_use
from labelkit.files.vessels import check_final_volume, check_vessels
from labelkit.mixing.catalogue import Catalogue, Entry
from labelkit.mixing.recipe import BenchNotes, Measured, ReactionSpec, Recipe, Step

__all__ = ["read_recipe", "recipe_from_text"]

_TOP_KEYS = (
    "title", "makes", "keeps", "keeps_opened", "keeps_part_full", "keeps_working",
    "keep_in", "note", "source", "revision", "off_when", "test", "part", "set",
    "headline", "drop",
)  # fmt: skip
_HEADLINES = ("equivalence", "dilution", "ready", "dry")
_LARGEST_DROP_mL = Decimal(1)
# Concentrated acids and lyes lie a little outside 0 to 14.
_LOWEST_PH, _HIGHEST_PH = Decimal(-1), Decimal(15)


def read_recipe(
    path: Path, catalogue: Catalogue, *, choices: Mapping[str, str] | None = None
) -> Recipe:
    """The recipe in a file; its name is the file's, without ``.toml``.

    Args:
        path: of the file.
        catalogue: the chemicals, a bench's own among them.
        choices: ids already chosen for words that fit several chemicals.

    Raises:
        Unknown: there is no such file.
        Ambiguous: nothing is wrong but words that fit several chemicals.
        BadInput: the file has faults; all of them are told.
        ShelfError: it cannot be opened.
    """
    text, name = read_text(path), path.name.removesuffix(".toml")
    return recipe_from_text(text, name, catalogue, place=path.name, choices=choices)


def recipe_from_text(
    text: str,
    name: str,
    catalogue: Catalogue,
    *,
    place: str = "",
    choices: Mapping[str, str] | None = None,
) -> Recipe:
    """The recipe in a text, such as one that was frozen with a batch.

    Args:
        text: as in the file.
        name: of the recipe.
        catalogue: the chemicals.
        place: named before every fault; the recipe's file name where it is left out.
        choices: ids already chosen for words that fit several chemicals.

    Raises:
        Ambiguous: nothing is wrong but words that fit several chemicals.
        BadInput: the text has faults; all of them are told.
    """
    place = place or f"{name}.toml"
    faults = Faults()
    top = Table(parse_toml(text, place), place, faults, _TOP_KEYS)
    own = _own_chemicals(top, faults)
    words = Words(name, catalogue.with_own(own), choices or {}, _drop(top))
    recipe = _recipe(top, words, own, text)
    top.close()
    faults.raise_any()
    return recipe


def _recipe(top: Table, words: Words, own: tuple[Entry, ...], document: str) -> Recipe:
    makes = top.required(
        "makes", partial(parse_amount, drop_mL=words.drop_mL), "500 mL"
    )
    recipe = Recipe(
        name=words.recipe,
        title=top.required_text("title", "Borate alkali stock"),
        makes=makes or Amount(Decimal(1), Dimension.VOLUME),
        steps=_steps(top, words, makes),
        strength_of=_strength(top, words),
        reactions=_reactions(top, words),
        keeps=top.parsed("keeps", parse_duration, "12 months"),
        keeps_opened=top.parsed("keeps_opened", parse_duration, "6 months"),
        keeps_part_full=top.parsed("keeps_part_full", parse_duration, "2 months"),
        keeps_working=top.parsed("keeps_working", parse_duration, "8 hours"),
        keep_in=top.text("keep_in"),
        note=top.text("note"),
        source=top.text("source"),
        revision=top.text("revision"),
        off_when=top.text("off_when"),
        test=top.text("test"),
        part=_part(top),
        set=top.text("set"),
        headline=top.choice("headline", _HEADLINES),
        use=read_use(top, words.recipe),
        bench_notes=_bench_notes(top),
        measured=_measured(top),
        drop_mL=words.drop_mL,
        own_chemicals=own,
        document=document,
    )
    _check_headline(recipe, top)
    return recipe


def _own_chemicals(top: Table, faults: Faults) -> tuple[Entry, ...]:
    tables = [table.data for table in top.tables("chemical")]
    entries, found = entries_from_tables(tables, place=top.place)
    for fault in found:
        faults.add(fault.place, fault.problem, fault.remedy)
    return tuple(entries)


def _drop(top: Table) -> Decimal:
    def parse(text: str) -> Decimal:
        drop = parse_amount(text)
        if drop.dimension is not Dimension.VOLUME or drop.number > _LARGEST_DROP_mL:
            raise BadInput(
                f"{quoted(text)} is not the size of a drop",
                remedy="Write it in mL, such as 0.05 mL.",
            )
        return drop.number

    return top.parsed("drop", parse, "0.05 mL") or DROP_mL


def _steps(top: Table, words: Words, makes: Amount | None) -> tuple[Step, ...]:
    tables = top.tables("step")
    steps = [read_step(table, n, words) for n, table in enumerate(tables, start=1)]
    written = bool(tables) or "step" not in top
    if written and not any("add" in table for table in tables):
        top.fault("step", "no step adds anything", "Write [[step]] with add, amount.")
    if not _are_unclear(top.faults, ("in", "pour")):
        check_vessels(steps, tables)
    check_final_volume(steps, tables, makes)
    return tuple(steps)


def _are_unclear(faults: Faults, keys: Sequence[str]) -> bool:
    """Whether something is already wrong with one of these keys in any step."""
    endings = tuple(f", {key}" for key in keys)
    return any(fault.place.endswith(endings) for fault in faults)


def _strength(top: Table, words: Words) -> str | None:
    table = top.table("strength")
    if table is None:
        return None
    of = table.required("of", words.chemical, "sodium-metaborate-tetrahydrate")
    table.close()
    return of


def _reactions(top: Table, words: Words) -> tuple[ReactionSpec, ...]:
    found = []
    for table in top.tables("reaction"):
        sides = []
        for key in ("from", "to"):
            sides.append(table.words(key, words.chemical, '["borax-decahydrate"]'))
            if not table.data.get(key):
                table.fault(
                    key, "names no chemical", f'Write {key} = ["borax-decahydrate"].'
                )
        table.close()
        found.append(ReactionSpec(*sides))
    return tuple(found)


def _part(top: Table) -> str:
    part = top.text("part")
    if "part" in top and part and not (len(part) == 1 and part.isalnum()):
        top.fault("part", f"{quoted(part)} is not one letter", 'Write part = "A".')
    if "set" in top and not part:
        top.fault("set", "is a set without a part", 'Write part = "A" too.')
    return part.upper()


def _bench_notes(top: Table) -> BenchNotes:
    table = top.table("bench_notes")
    if table is None:
        return BenchNotes()
    notes = BenchNotes(
        mixing=table.text("mixing"),
        spill=table.text("spill"),
        storage=table.text("storage"),
        disposal=table.text("disposal"),
    )
    table.close()
    return notes


def _measured(top: Table) -> Measured:
    table = top.table("measured")
    if table is None:
        return Measured()
    measured = Measured(
        ph=table.number("ph", _LOWEST_PH, _HIGHEST_PH),
        density_g_per_mL=table.parsed("density", parse_density, "1.02 g/mL"),
    )
    table.close()
    return measured


def _check_headline(recipe: Recipe, top: Table) -> None:
    """A headline that is asked for must have what it tells."""
    missing = {
        "equivalence": (recipe.strength_of, "strength", "[strength] of"),
        "dilution": (recipe.use and recipe.use.ratio, "use", "[use] ratio"),
        "dry": (recipe.use and recipe.use.makes, "use", "[use] makes"),
    }
    told, table, needed = missing.get(recipe.headline, (True, "", ""))
    if not told and table not in top:
        top.fault(
            "headline",
            f"{quoted(recipe.headline)} has nothing to tell",
            f"Write {needed} too.",
        )
