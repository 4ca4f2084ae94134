"""Placed boxes become a PDF: nothing is measured, moved or left out here."""

from collections.abc import Iterable
from functools import lru_cache
from io import BytesIO
from typing import Any
from zlib import compress

from labelkit.printing import pictograms
from labelkit.printing.boxes import (
    Bar,
    Box,
    Code,
    Frame,
    Leaf,
    Line,
    Page,
    Ring,
    Symbol,
    Text,
)
from labelkit.printing.codes import encode
from labelkit.printing.fonts import MM_PER_PT, register, typeface, width_mm
from labelkit.printing.papers import Paper, Placed
from labelkit.printing.tagging import Tags, xmp

__all__ = ["draw", "draw_papers"]

_THINNEST_MM = 0.15  # what office lasers and thermal printers reproduce
_TIPS_PER_SIDE = 2**0.5  # from tip to tip of a square that stands on its corner
_REMEMBERED = 4096  # texts and codes whose operators are kept


def draw(
    pages: Iterable[Page],
    *,
    title: str,
    author: str,
    subject: str,
    lang: str = "en-GB",
    mono: bool = False,
    tagged: bool = True,
) -> bytes:
    """One page of paper for each label or card side.

    Args:
        pages: labels or card sides, each drawn at its own size.
        title: what a viewer shows as the document's name.
        author: who made the bottle or card.
        subject: what kind of print it is.
        lang: language of the words.
        mono: frames of pictograms black, for a black-only printer.
        tagged: readable by a screen reader; about 5 kB a label.

    Returns:
        The PDF file; the same input gives the same bytes.
    """
    return draw_papers(
        (Paper(*page.flat, (Placed(page),)) for page in pages),
        title=title,
        author=author,
        subject=subject,
        lang=lang,
        mono=mono,
        tagged=tagged,
    )


def draw_papers(
    papers: Iterable[Paper],
    *,
    title: str,
    author: str,
    subject: str,
    lang: str = "en-GB",
    mono: bool = False,
    tagged: bool = True,
) -> bytes:
    """Papers with labels laid out on them; otherwise as `draw`."""
    canvas = _canvas(lang=lang, tagged=tagged)
    canvas.setTitle(title)
    canvas.setAuthor(author)
    canvas.setSubject(subject)
    document = canvas._doc  # noqa: SLF001 - fonts and tags have no other way in
    painter = _Painter(canvas, document, Tags(document) if tagged else None, mono=mono)
    for paper in papers:
        painter.paper(paper)
    if tagged:
        document.Catalog.Metadata = _metadata(
            xmp(title=title, author=author, lang=lang)
        )
    painter.finish()
    data: bytes = canvas.getpdfdata()  # saved to a file, it would be held twice
    return data


def _canvas(*, lang: str, tagged: bool) -> Any:
    from reportlab import rl_config
    from reportlab.pdfgen.canvas import Canvas

    rl_config.useA85 = 0  # plain streams are smaller and quicker
    canvas = Canvas(
        BytesIO(),  # no file is opened
        invariant=1,
        pageCompression=1,
        lang=lang,
        pdfVersion=(1, 7) if tagged else (1, 4),
        initialFontName=register(["regular"])["regular"],
    )
    canvas.setCreator("labelkit")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setViewerPreference("PrintScaling", "None")
    return canvas


def _metadata(packet: bytes) -> Any:
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName, PDFStream

    kind = {"Type": PDFName("Metadata"), "Subtype": PDFName("XML")}
    return PDFStream(PDFDictionary(kind), packet)


class _Painter:
    """Writes boxes as PDF operators; what recurs on every label is written once."""

    def __init__(
        self, canvas: Any, document: Any, tags: Tags | None, *, mono: bool
    ) -> None:
        self._canvas, self._document, self._tags = canvas, document, tags
        self._mono = mono
        self._text = lru_cache(_REMEMBERED)(self._text_operators)
        self._piece = lru_cache(_REMEMBERED)(self._piece_operators)
        self._forms: set[str] = set()

    def paper(self, paper: Paper) -> None:
        self._canvas.setPageSize((_pt(paper.width), _pt(paper.height)))
        for mark in paper.marks:
            self._box(mark, paper.height)
        for placed in paper.placed:
            if self._tags:
                self._tags.open_label()
            self._canvas.addLiteral(f"q {_placing(placed, paper.height)} cm")
            self._page(placed.page)
            self._canvas.addLiteral("Q")
        self._canvas.showPage()
        _pack(self._document.Pages.pages[-1])
        if self._tags:
            self._tags.close_page()

    def _page(self, page: Page) -> None:
        for mark in page.marks:
            self._box(mark, page.flat[1])
        if not page.leaves:
            for box in page.boxes:
                self._box(box, page.height)
        for leaf in page.leaves:
            self._canvas.addLiteral(f"q {_leaf_placing(leaf, page)} cm")
            for box in page.on(leaf):
                self._box(box, page.height)
            self._canvas.addLiteral("Q")

    def finish(self) -> None:
        if self._tags:
            self._tags.finish()

    def _box(self, box: Box, height: float) -> None:
        operators = self._operators(box, height)
        if self._tags:
            operators = self._tags.mark(box, operators)
        self._canvas.addLiteral(operators)

    def _operators(self, box: Box, height: float) -> str:
        if isinstance(box, Text):
            return self._text(box, height)
        if isinstance(box, Bar):
            return _bar(box, height)
        if isinstance(box, Frame):
            return _frame(box, height)
        if isinstance(box, Ring):
            return _ring(box, height)
        if isinstance(box, Symbol):
            return self._symbol(box, height)
        return _code(box, height)

    def _text_operators(self, text: Text, height: float) -> str:
        lines = [self._line(line, height) for line in text.lines]
        return "\n".join(["BT", *lines, "ET"])

    def _line(self, line: Line, height: float) -> str:
        x = line.x - _SHARE_LEFT_OF_X[line.align] * _line_width(line)
        parts = [f"1 0 0 1 {_n(_pt(x))} {_n(_pt(height - line.y))} Tm"]
        parts += [self._piece(*piece) for piece in line.pieces]
        shown = " ".join(parts)
        if line.white:
            shown = f"1 g {shown} 0 g"
        if line.says:
            said = line.says.encode("utf-16-be").hex()
            shown = f"/Span <</ActualText <FEFF{said}>>> BDC {shown} EMC"
        return shown

    def _piece_operators(self, text: str, weight: str, size: float) -> str:
        font, document = typeface(weight), self._document
        return " ".join(
            [
                f"{font.getSubsetInternalName(subset, document)} {_n(size)} Tf"
                f" <{glyphs.hex()}> Tj"
                for subset, glyphs in font.splitString(text, document)
            ]
        )

    def _symbol(self, symbol: Symbol, height: float) -> str:
        frame = "black" if self._mono else symbol.frame
        edge = "edged" if symbol.keyline and frame == "red" else "plain"
        name = f"{symbol.code}.{frame}.{edge}"
        self._form(name, symbol.code, frame, keyline=symbol.keyline)
        tips = symbol.side * _TIPS_PER_SIDE
        scale = _pt(tips) / 100
        place = f"{_n(_pt(symbol.x))} {_n(_pt(height - symbol.y - tips))}"
        return f"q {scale:.4f} 0 0 {scale:.4f} {place} cm /{self._used(name)} Do Q"

    def _form(self, name: str, code: str, frame: str, *, keyline: bool) -> None:
        """A pictogram is written into the document on its first use."""
        if name in self._forms:
            return
        self._forms.add(name)
        self._canvas.beginForm(name, *pictograms.BOX)
        painted = pictograms.operators(code, frame=frame, keyline=keyline)
        self._canvas.addLiteral(painted)
        self._canvas.endForm()

    def _used(self, name: str) -> str:
        """The form's name in the file, after noting that this page uses it."""
        used = self._canvas._formsinuse  # noqa: SLF001 - doForm draws outside the marks
        if name not in used:
            used.append(name)
        return str(self._document.getXObjectName(name))


def _pack(page: Any) -> None:
    """Compress a finished page at once: until it is saved it takes a tenth so much."""
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream

    kind = PDFDictionary({"Filter": PDFArray([PDFName("FlateDecode")])})
    page.Contents = PDFStream(kind, compress(page.stream.encode()), [])
    page.stream = None


_SHARE_LEFT_OF_X = {"left": 0.0, "middle": 0.5, "right": 1.0}


def _line_width(line: Line) -> float:
    if line.align == "left":
        return 0.0
    return sum(width_mm(*piece) for piece in line.pieces)


def _placing(placed: Placed, paper_height: float) -> str:
    """The matrix from a page's own bottom left corner to its place on the paper."""
    across, down = placed.scale
    left, top = _pt(placed.x), _pt(paper_height - placed.y)
    w, h = map(_pt, placed.page.flat)
    if placed.turned:
        wide, high = h * across, w * down
        a, b, c, d, e, f = 0.0, down, -across, 0.0, left + wide, top - high
    else:
        wide, high = w * across, h * down
        a, b, c, d, e, f = across, 0.0, 0.0, down, left, top - high
    if placed.upside_down:  # about the middle of the place
        a, b, c, d = -a, -b, -c, -d
        e, f = 2 * left + wide - e, 2 * top - high - f
    return f"{' '.join(_n(n, 4) for n in (a, b, c, d))} {_n(e)} {_n(f)}"


def _leaf_placing(leaf: Leaf, page: Page) -> str:
    """The matrix from a page as it is read to a leaf on the flat paper."""
    x = leaf.to_x - leaf.x
    y = page.flat[1] - page.height + leaf.y - leaf.to_y
    if leaf.turned:
        x = leaf.to_x + leaf.w + leaf.x
        y = page.flat[1] + page.height - leaf.h - leaf.y - leaf.to_y
        return f"-1 0 0 -1 {_n(_pt(x))} {_n(_pt(y))}"
    return f"1 0 0 1 {_n(_pt(x))} {_n(_pt(y))}"


def _bar(bar: Bar, height: float) -> str:
    w, h = max(bar.w, _THINNEST_MM), max(bar.h, _THINNEST_MM)
    corner = f"{_n(_pt(bar.x))} {_n(_pt(height - bar.y - h))}"
    painted = f"{corner} {_n(_pt(w))} {_n(_pt(h))} re f"
    return painted if bar.grey == 1 else f"{_n(1 - bar.grey, 3)} g {painted} 0 g"


def _frame(frame: Frame, height: float) -> str:
    line = max(frame.line, _THINNEST_MM)
    left, bottom = frame.x + line / 2, height - frame.y - frame.h + line / 2
    corner = f"{_n(_pt(left))} {_n(_pt(bottom))}"
    size = f"{_n(_pt(frame.w - line))} {_n(_pt(frame.h - line))}"
    drawn = f"{_n(_pt(line))} w {corner} {size} re"
    return f"1 g {drawn} B 0 g" if frame.white_inside else f"{drawn} S"


_KAPPA = 0.5522847498  # control points of a quarter circle, for the least error


def _ring(ring: Ring, height: float) -> str:
    line = max(ring.line, _THINNEST_MM)
    r = _pt((ring.w - line) / 2)
    k = r * _KAPPA
    middle = f"{_n(_pt(ring.x + ring.w / 2))} {_n(_pt(height - ring.y - ring.w / 2))}"
    quarters = (
        (r, k, k, r, 0.0, r),
        (-k, r, -r, k, -r, 0.0),
        (-r, -k, -k, -r, 0.0, -r),
        (k, -r, r, -k, r, 0.0),
    )
    curves = " ".join(" ".join(map(_n, quarter)) + " c" for quarter in quarters)
    dashes = f"[{_n(_pt(ring.dash))}] 0 d " if ring.dash else ""
    stroked = f"{_n(_pt(line))} w {dashes}{_n(r)} 0 m {curves} h S"
    return f"q 1 0 0 1 {middle} cm {stroked} Q"


def _code(code: Code, height: float) -> str:
    matrix = encode(code.payload)
    if matrix.side != code.modules:
        problem = f"room was kept for {code.modules} modules, not for {matrix.side}"
        raise ValueError(problem)
    module = _n(_pt(code.module), 4)
    place = f"{_n(_pt(code.x))} {_n(_pt(height - code.y))}"
    runs = " ".join([f"{x} {y} {w} {h} re" for x, y, w, h in matrix.runs])
    return f"q {module} 0 0 -{module} {place} cm {runs} f Q"


def _pt(mm: float) -> float:
    return mm / MM_PER_PT


def _n(value: float, places: int = 2) -> str:
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
