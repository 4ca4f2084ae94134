"""Placed boxes seen from outside: as text, as ink, and as words."""

from collections.abc import Iterator
from itertools import combinations

from labelkit.printing.boxes import (
    Bar,
    Box,
    Code,
    Frame,
    Line,
    Page,
    Ring,
    Symbol,
    Text,
)
from labelkit.printing.codes import QUIET_ZONE
from labelkit.printing.extents import Extent, extent_of
from labelkit.printing.fonts import MM_PER_PT, cap_height_mm
from labelkit.printing.typeset import bearing_mm, width_of

KEEP_OUT_MM = 2.0  # round a hole of 5 mm: 9 mm across, design, print-spec section 8
DESCENDING = set("gjpqy,;()/Q")
# Grounds that words stand on, and lines that touch one another by design.
GROUNDS = {
    "tint", "foot", "stop bar", "class frame", "part", "emergency", "scale", "ring",
}  # fmt: skip


def as_text(pages: tuple[Page, ...]) -> str:
    """One box a line, in the order of reading."""
    lines: list[str] = []
    for page in pages:
        lines.append(f"page {page.width:g} x {page.height:g}, {page.title}")
        lines += [_one(box) for box in page.boxes]
    return "\n".join(lines) + "\n"


def _one(box: Box) -> str:
    at = extent_of(box)
    where = f"{at.left:7.2f} {at.top:7.2f} {at.right:7.2f} {at.bottom:7.2f}"
    if isinstance(box, Text):
        return f"{where}  {box.field} {box.role}: " + " | ".join(map(_said, box.lines))
    if isinstance(box, Symbol):
        return f"{where}  symbol {box.code} {box.side:g} {box.frame} {box.keyline}"
    if isinstance(box, Code):
        return f"{where}  code {box.modules} x {box.module:g}: {box.payload}"
    kind = _DRAWN.get(type(box), "bar")
    return f"{where}  {kind} {box.field}"


_DRAWN = {Frame: "frame", Ring: "ring"}


def _said(line: Line) -> str:
    told = "".join(f"[{weight} {size:g}]{text}" for text, weight, size in line.pieces)
    return f"{told}@{line.y:.2f}{' white' if line.white else ''}"


def words_of(page: Page) -> str:
    """Every word of a page, a line or block after another, spaces made plain."""
    blocks = [box for box in page.boxes if isinstance(box, Text)]
    told = [
        " ".join("".join(piece[0] for piece in line.pieces) for line in box.lines)
        for box in blocks
    ]
    return plain_spaces(" ".join(told))


def plain_spaces(text: str) -> str:
    return " ".join(text.replace("\u00a0", " ").split())


def lines_of(page: Page) -> Iterator[tuple[str, Line]]:
    for box in page.boxes:
        if isinstance(box, Text):
            yield from ((box.field, line) for line in box.lines)


def line_ink(line: Line) -> Extent:
    """Where a line's letters are, from its capitals to its descenders."""
    wide = width_of(line.pieces)
    left = line.x - wide * {"left": 0, "middle": 0.5, "right": 1}[line.align]
    bearing = bearing_mm(*line.pieces[0])  # hung type has its white outside
    top = line.y - max(cap_height_mm(size) for _, _, size in line.pieces)
    down = [size for text, _, size in line.pieces if set(text) & DESCENDING]
    return Extent(
        left + bearing, top, left + wide, line.y + 0.2 * max([0, *down]) * MM_PER_PT
    )


def inks(page: Page) -> Iterator[tuple[str, Extent]]:
    """Everything on a page that must keep apart, with a name for it."""
    for box in page.boxes:
        if isinstance(box, Text):
            for line in box.lines:
                yield f"{box.field} '{line.pieces[0][0][:24]}'", line_ink(line)
        elif isinstance(box, Code):
            zone = QUIET_ZONE * box.module
            yield "code and its quiet zone", _wider(extent_of(box), zone)
        elif isinstance(box, Ring) and box.field == "hole":
            yield "hole", _wider(extent_of(box), KEEP_OUT_MM)
        elif isinstance(box, Symbol):
            yield f"symbol {box.code}", extent_of(box)
        elif box.field not in GROUNDS:
            yield box.field, extent_of(box)


def _wider(at: Extent, mm: float) -> Extent:
    return Extent(at.left - mm, at.top - mm, at.right + mm, at.bottom + mm)


def overlaps(page: Page, spare: float = 0.05) -> list[tuple[str, str]]:
    """Names of what stands on something else; two rules may touch."""
    thin = {"rule", "vessel bar"}
    return [
        (one, other)
        for (one, a), (other, b) in combinations(inks(page), 2)
        if a.overlaps(b, spare) and not {one, other} <= thin
    ]


def white_lines_off_black(page: Page) -> list[str]:
    """White words that are not wholly on black."""
    grounds = [extent_of(b) for b in page.boxes if isinstance(b, Bar) and b.grey == 1]
    return [
        line.pieces[0][0]
        for _, line in lines_of(page)
        if line.white and not any(_inside(line_ink(line), g) for g in grounds)
    ]


def _inside(inner: Extent, outer: Extent) -> bool:
    return (
        inner.left >= outer.left
        and inner.right <= outer.right
        and inner.top >= outer.top
        and inner.bottom <= outer.bottom
    )
