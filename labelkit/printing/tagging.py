"""The tags that let a screen reader read a print: ISO 32000-1, 14.6 to 14.8.

Each piece of a page is marked with a number, and a tree of elements says what the
numbered pieces are. Written for ISO 14289-1 but not run through a validator, so the
document does not claim to conform to it.
"""

from typing import Any

from labelkit.printing.boxes import Bar, Box, Code, Frame, Ring, Symbol, Text
from labelkit.printing.pictograms import ALT_TEXTS

__all__ = ["Tags", "alternative", "xmp"]

_ROLES = {"heading": "H1", "paragraph": "P", "cell": "TD"}


def alternative(box: Symbol | Code) -> str:
    """What is read aloud in place of a picture."""
    if isinstance(box, Symbol):
        return box.says or ALT_TEXTS[box.code]
    return box.says or f"QR code: {box.payload}"


class Tags:
    """The tree of elements of one document, grown label by label in reading order."""

    def __init__(self, document: Any) -> None:
        from reportlab.pdfbase import pdfdoc

        self._pdf = pdfdoc
        self._document = document
        self._root = pdfdoc.PDFDictionary({"Type": pdfdoc.PDFName("StructTreeRoot")})
        self._top = self._branch("Document", self._root, hangs=False)
        self._label: Any = None
        self._table: Any = None
        self._row: Any = None
        self._row_from, self._row_to = 0.0, 0.0
        self._marked: list[Any] = []
        self._pages: list[list[Any]] = []

    def open_label(self) -> None:
        """What follows belongs to another label or card."""
        self._label = self._branch("Sect", self._top)
        self._table = None

    def mark(self, box: Box, operators: str) -> str:
        """The operators of a box, marked as what they are."""
        if isinstance(box, Bar | Frame | Ring):
            return f"/Artifact BMC\n{operators}\nEMC"
        kind = _ROLES[box.role] if isinstance(box, Text) else "Figure"
        element = self._leaf(kind, self._parent(box))
        if not isinstance(box, Text):
            element["Alt"] = self._pdf.PDFString(alternative(box))
        number = len(self._marked) - 1
        return f"/{kind} <</MCID {number}>> BDC\n{operators}\nEMC"

    def close_page(self) -> None:
        """Tie the page that was just finished to the elements on it."""
        page = self._document.Pages.pages[-1]
        page.StructParents = len(self._pages)
        page.Tabs = self._pdf.PDFName("S")
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
        self._pages.append(self._marked)
        self._marked = []

    def finish(self) -> None:
        """Hang the tree into the document."""
        numbered: list[Any] = []
        for number, elements in enumerate(self._pages):
            numbered += [number, self._pdf.PDFArray(elements)]
        tree = self._pdf.PDFDictionary({"Nums": self._pdf.PDFArray(numbered)})
        self._root["ParentTree"] = self._document.Reference(tree)
        self._root["ParentTreeNextKey"] = len(self._pages)
        self._root["K"] = self._document.Reference(self._top)
        catalog = self._document.Catalog
        catalog.StructTreeRoot = self._root
        catalog.MarkInfo = self._pdf.PDFDictionary({"Marked": "true"})

    def _parent(self, box: Box) -> Any:
        """The label, or the row of a table for a cell: cells abreast are one row."""
        if not (isinstance(box, Text) and box.role == "cell"):
            self._table = None
            return self._label
        if self._table is None:
            self._table, self._row = self._branch("Table", self._label), None
        return self._row_of(box)

    def _row_of(self, cell: Text) -> Any:
        """The row that a cell stands in, by a third of its height or more."""
        top, bottom = cell.y, cell.y + cell.h
        abreast = min(bottom, self._row_to) - max(top, self._row_from)
        if self._row is None or abreast < cell.h / 3:
            self._row = self._branch("TR", self._table)
            self._row_from, self._row_to = top, bottom
        self._row_from = min(self._row_from, top)
        self._row_to = max(self._row_to, bottom)
        return self._row

    def _branch(self, kind: str, parent: Any, *, hangs: bool = True) -> Any:
        element = self._element(kind, parent)
        element["K"] = self._pdf.PDFArray([])
        if hangs:
            parent["K"].sequence.append(self._document.Reference(element))
        return element

    def _leaf(self, kind: str, parent: Any) -> Any:
        element = self._element(kind, parent)
        element["Pg"] = self._document.thisPageRef()
        element["K"] = len(self._marked)
        reference = self._document.Reference(element)
        parent["K"].sequence.append(reference)
        self._marked.append(reference)
        return element

    def _element(self, kind: str, parent: Any) -> Any:
        return self._pdf.PDFDictionary(
            {
                "Type": self._pdf.PDFName("StructElem"),
                "S": self._pdf.PDFName(kind),
                "P": self._document.Reference(parent),
            }
        )


_ESCAPES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})
_XMP = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>
<dc:language><rdf:Bag><rdf:li>{lang}</rdf:li></rdf:Bag></dc:language>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>
"""


def xmp(*, title: str, author: str, lang: str) -> bytes:
    """Title, author and language as an XMP packet (ISO 16684-1)."""
    said = {"title": title, "author": author, "lang": lang}
    safe = {key: value.translate(_ESCAPES) for key, value in said.items()}
    return _XMP.format_map(safe).encode()
