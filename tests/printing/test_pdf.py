"""The file is read back by other programs: pypdf, pdfium and two code readers."""

import re
from io import BytesIO
from typing import Any

import cv2
import numpy as np
import pypdfium2
import pytest
import zxingcpp
from msgspec.structs import replace
from pypdf import PdfReader
from pypdf.generic import IndirectObject

from labelkit.printing.boxes import Bar, Box, Code, Frame, Line, Page, Symbol, Text
from labelkit.printing.codes import encode
from labelkit.printing.papers import Paper, Placed
from labelkit.printing.pdf import draw, draw_papers

PT = 72 / 25.4
PAYLOAD = "HTTPS://BOTTLES.EXAMPLE.ORG/B/7M3K-2QWX-Y"
ABOUT: dict[str, Any] = {
    "title": "Borate alkali stock, 7M3K-2QWX-Y, bottle label",
    "author": "M. Osei, Tern Street Print Room",
    "subject": "Bottle label",
}
Picture = np.ndarray[Any, np.dtype[Any]]


def words(
    field: str, y: float, *pieces: tuple[str, str, float], role: str = "paragraph",
    **line: Any,
) -> Text:  # fmt: skip
    set_line = Line(line.pop("x", 3.6), y, pieces, **line)
    return Text(field, 3.6, y - 4, 60, 5, (set_line,), role)


BOXES: tuple[Box, ...] = (
    words("name", 8.6, ("Borate alkali stock", "semibold", 19), role="heading"),
    words(
        "headline", 22, ("20", "bold", 40), ("mL", "semibold", 16.8),
        ("=", "regular", 22), ("1", "bold", 40), ("g", "semibold", 16.8),
        says="20 mL = 1 g",
    ),
    Code(58.1, 12, 1.2 / PT, PAYLOAD, encode(PAYLOAD).side),
    words("contents", 33, ("borax\u00a0decahydrate 34.6 µ → ≥ ½ é", "regular", 6.6)),
    words("batch", 38, ("7M3K-2QWX-Y", "semibold", 11.3), x=70.4, align="right"),
    Bar(3.6, 52.2, 66.8, 0.9),
    Symbol(3.6, 54.2, 10, "GHS08"),
    Symbol(19.6, 54.2, 10, "GHS05", keyline=False),
    words("signal", 76, ("DANGER", "bold", 19)),
    Frame(3.6, 78, 66.8, 8, 0.7),
    words("class", 83, ("No hazard class", "regular", 8), x=37, align="middle"),
    Bar(3.6, 88, 66.8, 4, grey=0.075, field="tint"),
    words("row", 91, ("Water", "regular", 8), role="cell"),
    words("row", 91, ("400 mL", "bold", 8), role="cell", x=30),
    words("row", 95, ("Borax", "regular", 8), role="cell"),
    Bar(3.6, 95.8, 66.8, 5.6),
    Frame(38, 96.6, 30, 4, 0.3, white_inside=True),
    words("foot", 100, ("DO NOT DRINK", "bold", 12), x=5.2, white=True),
)  # fmt: skip
LABEL = Page(74, 105, BOXES)


def pdf(*pages: Page, **choices: Any) -> bytes:
    return draw(pages or (LABEL,), **{**ABOUT, **choices})


def reader(data: bytes) -> PdfReader:
    return PdfReader(BytesIO(data), strict=True)


def picture(data: bytes, dpi: int = 300) -> Picture:
    page = pypdfium2.PdfDocument(data)[0]
    return np.asarray(page.render(scale=dpi / 72).to_pil().convert("RGB"))


def at(shown: Picture, x_mm: float, y_mm: float, dpi: int = 300) -> tuple[int, ...]:
    return tuple(int(v) for v in shown[int(y_mm / 25.4 * dpi), int(x_mm / 25.4 * dpi)])


def resolved(thing: Any) -> Any:
    return thing.get_object() if isinstance(thing, IndirectObject) else thing


def test_a_page_has_the_size_of_its_label() -> None:
    pages = reader(pdf(LABEL, Page(148, 74, BOXES[:1]))).pages
    sizes = [(float(p.mediabox.width), float(p.mediabox.height)) for p in pages]
    assert sizes[0] == pytest.approx((74 * PT, 105 * PT), abs=0.01)
    assert sizes[1] == pytest.approx((148 * PT, 74 * PT), abs=0.01)


def test_words_are_read_back_in_the_order_of_the_boxes() -> None:
    for tagged in (True, False):
        text = reader(pdf(tagged=tagged)).pages[0].extract_text()
        expected = [
            "Borate alkali stock", "borax decahydrate 34.6 µ → ≥ ½ é", "7M3K-2QWX-Y",
            "DANGER", "No hazard class", "Water", "400 mL", "Borax", "DO NOT DRINK",
        ]  # fmt: skip
        places = [text.index(part) for part in expected]
        assert places == sorted(places)


def test_a_line_that_reads_badly_says_what_it_means() -> None:
    data = reader(pdf()).pages[0].get_contents()
    assert data is not None
    said = re.findall(rb"/ActualText <([0-9A-Fa-f]+)>", data.get_data())
    assert [bytes.fromhex(s.decode()).decode("utf-16") for s in said] == ["20 mL = 1 g"]
    text = pypdfium2.PdfDocument(pdf())[0].get_textpage().get_text_range()
    assert "20 mL = 1 g" in text


def test_every_font_is_an_embedded_subset_that_can_be_read_back() -> None:
    seen = reader(pdf())
    fonts = resolved(resolved(seen.pages[0]["/Resources"])["/Font"])
    assert len(fonts) == 3
    for font in map(resolved, fonts.values()):
        descriptor = resolved(font["/FontDescriptor"])
        assert re.match(r"/[A-Z]{6}\+IBMPlexSansCond", font["/BaseFont"])
        assert "/FontFile2" in descriptor
        assert "/ToUnicode" in font
    assert b"Helvetica" not in pdf()


def test_a_weight_that_is_not_used_is_not_embedded() -> None:
    page = replace(LABEL, boxes=BOXES[:1])
    fonts = resolved(resolved(reader(pdf(page)).pages[0]["/Resources"])["/Font"])
    assert [resolved(font)["/BaseFont"][-8:] for font in fonts.values()] == ["SemiBold"]


def test_the_document_says_what_it_is_and_how_to_print_it() -> None:
    seen = reader(pdf(lang="en-US"))
    assert seen.metadata is not None
    assert seen.metadata.title == ABOUT["title"]
    assert seen.metadata.author == ABOUT["author"]
    assert seen.metadata.subject == ABOUT["subject"]
    assert seen.metadata.creator == "labelkit"
    root = resolved(seen.trailer["/Root"])
    assert root["/Lang"] == "en-US"
    preferences = resolved(root["/ViewerPreferences"])
    assert preferences["/DisplayDocTitle"].value is True
    assert preferences["/PrintScaling"] == "/None"


def test_the_same_input_gives_the_same_bytes() -> None:
    assert pdf() == pdf()
    assert pdf(tagged=False) == pdf(tagged=False)


def test_the_code_is_read_at_150_dpi_by_two_decoders() -> None:
    grey = cv2.cvtColor(picture(pdf(), dpi=150), cv2.COLOR_RGB2GRAY)
    assert [found.text for found in zxingcpp.read_barcodes(grey)] == [PAYLOAD]
    text, _, _ = cv2.QRCodeDetectorAruco().detectAndDecode(grey)
    assert text == PAYLOAD


def test_a_code_stands_where_room_was_kept_for_it() -> None:
    found = zxingcpp.read_barcodes(picture(pdf()))[0].position
    side = encode(PAYLOAD).side * 1.2 / PT
    assert found.top_left.x / 300 * 25.4 == pytest.approx(58.1, abs=0.3)
    assert found.top_left.y / 300 * 25.4 == pytest.approx(12, abs=0.3)
    assert found.bottom_right.x / 300 * 25.4 == pytest.approx(58.1 + side, abs=0.3)


def test_a_code_with_too_little_room_is_a_fault_of_ours() -> None:
    page = replace(LABEL, boxes=(Code(5, 5, 0.42, PAYLOAD, 25),))
    with pytest.raises(ValueError, match="kept for 25 modules, not for 29"):
        pdf(page)


TOP, MIDDLE = 54.2, 54.2 + 10 * 2**0.5 / 2  # of the pictograms [mm]


def test_frames_are_red_and_become_black_for_a_black_printer() -> None:
    assert at(picture(pdf()), 4.2, MIDDLE) == (0xCC, 0x0D, 0x1F)
    mono = picture(pdf(mono=True))
    assert at(mono, 4.2, MIDDLE) == (0, 0, 0)
    assert (mono.max(axis=2).astype(int) - mono.min(axis=2)).max() == 0


def test_in_grey_the_frame_is_dark_and_the_symbol_black() -> None:
    grey = cv2.cvtColor(picture(pdf()), cv2.COLOR_RGB2GRAY)
    red_in_grey = at(grey[:, :, None], 4.2, MIDDLE)[0]
    assert red_in_grey < 100  # on white 255; Rec. 601 weights give 72
    assert at(grey[:, :, None], 3.6 + 7.07, TOP + 4)[0] == 0  # the head


def test_under_a_red_safelight_symbol_and_edge_stay() -> None:
    seen = picture(pdf(), dpi=1200)[:, :, 0]  # red light shows the red channel
    row = seen[int((MIDDLE - 1.5) / 25.4 * 1200)]
    edged = row[int(3.5 / 25.4 * 1200) : int(10.6 / 25.4 * 1200)]
    plain = row[int(19.5 / 25.4 * 1200) : int(22.5 / 25.4 * 1200)]
    assert edged.min() == 0
    assert plain.min() > 150  # the frame without a black edge is all but gone


def test_white_stands_on_black_and_a_white_field_on_the_foot() -> None:
    shown = picture(pdf())
    assert at(shown, 36, 98) == (0, 0, 0)
    assert at(shown, 50, 98) == (255, 255, 255)
    foot = shown[int(97.5 / 25.4 * 300) : int(100 / 25.4 * 300), 70:400]
    assert foot.max() == 255
    assert foot.min() == 0


def test_a_tint_is_as_grey_as_it_was_asked_for() -> None:
    assert at(picture(pdf()), 65, 90)[0] == pytest.approx(255 * (1 - 0.075), abs=2)


def test_a_frame_lies_wholly_inside_its_box() -> None:
    frame = Frame(10, 10, 40, 20, 2)
    shown = picture(pdf(Page(60, 40, (frame,))))[:, :, 0]
    down, across = np.where(shown < 128)
    edges = [across.min(), across.max() + 1, down.min(), down.max() + 1]
    mm = [edge / 300 * 25.4 for edge in edges]
    assert mm == pytest.approx([10, 50, 10, 30], abs=0.1)
    assert at(shown[:, :, None], 12.4, 20)[0] == 255


def test_no_line_is_thinner_than_a_printer_can_draw() -> None:
    hair = Page(
        60, 40, (Bar(5, 10, 50, 0.05), Bar(5, 15, 0.05, 9), Frame(9, 20, 9, 9, 0.01))
    )
    data = reader(pdf(hair)).pages[0].get_contents()
    assert data is not None
    drawn = data.get_data().decode()
    bars = [
        float(v) for pair in re.findall(r"([\d.]+) ([\d.]+) re f", drawn) for v in pair
    ]
    assert min(bars) == pytest.approx(0.15 * PT, abs=0.01)
    assert float(re.findall(r"([\d.]+) w", drawn)[0]) == pytest.approx(
        0.15 * PT, abs=0.01
    )


def test_a_line_ends_or_is_centred_where_it_should() -> None:
    right = words("a", 10, ("MMMM", "bold", 20), x=50, align="right")
    middle = words("b", 30, ("MMMM", "bold", 20), x=50, align="middle")
    shown = picture(pdf(Page(100, 40, (right, middle))))[:, :, 0]
    inked = [
        np.flatnonzero((rows < 128).any(axis=0)) for rows in np.split(shown[:472], 2)
    ]
    assert inked[0].max() / 300 * 25.4 == pytest.approx(50, abs=0.8)
    centre = (inked[1].max() + inked[1].min()) / 2 / 300 * 25.4
    assert centre == pytest.approx(50, abs=0.2)


def test_a_pictogram_is_written_once_however_often_it_is_drawn() -> None:
    once, often = pdf(tagged=False), pdf(*[LABEL] * 20, tagged=False)
    assert once.count(b"/Subtype /Form") == often.count(b"/Subtype /Form") == 2
    assert len(often) - len(once) < 20 * 1500


# ---------------------------------------------------------------- tags


def elements(data: bytes) -> list[tuple[str, Any]]:
    """Kind and content of each element, in reading order."""
    root = resolved(resolved(reader(data).trailer["/Root"])["/StructTreeRoot"])
    found: list[tuple[str, Any]] = []

    def walk(element: Any) -> None:
        found.append((str(element["/S"])[1:], element))
        kids = resolved(element["/K"])
        for kid in kids if isinstance(kids, list) else []:
            walk(resolved(kid))

    walk(resolved(root["/K"]))
    return found


def test_the_tags_follow_the_boxes_and_leave_rules_out() -> None:
    kinds = [kind for kind, _ in elements(pdf())]
    assert kinds == [
        "Document", "Sect", "H1", "P", "Figure", "P", "P", "Figure", "Figure", "P", "P",
        "Table", "TR", "TD", "TD", "TR", "TD", "P",
    ]  # fmt: skip


def test_pictures_have_words_in_their_place() -> None:
    alternatives = [e["/Alt"] for kind, e in elements(pdf()) if kind == "Figure"]
    assert alternatives == [
        f"QR code: {PAYLOAD}", "Health hazard pictogram", "Corrosion pictogram",
    ]  # fmt: skip


def test_all_that_is_drawn_is_tagged_or_marked_as_mere_decoration() -> None:
    data = reader(pdf()).pages[0].get_contents()
    assert data is not None
    depth, loose = 0, []
    for line in data.get_data().decode().splitlines():
        opened = len(re.findall(r"\b(?:BDC|BMC)\b", line))
        depth += opened
        paints = re.search(r"\b(Tj|Do|f|S|B|re)\b", line)
        if paints and not depth:
            loose.append(line)
        depth -= len(re.findall(r"\bEMC\b", line))
    assert depth == 0
    assert loose == []


def test_each_marked_piece_leads_back_to_its_element() -> None:
    seen = reader(pdf(LABEL, LABEL))
    root = resolved(resolved(seen.trailer["/Root"])["/StructTreeRoot"])
    numbers = resolved(resolved(root["/ParentTree"])["/Nums"])
    for index, page in enumerate(seen.pages):
        assert int(page["/StructParents"]) == index  # type: ignore[call-overload]
        marked = resolved(numbers[2 * index + 1])
        content = page.get_contents()
        assert content is not None
        used = re.findall(rb"/MCID (\d+)", content.get_data())
        assert [int(number) for number in used] == list(range(len(marked)))
        for number, element in enumerate(map(resolved, marked)):
            assert element["/K"] == number
            assert resolved(element["/Pg"]) == page


def test_an_untagged_print_has_no_tags_and_is_smaller() -> None:
    plain = pdf(tagged=False)
    root = resolved(reader(plain).trailer["/Root"])
    assert "/StructTreeRoot" not in root
    assert len(plain) < len(pdf())


def test_no_claim_is_made_that_no_validator_has_checked() -> None:
    root = resolved(reader(pdf()).trailer["/Root"])
    packet = resolved(root["/Metadata"]).get_data().decode()
    assert '<rdf:li xml:lang="x-default">Borate alkali stock' in packet
    assert "pdfuaid" not in packet


def test_signs_that_mean_something_to_xml_are_safe_in_the_metadata() -> None:
    root = resolved(reader(pdf(title="A & B <1>")).trailer["/Root"])
    assert "A &amp; B &lt;1&gt;" in resolved(root["/Metadata"]).get_data().decode()


# ---------------------------------------------------------------- papers


def test_labels_lie_on_the_paper_where_they_were_placed() -> None:
    spot = Page(74, 52, (Bar(0, 0, 10, 5),))
    placed = (Placed(spot, 29, 14.5), Placed(spot, 107, 68.5))
    data = draw_papers([Paper(210, 297, placed)], **ABOUT)
    shown = picture(data)
    for x, y in ((29, 14.5), (107, 68.5)):
        assert at(shown, x + 0.2, y + 0.2)[0] == 0
        assert at(shown, x + 9.8, y + 4.8)[0] == 0
        assert at(shown, x - 0.3, y + 1)[0] == 255
        assert at(shown, x + 10.3, y + 1)[0] == 255


def test_a_turned_label_has_its_top_to_the_left() -> None:
    spot = Page(105, 74, (Bar(0, 0, 10, 5),))
    data = draw_papers([Paper(210, 297, (Placed(spot, 29, 41.5, True),))], **ABOUT)
    down, across = np.where(picture(data)[:, :, 0] < 128)
    mm = [v / 300 * 25.4 for v in (across.min(), across.max(), down.min(), down.max())]
    assert mm == pytest.approx([29, 34, 41.5 + 95, 41.5 + 105], abs=0.15)


def test_marks_for_the_knife_are_not_read_aloud() -> None:
    marks = (Frame(10, 10, 74, 105, 0.18),)
    data = draw_papers([Paper(210, 297, (Placed(LABEL, 10, 10),), marks)], **ABOUT)
    assert [kind for kind, _ in elements(data)].count("Sect") == 1
    assert at(picture(data, dpi=600), 10.1, 60, dpi=600)[0] < 128
