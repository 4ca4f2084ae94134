"""The reader of drawings beside fontTools' own, on the nine files and any path."""

from importlib.resources import files
from xml.etree import ElementTree

import pytest
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path.parser import parse_path
from hypothesis import given
from hypothesis import strategies as st

from labelkit.printing.drawings import Segment, read_drawing

OPERATORS = {"moveTo": "m", "lineTo": "l", "curveTo": "c", "closePath": "h"}


def read_by_fonttools(d: str) -> list[tuple[str, tuple[float, ...]]]:
    pen = RecordingPen()
    parse_path(d, pen)
    read = []
    for name, points in pen.value:
        if name == "endPath":
            continue
        flat = tuple(number for point in points for number in point)
        read.append((OPERATORS[name], flat))
    return read


def flat(segments: tuple[Segment, ...]) -> list[tuple[str, tuple[float, ...]]]:
    return [
        (op, tuple(n for point in points for n in point)) for op, points in segments
    ]


def without_return(
    read: list[tuple[str, tuple[float, ...]]],
) -> list[tuple[str, tuple[float, ...]]]:
    """A line back to the start before a closing says the same as the closing."""
    kept: list[tuple[str, tuple[float, ...]]] = []
    start: tuple[float, ...] = ()
    for operator, numbers in read:
        if operator == "m":
            start = numbers
        returns = operator == "h" and kept[-1][0] == "l"
        if returns and kept[-1][1] == pytest.approx(start, abs=1e-9):
            kept.pop()
        kept.append((operator, numbers))
    return kept


def assert_same(ours: tuple[Segment, ...], d: str) -> None:
    theirs = without_return(read_by_fonttools(d))
    mine = without_return(flat(ours))
    assert [operator for operator, _ in mine] == [operator for operator, _ in theirs]
    for (_, numbers), (_, expected) in zip(mine, theirs, strict=True):
        assert numbers == pytest.approx(expected, abs=1e-6)


def svg(*elements: str) -> bytes:
    return f"<svg xmlns='http://www.w3.org/2000/svg'>{''.join(elements)}</svg>".encode()


@pytest.mark.parametrize("number", range(1, 10))
def test_the_nine_files_are_read_as_fonttools_reads_them(number: int) -> None:
    folder = files("ghs_hazard_pictogram") / "pictograms"
    data = (folder / f"ghs0{number}.svg").read_bytes()
    shapes = read_drawing(data)
    paths = [e for e in ElementTree.fromstring(data).iter() if e.get("d")]
    ellipses = 1 if number == 9 else 0
    assert len(shapes) == len(paths) + ellipses
    for shape, path in zip(shapes, paths, strict=False):
        scale = 0.8 if path.get("transform") else 1.0
        unscaled = tuple(
            (op, tuple((x / scale, y / scale) for x, y in points))
            for op, points in shape.segments
        )
        assert_same(unscaled, path.get("d") or "")


numbers = st.floats(-999, 999, allow_nan=False).map(lambda n: f"{n:.3f}")
ARITIES = {"l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "m": 2}


@st.composite
def paths(draw: st.DrawFn) -> str:
    parts = ["M", draw(numbers), draw(numbers)]
    for letter in draw(st.lists(st.sampled_from("lLhHvVcCsSmM"), max_size=8)):
        count = ARITIES[letter.lower()] * draw(st.integers(1, 2))
        parts += [letter, *(draw(numbers) for _ in range(count))]
    return " ".join([*parts, "z"])


@given(paths())
def test_any_path_is_read_as_fonttools_reads_it(d: str) -> None:
    (shape,) = read_drawing(svg(f"<path d='{d}'/>"))
    assert_same(shape.segments, d)


def test_numbers_may_run_together_as_svg_allows() -> None:
    # SVG 1.1, 8.3.9: white space may be left out where a sign or a second point parts
    (shape,) = read_drawing(svg("<path d='m1-2.5l-3e1-4-.25.75z'/>"))
    assert flat(shape.segments) == [
        ("m", (1, -2.5)), ("l", (-29, -6.5)), ("l", (-29.25, -5.75)), ("h", ()),
    ]  # fmt: skip


def test_more_pairs_after_a_move_are_lines() -> None:
    # SVG 1.1, 8.3.2
    (shape,) = read_drawing(svg("<path d='M1 2 3 4m5 6 7 8'/>"))
    assert flat(shape.segments) == [
        ("m", (1, 2)), ("l", (3, 4)), ("m", (8, 10)), ("l", (15, 18)),
    ]  # fmt: skip


def test_an_ellipse_is_round() -> None:
    (shape,) = read_drawing(svg("<ellipse cx='10' cy='20' rx='6' ry='3'/>"))
    here = shape.segments[0][1][0]
    for _, (first, second, end) in shape.segments[1:-1]:
        for step in range(1, 11):
            t = step / 10
            x, y = (
                (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b
                + 3 * t**2 * (1 - t) * c + t**3 * d
                for a, b, c, d in zip(here, first, second, end, strict=True)
            )  # fmt: skip
            # The equation of an ellipse; a quarter of one curve is off by 0.03 %.
            radius = ((x - 10) / 6) ** 2 + ((y - 20) / 3) ** 2
            assert radius == pytest.approx(1, abs=0.0006)
        here = end
    assert here == shape.segments[0][1][0]


def test_a_shape_inherits_from_its_group_and_its_own_words_win() -> None:
    group = "<g stroke='#000' stroke-width='5' transform='scale(2,2)'>{}</g>"
    first, second = (
        "<path d='M1 1h2'/>",
        "<path d='M1 1h2' style='stroke-width:4;fill:#FFF'/>",
    )
    inner, own = read_drawing(svg(group.format(first + second)))
    assert (inner.fill, inner.stroke, inner.stroke_width) == ("black", "black", 10)
    assert (own.fill, own.stroke, own.stroke_width) == ("white", "black", 8)
    assert flat(own.segments) == [("m", (2, 2)), ("l", (6, 2))]


@pytest.mark.parametrize("colour", ["#f00", "#ff0000", "Red", "red"])
def test_a_colour_has_one_name_however_it_is_written(colour: str) -> None:
    (shape,) = read_drawing(svg(f"<path fill='{colour}' d='M0 0h1'/>"))
    assert shape.fill == "red"


@pytest.mark.parametrize(
    ("element", "problem"),
    [
        ("<rect width='3' height='4'/>", "<rect> is not read"),
        ("<path d='M0 0q1 1 2 0'/>", "path command q is not read"),
        ("<path d='M0 0' transform='rotate(3)'/>", "transform rotate"),
        ("<path d='M0 0' transform='scale(2,3)'/>", "transform scale"),
    ],
)
def test_what_is_not_read_is_not_passed_over(element: str, problem: str) -> None:
    with pytest.raises(ValueError, match=problem.replace("(", r"\(")):
        read_drawing(svg(element))
