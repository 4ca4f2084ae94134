"""The pair: two labels of one bottle, printed together or not at all."""

from decimal import Decimal

import pypdfium2
import pytest
import zxingcpp
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.words import BottleText
from labelkit.printing.boxes import Code, Page, Symbol
from labelkit.printing.fit import Placement, fit
from labelkit.printing.layouts import layout_named
from labelkit.printing.pdf import draw
from labelkit.printing.sheet_files import read_sheet
from labelkit.printing.sheets import Job, impose, slots_needed
from tests.printing.label_texts import BORATE, BROMIDE, CARBONATE, LOADS, PYROGALLOL
from tests.printing.placed import lines_of, overlaps, words_of


def paired(text: BottleText, mL: int = 250) -> Placement:
    words = replace(text, volume_mL=Decimal(mL))
    layout = layout_named("pair")
    return fit(words, layout, profile="room", mono=False, keyline=True)


# One pictogram at 10 mm, no more: design, print-spec section 5.
def test_a_pair_carries_one_pictogram() -> None:
    placement = paired(BORATE)
    assert placement.spare >= 0
    sides = {box.side for box in placement.page.boxes if isinstance(box, Symbol)}
    assert sides == {10}


@pytest.mark.parametrize("load", ["two", "five", "corr"])
def test_heavier_loads_are_sent_to_a_larger_label(load: str) -> None:
    with pytest.raises(Misfit, match=r"layout pair: 148 x 52 mm is .* too low"):
        paired(LOADS[load])


def test_a_pair_is_for_a_bottle_with_a_class() -> None:
    with pytest.raises(Misfit, match="for a bottle that reaches a hazard class"):
        paired(BROMIDE)


@pytest.mark.parametrize("text", [BORATE, CARBONATE])
def test_both_labels_say_whose_they_are_and_warn(text: BottleText) -> None:
    pages = paired(text).pages
    assert [(page.width, page.height) for page in pages] == [(74, 52), (74, 52)]
    for n, page in enumerate(pages, start=1):
        told = words_of(page)
        letter = text.part.letter if text.part else ""
        for words in (text.name, letter, text.number, text.hazard.signal,
                      "DO NOT DRINK", f"label {n} of 2"):  # fmt: skip
            assert words in told
        shown = [box.code for box in page.boxes if isinstance(box, Symbol)]
        assert shown == [p.code for p in text.hazard.pictograms]
        assert overlaps(page, 0.02) == []
        assert all(0 <= line.x <= 74 for _, line in lines_of(page))


def test_the_hazards_stay_together_on_the_second_label() -> None:
    # Regulation (EC) No 1272/2008, Article 32.
    one, two = paired(BORATE).pages
    fields = {"contains", "statements", "precautions", "never-with"}
    assert fields.isdisjoint(field for field, _ in lines_of(one))
    assert fields <= {field for field, _ in lines_of(two)}


def test_the_code_stands_on_the_first_and_reads_back_at_150_dpi() -> None:
    # Acceptance: design, print-spec section 6.
    pages = paired(CARBONATE).pages
    assert [any(isinstance(b, Code) for b in p.boxes) for p in pages] == [True, False]
    pdf = draw(pages, title="x", author="x", subject="bottle label")
    image = pypdfium2.PdfDocument(pdf)[0].render(scale=150 / 72).to_pil()
    (found,) = zxingcpp.read_barcodes(image.convert("L"))
    assert found.text == CARBONATE.code


def other(title: str) -> Page:
    return Page(74, 52, (), title)


def test_a_pair_is_never_split_over_two_papers() -> None:
    sheet = read_sheet("a4-74x52")
    pair = paired(BORATE).pages
    singles = [other(str(n)) for n in range(sheet.slots - 1)]
    papers = list(impose([*singles, *pair, other("last")], sheet))
    assert [len(paper.placed) for paper in papers] == [9, 3]
    assert papers[1].placed[0].page == pair[0]
    assert papers[1].placed[1].page == pair[1]
    assert slots_needed([*singles, *pair, other("last")], sheet, Job()) == 13


@pytest.mark.parametrize(("skip", "counts"), [(7, [2, 2]), (8, [2, 2]), (9, [4])])
def test_after_skipped_slots_a_pair_stays_whole(skip: int, counts: list[int]) -> None:
    sheet = read_sheet("a4-74x52")
    pages = [*paired(BORATE).pages, *paired(CARBONATE).pages]
    papers = list(impose(pages, sheet, Job(skip=skip)))
    assert [len(paper.placed) for paper in papers] == counts
    for paper in papers:
        first = [placed.page.with_next for placed in paper.placed]
        assert first == [True, False] * (len(first) // 2)


def test_copies_of_a_pair_stay_pairs() -> None:
    sheet = read_sheet("a4-74x52")
    papers = list(impose(paired(BORATE).pages, sheet, Job(skip=3, copies=4)))
    assert [len(paper.placed) for paper in papers] == [6, 2]
    assert all(paper.placed[0].page.with_next for paper in papers)


def test_a_misfit_names_the_pair_where_it_would_do() -> None:
    text = replace(BORATE, volume_mL=Decimal(250))
    with pytest.raises(Misfit, match=r"Use --layout tall, .*; or pair, two labels"):
        fit(text, layout_named("small"), profile="room", mono=False, keyline=True)
    text = replace(PYROGALLOL, part=None)
    with pytest.raises(Misfit) as refused:
        fit(text, layout_named("small"), profile="room", mono=False, keyline=True)
    assert "pair" not in str(refused.value)
