"""The record page says everything that must be said, and only what was written."""

import re
from itertools import pairwise
from typing import Any

import pytest
from msgspec.structs import replace

from labelkit.mixing.ports import Event
from labelkit.mixing.said import AID_FULL
from labelkit.mixing.words import HazardText, Headline, PageText, Pictogram
from labelkit.pages.batch_page import batch_values
from labelkit.pages.frozen_page import call_for, frozen_page
from labelkit.pages.renderer import render
from tests.pages.print_room import (
    BATH_PAGE,
    BORATE,
    BORATE_PAGE,
    BROMIDE_PAGE,
    ROOM,
    happened,
    record,
)
from tests.pages.reading import Outline, outline

MARKUP = "<script>alert(\"1\")</script><b title='x'>&"


def body(page: PageText, *events: Event, **changed: Any) -> str:
    kept = record(page, changed.pop("discard_after", "2032-03-14"), **changed)
    frozen = frozen_page(kept, ROOM.emergency, live=False)
    values = batch_values(kept, frozen, events)
    usual = {
        "root": "../../",
        "recipe_folder": "",
        "language": "en",
        "room": ROOM.room,
        "live": False,
    }
    return render(frozen.template, **{**usual, **values})


def shown(page: PageText, *events: Event, **changed: Any) -> Outline:
    return outline(body(page, *events, **changed))


def everything_written(page: PageText) -> list[str]:
    """Every text of a page that a reader must find, by print-spec section 4."""
    hazard = page.hazard
    runs = [*hazard.none_reached, *page.first_words, *page.contents_sentence]
    runs += [run for sentence in hazard.precautions for run in sentence]
    runs += [run for row in page.steps for run in row.what]
    runs += [run for note in page.notes for run in note.text]
    return [
        page.name, page.number, page.headline.text, page.headline.substance,
        page.headline.hydrate, *page.strength, page.made, page.discard, page.off_when,
        hazard.signal, *(p.word for p in hazard.pictograms), hazard.alert,
        hazard.contains, *hazard.statements, *hazard.open_points, page.never_with,
        page.use_mark, page.emergency, page.aid_full, *(run.text for run in runs),
        *(w for weighing in page.weighings for w in (weighing.planned, weighing.read)),
        *(row.caution for row in page.steps),
        *(a.text for row in page.steps for a in row.amounts),
        *(part for c in page.handling for part in (c.term, c.text, c.source)),
        *page.equations, *page.remarks, *page.estimates,
        *(part for r in page.reasons for part in (r.hazard_class, r.text, r.rule)),
    ]  # fmt: skip


@pytest.mark.parametrize("page", [BORATE_PAGE, BATH_PAGE], ids=lambda page: page.recipe)
def test_every_word_of_the_record_is_on_the_page(page: PageText) -> None:
    text = shown(page).text
    missing = [w for w in everything_written(page) if " ".join(w.split()) not in text]
    assert missing == []


def test_it_says_do_not_drink_and_whom_to_call() -> None:
    page = shown(BORATE_PAGE)
    assert "DO NOT DRINK Call 01632 960 118" in page.text
    assert "tel:01632960118" in page.values("href")
    assert AID_FULL in page.text


def test_a_solution_without_a_class_is_not_called_safe() -> None:
    text = shown(BROMIDE_PAGE).text
    assert "No hazard class reached by calculation. This does not mean safe." in text
    assert "DO NOT DRINK" in text
    assert "Swallowed: rinse mouth." in text


def test_the_reading_order_is_that_of_the_label() -> None:
    # print-spec, section 4: name first, NEVER WITH the last above the foot
    text = shown(BORATE_PAGE).text
    order = [
        BORATE_PAGE.name, "20 mL = 1 g", "sodium metaborate", "2032-03-14", BORATE,
        "Health hazard", "DANGER", "pH not measured", "Contains borates.",
        "May damage fertility.", "IF exposed", "Swallowed:", "NEVER WITH",
        "DO NOT DRINK", "What is in it", "What was weighed", "Repr. 1B", "Borax stays",
        "The recipe as it was followed", "Storage", AID_FULL,
    ]  # fmt: skip
    places = [text.index(words) for words in order]
    assert places == sorted(places)


def test_what_was_not_read_is_said_to_be_planned() -> None:
    text = shown(BORATE_PAGE).text
    assert "1 Water 300 mL planned, not read" in text
    assert "2 Borax decahydrate 17.3 g 17.4 g" in text


def test_figures_stand_under_their_units() -> None:
    text = shown(BORATE_PAGE).text
    assert "Dissolved g/L mol/L % w/w borax decahydrate 0.026 – 0.00257" in text


def test_what_happened_since_is_added() -> None:
    events = (
        happened("opened", 1, discard_after="2031-10-01"),
        happened("discarded", 2, note="crystals"),
    )
    text = shown(BORATE_PAGE, *events).text
    assert "Discard bottle 1 after 2031-10-01 opened 2031-04-01" in text
    assert "Discarded: bottle 2." in text
    assert "discarded by R. Lindqvist-Amara crystals" in text


def test_a_batch_that_is_gone_says_so_in_place_of_its_date() -> None:
    text = shown(BORATE_PAGE, happened("discarded", None)).text
    assert "DISCARDED" in text
    assert "Discard after" not in text


def test_without_a_date_it_says_to_test() -> None:
    page = shown(BROMIDE_PAGE, discard_after=None)
    assert "No discard date known: test before use." in page.text
    assert page.values("data-discard") == []


def test_the_badge_knows_the_minute_where_it_keeps_for_hours() -> None:
    page = shown(BATH_PAGE, discard_after="2031-03-14 15:40")
    assert page.values("data-discard") == ["2031-03-14T15:40"]
    assert "Discard after 2031-03-14 15:40" in page.text


def test_markup_in_words_stays_words() -> None:
    hostile = replace(
        BORATE_PAGE,
        name=MARKUP,
        made=MARKUP,
        remarks=(MARKUP,),
        headline=Headline("equivalence", MARKUP, MARKUP),
        hazard=HazardText(MARKUP, (Pictogram("GHS08", MARKUP),), statements=(MARKUP,)),
    )
    events = [happened("used", note=MARKUP, by=MARKUP)]
    page = shown(hostile, *events)
    assert page.count("script") == shown(BORATE_PAGE).count("script") == 2
    assert page.text.count(MARKUP) >= 7
    assert page.faults == []


def test_a_pictogram_of_a_later_standard_still_has_its_word() -> None:
    later = HazardText("DANGER", (Pictogram("GHS10", "New hazard"),))
    assert "New hazard" in shown(replace(BORATE_PAGE, hazard=later)).text


@pytest.mark.parametrize("words", [{}, {"page": {}}, {"page": {"name": 1}}, None])
def test_words_that_cannot_be_read_leave_a_cautious_page(words: object) -> None:
    page = shown(BORATE_PAGE, data={"words": words})
    assert page.faults == []
    for must in (BORATE, "Borate alkali stock", "Treat as hazardous", "DO NOT DRINK",
                 "01632 960 118", "Swallowed: rinse mouth."):  # fmt: skip
        assert must in page.text


@pytest.mark.parametrize(
    ("number", "href"),
    [
        ("01632 960 118", "tel:01632960118"),
        ("+44 (1632) 960-118", "tel:+441632960118"),
        ("112 or the porter", ""),
        ("", ""),
        ("javascript:1", ""),
    ],
)
def test_only_a_telephone_number_becomes_a_link(number: str, href: str) -> None:
    assert call_for(number).href == href


def test_without_a_number_it_says_to_call_one_all_the_same() -> None:
    kept = record(replace(BORATE_PAGE, emergency=""), "2032-03-14")
    frozen = frozen_page(kept, "", live=False)
    values = batch_values(kept, frozen, [])
    usual = {"root": "", "recipe_folder": "", "language": "en", "room": ""}
    page = render(frozen.template, **values, **usual, live=False)
    assert "DO NOT DRINK Call your emergency number" in outline(page).text


@pytest.mark.parametrize("page", [BORATE_PAGE, BROMIDE_PAGE, BATH_PAGE])
def test_the_page_is_well_built(page: PageText) -> None:
    found = shown(page, happened("opened"))
    levels = [level for level, _ in found.headings]
    ids = found.values("id")
    assert found.faults == []
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert all(text.strip() for _, text in found.headings)
    assert len(ids) == len(set(ids))
    assert set(found.values("aria-labelledby")) <= set(ids)
    assert found.count("main") == found.count("footer") == 1
    assert found.title.startswith(page.name)


def test_every_table_cell_has_a_head() -> None:
    found = shown(BORATE_PAGE, happened("opened"))
    scopes = found.values("scope")
    assert found.count("th") == len(scopes)
    assert set(scopes) <= {"row", "col", "rowgroup"}


def test_no_element_brings_a_style_or_a_handler_of_its_own() -> None:
    names = {key for _, attributes in shown(BORATE_PAGE).tags for key in attributes}
    assert not {n for n in names if n == "style" or re.match("on[a-z]", n)}
