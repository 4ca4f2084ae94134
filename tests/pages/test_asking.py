"""What a live page is asked, and what it answers: doses and quantities."""

import pytest

from labelkit.pages.answering import answer
from labelkit.pages.asked import Asked
from labelkit.pages.site import Site
from labelkit.shelf import SqliteShelf
from tests.pages.print_room import BATH, BORATE, BROMIDE, happened
from tests.pages.reading import Outline, outline


def page(live: Site, path: str, **query: str) -> Outline:
    given = answer(live, Asked(path, query))
    assert given.status == 200
    found = outline(given.body)
    assert found.faults == []
    return found


def field(found: Outline, name: str) -> dict[str, str | None]:
    (attributes,) = (
        a for tag, a in found.tags if tag == "input" and a.get("name") == name
    )
    return attributes


def test_grams_wanted_are_answered_beside_the_field(live: Site) -> None:
    found = page(live, f"B/{BORATE}", g="3")
    # 3 g at 20.003 mL a gram
    assert "Grams wanted = 60 mL" in found.text
    assert field(found, "g")["value"] == "3"


def test_mL_poured_are_answered_in_grams(live: Site) -> None:
    assert "mL poured = 3 g" in page(live, f"B/{BORATE}", mL="60").text


@pytest.mark.parametrize("text", ["abc", "-1", "0", "1e99", "1,000", "<i>", "3 mg"])
def test_a_fault_stands_at_its_field_which_keeps_what_was_written(
    live: Site, text: str
) -> None:
    found = page(live, f"B/{BORATE}/AND-A-TAIL", g=text)
    assert f"'{text}" in found.text or "1E+99" in found.text
    assert "Write" in found.text
    assert field(found, "g")["value"] == text
    assert field(found, "g")["aria-invalid"] == "true"
    assert "aria-invalid" not in field(found, "mL")


def test_every_field_has_a_label_and_a_button(live: Site) -> None:
    found = page(live, f"B/{BORATE}")
    ids = [str(a["id"]) for tag, a in found.tags if tag == "input"]
    assert sorted(found.values("for")) == sorted([*ids, *ids])  # label and output
    assert found.count("button") == found.count("form") == len(ids) == 2


def test_where_there_is_no_equivalence_nothing_is_asked(live: Site) -> None:
    assert page(live, f"B/{BATH}", g="3").count("form") == 0


def test_a_kept_page_shows_the_fields_only_once_a_script_has_run(site: Site) -> None:
    found = outline(site.batch(BORATE, "../../"))
    (part,) = (a for _, a in found.tags if a.get("class") == "pour")
    assert "hidden" in part
    # 5 times 20.003
    assert "5 g 100 mL" in found.text


def test_live_pages_lead_to_the_log_the_label_and_the_plan(live: Site) -> None:
    assert f"../log/{BORATE}" in page(live, f"B/{BORATE}").values("href")
    assert f"../label/{BORATE}.pdf" in page(live, f"B/{BORATE}").values("href")
    assert "../plan/borate-alkali" in page(live, "R/borate-alkali").values("href")


def test_kept_pages_do_not(site: Site) -> None:
    hrefs = outline(site.batch(BORATE, "../")).values("href")
    hrefs += outline(site.recipe("borate-alkali", "../") or b"").values("href")
    assert not [h for h in hrefs if "log/" in h or "label/" in h or "plan/" in h]


def test_a_recipe_is_worked_out_for_the_quantity_asked(live: Site) -> None:
    found = page(live, "R/borate-alkali", make="750 mL")
    assert "For 750 mL use a beaker" in found.text
    assert field(found, "make")["value"] == "750 mL"


@pytest.mark.parametrize(
    ("make", "says"),
    [
        ("3 pails", "'3 pails' has an unknown unit. Write one of: g, kg"),
        ("1,000 mL", "'1,000 mL' can be read in two ways."),
        ("much", "'much' does not start with a number."),
        ("0 mL", "'0 mL' is not more than 0."),
    ],
)
def test_a_quantity_that_cannot_be_read_leaves_the_usual_card(
    live: Site, make: str, says: str
) -> None:
    found = page(live, "R/borate-alkali", make=make)
    assert says in found.text
    assert field(found, "make")["aria-invalid"] == "true"
    assert "For 250 mL use a beaker of 500 mL. For 500 mL" in found.text


def test_a_recipe_page_is_read_out_as_a_page(live: Site) -> None:
    found = page(live, "R/borate-alkali")
    assert "Call and read out this page." in found.text
    assert "this card" not in found.text


def test_recipes_are_listed_by_name(live: Site) -> None:
    for path in ("R", "r/", "R/index.html"):
        assert "borate-alkali" in page(live, path).text
    assert "R/BORATE-ALKALI/index.html" in page(live, "R").values("href")


def test_a_mark_of_who_may_use_it_comes_first(live: Site) -> None:
    text = page(live, f"B/{BORATE}").text
    assert text.index("ASK M. Osei") < text.index("20 mL = 1 g")


def test_what_happened_to_the_bottle_is_told(live: Site, shelf: SqliteShelf) -> None:
    shelf.append(happened("used", None, batch=BROMIDE, amount_mL="60"))
    found = page(live, f"B/{BROMIDE}")
    assert "How it stands" in found.text
    assert "used 60 mL by R. Lindqvist-Amara" in found.text


def test_the_second_vessel_is_called_as_on_a_card(live: Site) -> None:
    assert "In a second jug" in page(live, f"B/{BORATE}").text


def test_the_strength_is_told_with_how_well_it_is_known(live: Site) -> None:
    # the record's relative_u of 0.014
    assert (
        "50 g/L, known to ±1.4 % (standard uncertainty"
        in page(live, f"B/{BORATE}").text
    )
