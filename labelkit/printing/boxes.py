"""What a page is made of once everything is placed: boxes in mm and type in points.

Origin at the top left of the label or card, x to the right, y down. The order of the
boxes is the order in which they are drawn and read aloud.
"""

from msgspec import Struct

__all__ = [
    "Bar",
    "Box",
    "Code",
    "Frame",
    "Leaf",
    "Line",
    "Page",
    "Ring",
    "Symbol",
    "Text",
    "Weight",
]

Weight = str  # "regular" | "semibold" | "bold"


class Line(Struct, frozen=True, gc=False):
    """One line of text on its baseline.

    Attributes:
        x: left edge; right edge where ``align`` is "right", centre for "middle" [mm].
        y: baseline [mm].
        pieces: (text, weight, size [pt]) from left to right.
        white: white on black instead of black on white.
        says: what a reader hears where the pieces alone would not read well.
    """

    x: float
    y: float
    pieces: tuple[tuple[str, Weight, float], ...]
    align: str = "left"
    white: bool = False
    says: str = ""


class Text(Struct, frozen=True, cache_hash=True, gc=False):
    """A block of lines in reading order, with the field it shows and its extent [mm].

    Attributes:
        field: the ranked field, such as ``statements``.
        role: ``heading``, ``paragraph`` or ``cell``; for tagged documents.
    """

    field: str
    x: float
    y: float
    w: float
    h: float
    lines: tuple[Line, ...]
    role: str = "paragraph"


class Bar(Struct, frozen=True, gc=False):
    """A filled black rectangle [mm]; ``grey`` is the share of black, 1 for solid."""

    x: float
    y: float
    w: float
    h: float
    grey: float = 1.0
    field: str = "rule"


class Frame(Struct, frozen=True, gc=False):
    """A stroked rectangle [mm], the line lying wholly inside it."""

    x: float
    y: float
    w: float
    h: float
    line: float
    field: str = "frame"
    white_inside: bool = False


class Ring(Struct, frozen=True, gc=False):
    """A stroked circle in its square [mm], the line lying wholly inside it.

    Attributes:
        dash: length of dash and gap [mm]; 0 for a whole line.
    """

    x: float
    y: float
    w: float
    line: float
    dash: float = 0.0
    field: str = "ring"

    @property
    def h(self) -> float:
        """As high as it is wide [mm]."""
        return self.w


class Symbol(Struct, frozen=True, gc=False):
    """A pictogram in the square of its diamond tips [mm]; ``side`` is the red square's.

    Attributes:
        code: GHS01 to GHS09.
        frame: ``red`` or ``black``.
        keyline: a thin black edge outside the frame.
    """

    x: float
    y: float
    side: float
    code: str
    frame: str = "red"
    keyline: bool = True
    says: str = ""


class Code(Struct, frozen=True, gc=False):
    """A code for the camera: the modules' square without its quiet zone [mm]."""

    x: float
    y: float
    module: float
    payload: str
    modules: int
    says: str = ""


Box = Text | Bar | Frame | Ring | Symbol | Code


class Leaf(Struct, frozen=True, gc=False):
    """A part of a page that is folded: where it is read, and where it is printed [mm].

    Attributes:
        x: left edge on the page as it is read; y, w and h likewise.
        to_x: left edge on the flat paper; to_y likewise.
        turned: printed upside down, so that it reads upright when it is folded.
    """

    x: float
    y: float
    w: float
    h: float
    to_x: float
    to_y: float
    turned: bool = False


class Page(Struct, frozen=True, gc=False):
    """One label or one side of a card: its size [mm] and its boxes in reading order.

    Attributes:
        leaves: of a page that is folded, every part of it; boxes stay as they are read.
        marks: for the hand that folds it, on the flat paper.
        with_next: printed on the same paper as the page after it.
    """

    width: float
    height: float
    boxes: tuple[Box, ...]
    title: str = ""
    leaves: tuple[Leaf, ...] = ()
    marks: tuple[Box, ...] = ()
    with_next: bool = False

    @property
    def flat(self) -> tuple[float, float]:
        """Width and height as it is printed, before it is folded [mm]."""
        if not self.leaves:
            return self.width, self.height
        right = max(leaf.to_x + leaf.w for leaf in self.leaves)
        return right, max(leaf.to_y + leaf.h for leaf in self.leaves)

    def on(self, leaf: Leaf) -> tuple[Box, ...]:
        """The boxes on one of its leaves."""
        ends = leaf.x + leaf.w
        return tuple(box for box in self.boxes if leaf.x <= box.x < ends)
