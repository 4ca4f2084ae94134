"""The frozen record: plain JSON, from which the same words come back."""

import json
from datetime import date, datetime
from typing import Any

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput, ShelfError
from labelkit.mixing.bottle_text import bottle_texts_for
from labelkit.mixing.keeping import keep
from labelkit.mixing.kept_stock import stock_from
from labelkit.mixing.page_text import page_text_for
from labelkit.mixing.ports import Record
from labelkit.mixing.record import bottle_texts, page_text
from labelkit.mixing.working import as_stock
from tests.conftest import SAMPLES
from tests.mixing.conftest import NUMBER, Room

NAMES = sorted(path.stem for path in (SAMPLES / "recipes").glob("*.toml"))


def kept(room: Room, name: str, *weighed: str, **how: Any) -> Record:
    batch = room.mix(room.sample(name), *weighed, **how)
    return keep(
        batch,
        room.handbook(batch.plan.recipe),
        room.settings,
        layout_for=lambda words: "tall" if words.volume_mL > 100 else "",
        chemicals=[{"id": "table-of-a-chemical"}],
        choices={"borax": "borax-decahydrate"},
    )


def thawed(record: Record) -> Record:
    """As it comes back from text."""
    return replace(record, data=json.loads(json.dumps(record.data, allow_nan=False)))


@pytest.mark.parametrize("name", NAMES)
def test_the_words_of_a_label_and_a_page_come_back(
    tern_street: Room, name: str
) -> None:
    batch = tern_street.mix(tern_street.sample(name), use="all")
    handbook = tern_street.handbook(batch.plan.recipe)
    record = thawed(kept(tern_street, name, use="all"))
    settings = tern_street.settings
    assert bottle_texts(record) == bottle_texts_for(batch, handbook, settings)
    assert page_text(record) == page_text_for(batch, handbook, settings)


def test_a_record_says_what_it_is_of(tern_street: Room) -> None:
    record = kept(tern_street, "borate-alkali", into="2x250 mL", by="R. Amara")
    assert (record.number, record.recipe) == (NUMBER, "borate-alkali")
    assert record.title == "Borate alkali stock"
    assert record.made_by == "R. Amara"
    assert record.mixed_on == tern_street.noon
    assert (record.discard_after, record.bottles) == ("2032-03-14", 2)


def test_the_recipe_is_kept_as_its_file_was(tern_street: Room) -> None:
    recipe = kept(tern_street, "film-developer").data["recipe"]
    file = SAMPLES / "recipes" / "film-developer.toml"
    assert recipe["document"] == file.read_text("utf-8")
    assert recipe["revision"] == "4"
    assert recipe["choices"] == {"borax": "borax-decahydrate"}


def test_entries_rules_and_layouts_are_kept(tern_street: Room) -> None:
    record = kept(tern_street, "borate-alkali", into="300 mL, 100 mL")
    assert record.data["chemicals"] == [{"id": "table-of-a-chemical"}]
    assert record.data["layouts"] == ["tall", ""]
    assert date.fromisoformat(record.data["rules"]).year >= 2026


def test_a_batch_pours_what_was_really_weighed(tern_street: Room) -> None:
    batch = tern_street.mix(tern_street.sample("pyro-a"), "pyrogallol=20g")
    stock = stock_from(thawed(kept(tern_street, "pyro-a", "pyrogallol=20g")))
    assert stock.batch == NUMBER
    assert stock.part == "A"
    assert stock.ledger == as_stock(batch.plan).ledger
    assert stock.ledger.present_g("pyrogallol") == 20
    assert stock.discard_after == date(2031, 9, 14)


def test_a_bath_that_keeps_for_hours_keeps_its_hour(tern_street: Room) -> None:
    stock = stock_from(thawed(kept(tern_street, "pyro-working")))
    assert stock.discard_after == datetime.fromisoformat("2031-03-14T13:00")


def test_what_was_made_by_mass_is_not_poured(room: Room) -> None:
    planned = room.plan(
        """
        title = "Bag"
        makes = "100 g"
        [[step]]
        add = "sodium-carbonate-anhydrous"
        amount = "100 g"
        """
    )
    record = keep(
        room.mix(planned),
        room.books,
        room.settings,
        layout_for=lambda words: "",
        chemicals=[],
        choices={},
    )
    with pytest.raises(ShelfError) as caught:
        stock_from(record)
    assert str(caught.value) == (
        f"{NUMBER} was made by mass, so no mL of it can be poured. "
        "Name a batch of a solution."
    )


@pytest.mark.parametrize(
    "words",
    [
        {},
        {"bottles": [{"name": 5}], "page": {"name": {"of": "later"}}},
        {"bottles": {"1": None}, "page": None},
    ],
)
def test_words_of_a_form_that_is_not_known_are_refused_in_a_line(
    tern_street: Room, words: dict[str, Any]
) -> None:
    record = kept(tern_street, "borate-alkali")
    unreadable = replace(record, data=record.data | {"words": words})
    for read in (bottle_texts, page_text):
        with pytest.raises(BadInput, match=f"batch {NUMBER} was kept with cannot be"):
            read(unreadable)
