"""The data on what stands in for what, on routes, and on what has no number."""

import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import periodictable
import pytest

from labelkit.chemistry.formulas import composition
from labelkit.files.chemicals import read_catalogue
from labelkit.files.data import sources
from labelkit.files.pairs import read_exchange
from labelkit.files.routes import read_routes
from labelkit.mixing.naming import fold
from labelkit.mixing.routes import Chosen, Route, Way
from labelkit.resources import data_dir

CATALOGUE = read_catalogue()
EXCHANGE = read_exchange()
ROUTES = read_routes()
PRACTICE = "common practice, no source"


def forms(route: Route) -> Chosen:
    return Chosen(
        route,
        CATALOGUE.substance(route.products[0]),
        tuple(CATALOGUE.substance(slot[0]) for slot in route.reagents),
    )


def test_families_are_those_that_were_published() -> None:
    assert {f.id: len(f.members) for f in EXCHANGE.families} == {
        "hydroxides": 2,
        "carbonates": 2,
        "bromides": 2,
        "bisulfites": 4,
        "dichromates": 2,
    }
    for family in EXCHANGE.families:
        assert all(member.parent in CATALOGUE.parents for member in family.members)
        assert all(member.brings for member in family.members)
        assert len(family.source.split()) > 2


def test_no_parent_belongs_to_two_families() -> None:
    members = Counter(m.parent for f in EXCHANGE.families for m in f.members)
    assert set(members.values()) == {1}


def test_notes_speak_of_forms_of_one_parent() -> None:
    for note in EXCHANGE.notes:
        parents = {CATALOGUE.substance(c).parent for c in note.forms | note.others}
        assert len(parents) == 1
        assert note.swaps or note.instead


def test_words_without_a_number_are_no_chemical_of_the_catalogue() -> None:
    known = {fold(name) for s in CATALOGUE.substances for name in (s.id, *s.names)}
    words = {name for entry in EXCHANGE.no_numbers for name in entry.names}
    assert len(words) > 20
    assert not words & known


def test_what_is_cited_resolves_or_says_that_it_is_practice() -> None:
    cited = set()
    for name in ("pairs", "no_honest_number", "routes"):
        file = Path(str(data_dir())) / f"{name}.toml"
        for tables in tomllib.loads(file.read_text("utf-8")).values():
            cited |= {table["source"] for table in tables}
    assert cited <= {*sources(), PRACTICE}


def test_there_is_a_route_to_everything_that_was_promised() -> None:
    made = Counter(CATALOGUE.substance(r.products[0]).parent for r in ROUTES)
    assert made == {
        "sodium-metaborate": 4,
        "sodium-sulfite": 2,
        "potassium-sulfite": 2,
        "sodium-bisulfite": 1,
        "potassium-bisulfite": 1,
        "sodium-carbonate": 2,
        "potassium-carbonate": 2,
        "trisodium-citrate": 3,
        "tripotassium-citrate": 3,
        "sodium-acetate": 3,
        "potassium-acetate": 3,
        "ascorbic-acid": 3,
        "sodium-oxalate": 3,
        "potassium-oxalate": 3,
        "disodium-tartrate": 3,
        "dipotassium-tartrate": 3,
        "sodium-tetraborate": 2,
    }
    assert len({route.id for route in ROUTES}) == len(ROUTES) == 43


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_a_route_names_what_is_known(route: Route) -> None:
    named = {c for slot in route.reagents for c in slot}
    named |= {*route.products, *route.beside}
    named |= {chemical for pair in route.solids for chemical in pair}
    assert all(chemical in CATALOGUE for chemical in named)
    assert len(route.reagents) == (1 if route.way in (Way.BAKE, Way.DISSOLVE) else 2)
    assert route.first_C <= route.hottest_C
    for slot in (*route.reagents, route.products):
        assert len({CATALOGUE.substance(c).parent for c in slot}) == 1
        if slot is not route.reagents[-1]:
            continue
        strong = "strong-base" in CATALOGUE.substance(slot[0]).tags
        # lye goes last, and where there is lye the way is that of lye
        assert strong == (route.way is Way.LYE)


def counted(formula: str) -> Counter[str]:
    return Counter(dict(composition(formula).atoms))


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_a_route_loses_no_atom_and_no_gram(route: Route) -> None:
    equation = forms(route).equation(CATALOGUE)
    left: Counter[str] = Counter()
    right: Counter[str] = Counter()
    for side, terms in ((left, equation.reactants), (right, equation.products)):
        for species, n in terms:
            for element, count in counted(species.formula).items():
                side[element] += n * count
    water = right if equation.water > 0 else left
    for element, count in counted("H2O").items():
        water[element] += abs(equation.water) * count
    if equation.gas:
        for element, count in counted(equation.gas[0]).items():
            right[element] += equation.gas[1] * count
    assert left == right
    assert grams(left) == pytest.approx(grams(right))


def grams(atoms: Counter[str]) -> float:
    """By another library's table of atomic weights."""
    weights: Any = periodictable.elements
    return float(sum(weights.symbol(e).mass * n for e, n in atoms.items()))


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_gas_comes_off_where_the_route_says_so(route: Route) -> None:
    equation = forms(route).equation(CATALOGUE)
    gas = equation.gas[0] if equation.gas else ""
    assert gas == ("CO2" if route.way in (Way.GAS, Way.BAKE) else "")
