"""What a bottle's cap says: part, name, strength and number, set in a ring."""

from collections.abc import Iterator
from itertools import product
from math import hypot

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.numbers import quoted
from labelkit.errors import Misfit
from labelkit.mixing.words import BottleText, Run
from labelkit.printing.boxes import Box, Line, Ring, Text
from labelkit.printing.drawn import Drawn, Setting
from labelkit.printing.extents import extent_of
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm
from labelkit.printing.layouts import LayoutBox
from labelkit.printing.marks import draw_part
from labelkit.printing.typeset import DESCENT, Pieces, fold, width_of

__all__ = ["draw_cap"]

NAME_PITCH_MM = 4.0
UNDER_NAME_MM, UNDER_STRENGTH_MM = 3.3, 3.2
MARK_MM, UNDER_MARK_MM = 5.0, 0.9
INSIDE_MM = 0.4  # white between letters and ring
_STEP_PT = 0.5
_MOST_LINES = 2
_WIDTHS = (1.0, 0.75, 0.6)  # of the ring, that a line of the name may be


class _Said(Struct, frozen=True):
    """What is tried: the part as a mark or after the name, and the strength or not."""

    name: str
    strength: str
    marked: bool


def draw_cap(box: LayoutBox, top: float, setting: Setting) -> Drawn:
    """The ring, and in it as much as it holds, the name as large as it may be.

    Raises:
        Misfit: the name is too long for a cap.
    """
    ring = Ring(box.x, top, box.w, box.line)
    for said in _ways(setting.text):
        for size, width in product(_sizes(box), _WIDTHS):
            name = _name(said.name, size, ring.w * width)
            inside = _set(box, ring, said, name, setting) if name else []
            if inside and all(_is_in(ring, one) for one in inside):
                return Drawn((ring, *inside), top + box.h, float("inf"))
    raise Misfit(f"{quoted(setting.text.name)} is too long for a cap of {box.w:g} mm")


def _ways(text: BottleText) -> Iterator[_Said]:
    """Every way to say it, the fullest first."""
    strengths = (*reversed(text.strength[:2]), "")
    for strength in strengths:
        if text.part:
            yield _Said(text.name, strength, marked=True)
            yield _Said(f"{text.name} {text.part.letter}", strength, marked=False)
        else:
            yield _Said(text.name, strength, marked=False)


def _sizes(box: LayoutBox) -> Iterator[float]:
    size = box.wanted
    while size > box.smallest:
        yield size
        size -= _STEP_PT
    yield box.smallest


def _name(name: str, size: float, width: float) -> tuple[Pieces, ...]:
    """The lines of a name; none where it needs more than two."""
    try:
        lines = fold((Run(name, strong=True),), size, width, strong="bold")
    except Misfit:
        return ()
    return lines if len(lines) <= _MOST_LINES else ()


def _set(
    box: LayoutBox,
    ring: Ring,
    said: _Said,
    name: tuple[Pieces, ...],
    setting: Setting,
) -> list[Box]:
    """Everything centred in the ring, whether it fits or not."""
    size = max(size for _, _, size in name[0])
    mark = MARK_MM + UNDER_MARK_MM if said.marked else 0.0
    first = mark + cap_height_mm(size)
    pitch = NAME_PITCH_MM * size / box.wanted
    lines = [("name", pieces, first + n * pitch) for n, pieces in enumerate(name)]
    strength: Pieces = ((said.strength, "regular", box.others[0]),)
    if said.strength:
        lines.append(("strength", strength, lines[-1][2] + UNDER_NAME_MM))
    number: Pieces = ((setting.text.number, "semibold", box.others[1]),)
    lines.append(("number", number, lines[-1][2] + UNDER_STRENGTH_MM))
    top = ring.y + (ring.w - lines[-1][2]) / 2
    words = [_centred(ring, field, pieces, top + y) for field, pieces, y in lines]
    return [*(_mark(box, ring, top, setting) if said.marked else ()), *words]


def _mark(box: LayoutBox, ring: Ring, top: float, setting: Setting) -> tuple[Box, ...]:
    left = ring.x + (ring.w - MARK_MM) / 2
    return draw_part(replace(box, x=left, w=MARK_MM, h=MARK_MM), top, setting).boxes


def _centred(ring: Ring, field: str, pieces: Pieces, baseline: float) -> Text:
    """A line whose block is its letters, from capitals to half a descender."""
    size, wide = max(size for _, _, size in pieces), width_of(pieces)
    middle, cap = ring.x + ring.w / 2, cap_height_mm(size)
    line = Line(middle, baseline, pieces, "middle")
    role = "heading" if field == "name" else "paragraph"
    high = cap + DESCENT * size * MM_PER_PT / 2
    return Text(field, middle - wide / 2, baseline - cap, wide, high, (line,), role)


def _is_in(ring: Ring, box: Box) -> bool:
    """Whether every corner of a box is inside the ring."""
    x, y, at = ring.x + ring.w / 2, ring.y + ring.w / 2, extent_of(box)
    corners = ((a, b) for a in (at.left, at.right) for b in (at.top, at.bottom))
    free = ring.w / 2 - ring.line - INSIDE_MM
    return all(hypot(a - x, b - y) <= free for a, b in corners)
