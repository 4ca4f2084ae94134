"""What each layout carries, measured by labelkit itself, and the words it must keep.

Which layout is for which bottle: design, print-spec section 5.
"""

import re
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from labelkit.errors import Misfit
from labelkit.printing.boxes import Symbol, Text
from labelkit.printing.fit import Placement, fit
from labelkit.printing.layouts import built_in, layout_named
from tests.printing.conftest import CheckGolden
from tests.printing.world_loads import LOADS, load

LAYOUTS = [layout.name for layout in built_in()]
SIZES_mL = {"0.25 L": 250, "1 L": 1000, "5 L": 5000}
SHORT = re.compile(r"is ([\d.]+) mm too low")
FOR = re.compile(r"is for a bottle that (.+)$")
LEGEND = """\
What fits: A with the twin scale, B without one; the side of the pictograms beside the
statements [mm]; the size of the statements [pt]; what is left over [mm].

"""


@cache
def outcome(layout: str, name: str, mL: int) -> Placement | str:
    """The label, or in a few words why there is none."""
    try:
        return fit(
            load(name, mL),
            layout_named(layout),
            profile="room",
            mono=False,
            keyline=True,
        )
    except Misfit as misfit:
        problem = misfit.faults[0].problem
    if short := SHORT.search(problem):
        return f"{short[1]} mm short"
    if made_for := FOR.search(problem):
        return made_for[1]
    return problem


def cell(layout: str, name: str, mL: int) -> str:
    found = outcome(layout, name, mL)
    if isinstance(found, str):
        return found
    boxes = found.page.boxes
    scale = any(getattr(box, "field", "") == "scale" for box in boxes)
    sides = [box.side for box in boxes if isinstance(box, Symbol)]
    said = [
        size
        for box in boxes
        if isinstance(box, Text) and box.field in ("statements", "none-reached")
        for _, _, size in box.lines[0].pieces
    ]
    told = ["A" if scale else "B"]
    told += [f"{sides[-1]:g} mm"] if sides else []
    told += [f"{said[0]:g} pt"] if said else []
    told += [] if found.spare == float("inf") else [f"{found.spare:.1f} left"]
    return ", ".join(told)


def test_what_fits_is_as_it_was_measured(check_golden: CheckGolden) -> None:
    heads = "".join(f"{size:<52}" for size in SIZES_mL)
    lines = [f"{'':18}{heads}".rstrip()]
    for layout in LAYOUTS:
        for name in LOADS:
            cells = [cell(layout, name, mL) for mL in SIZES_mL.values()]
            row = f"{layout:<12}{name:<6}" + "".join(f"{told:<52}" for told in cells)
            lines.append(row.rstrip())
    check_golden("fit-table", LEGEND + "\n".join(lines) + "\n")


def fits(layout: str, name: str, mL: int) -> bool:
    return isinstance(outcome(layout, name, mL), Placement)


def test_small_is_the_label_of_what_reaches_no_class() -> None:
    assert fits("small", "none", 250)
    assert not any(fits("small", name, 250) for name in LOADS[1:])


@pytest.mark.parametrize("layout", ["large", "large-wide", "drum"])
@pytest.mark.parametrize("mL", [250, 500])
def test_up_to_half_a_litre_the_largest_labels_carry_every_load(
    layout: str, mL: int
) -> None:
    assert [name for name in LOADS if not fits(layout, name, mL)] == []


def test_a_drum_label_carries_every_load_of_every_size() -> None:
    missing = [
        (name, size)
        for name in LOADS
        for size, mL in SIZES_mL.items()
        if not fits("drum", name, mL)
    ]
    assert missing == []


@pytest.mark.parametrize(
    ("layout", "mL", "carried"),
    [
        ("tall", 250, {"none", "one", "two", "corr"}),
        ("wrap", 250, {"none", "one", "two", "five", "corr", "full"}),
        ("wrap", 1000, {"none", "one", "two", "five", "corr"}),
        ("tag", 250, {"one", "two", "five", "corr"}),
        ("pair", 250, {"one"}),
    ],
)
def test_a_layout_carries_what_it_is_the_default_for(
    layout: str, mL: int, carried: set[str]
) -> None:
    assert carried <= {name for name in LOADS if fits(layout, name, mL)}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_more_text_never_leaves_more_room(layout: str) -> None:
    """A load that fits still fits once a statement is left off, at every size."""
    for mL in SIZES_mL.values():
        if fits(layout, "full", mL):
            assert fits(layout, "two", mL)


def test_the_loads_are_as_heavy_as_those_the_layouts_were_drawn_for() -> None:
    # Characters of the P statements: design, print-spec section 5, less than a line off
    told = {"one": 263, "two": 375, "corr": 410, "full": 367}
    for name, characters in told.items():
        words = load(name).hazard.precautions
        said = " ".join("".join(run.text for run in one) for one in words)
        assert len(said) == pytest.approx(characters, abs=40)
    assert load("full", 5000).volume_mL == Decimal(5000)


def test_a_built_in_layout_has_the_name_of_its_file_and_is_read_once() -> None:
    """It is found by that name without the others being read."""
    folder = Path(__file__).resolve().parents[2] / "templates" / "labels"
    assert sorted(file.stem for file in folder.glob("*.toml")) == sorted(LAYOUTS)
    for layout in built_in():
        assert layout_named(layout.name) is layout
