"""The cover of a workshop's pack: whole, page after page, nothing on anything else."""

import pytest
from msgspec.structs import replace

from labelkit.errors import BadInput, Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.pack_text import PackText
from labelkit.printing.boxes import Page, Symbol
from labelkit.printing.workshop_cover import cover_layout, place_cover
from tests.printing.conftest import CheckGolden
from tests.printing.placed import (
    as_text,
    inks,
    overlaps,
    plain_spaces,
    white_lines_off_black,
    words_of,
)
from tests.printing.sheet_texts import COVER


def placed(text: PackText, settings: Settings | None = None) -> tuple[Page, ...]:
    return place_cover(text, settings=settings or Settings())


def require_sound(pages: tuple[Page, ...]) -> None:
    margin = cover_layout().margin
    for page in pages:
        assert overlaps(page) == []
        assert white_lines_off_black(page) == []
        for name, ink in inks(page):
            assert ink.left >= margin - 0.3, name
            assert ink.right <= page.width - margin + 0.1, name
            assert ink.bottom <= page.height - margin + 0.1, name
        assert "DO NOT DRINK" in words_of(page)


def test_a_cover_is_placed_as_it_was_before(check_golden: CheckGolden) -> None:
    check_golden("cards/workshop-cover", as_text(placed(COVER)))


@pytest.mark.parametrize("settings", [Settings(), Settings(mono=True)])
@pytest.mark.parametrize(
    "text",
    [
        COVER,
        replace(COVER, pictograms=(), signal=""),
        replace(COVER, emergency="", people="", note=""),
        replace(COVER, needed=COVER.needed * 20, tasks=COVER.tasks * 8),
    ],
)
def test_nothing_stands_on_anything_else(text: PackText, settings: Settings) -> None:
    require_sound(placed(text, settings))


def test_everything_is_said() -> None:
    (page,) = placed(COVER)
    told = words_of(page)
    for one in COVER.tasks:
        assert (
            plain_spaces(f"{one.what} {one.batches} {one.quantity} {one.whom}") in told
        )
    for need in COVER.needed:
        assert plain_spaces(f"{need.what} {need.amount} {need.jar}") in told
    for words in (COVER.title, COVER.about, COVER.people, COVER.holds, COVER.aid_full):
        assert words in told
    assert "First help Swallowed: rinse mouth." in told
    assert [b.code for b in page.boxes if isinstance(b, Symbol)] == ["GHS08"]


def test_a_long_list_goes_over_pages_and_none_of_it_is_lost() -> None:
    many = tuple(
        replace(COVER.needed[0], what=f"Chemical number {n}") for n in range(60)
    )
    pages = placed(replace(COVER, needed=many))
    assert len(pages) > 1
    told = " ".join(map(words_of, pages))
    assert all(f"Chemical number {n} " in told for n in range(60))


def test_a_list_of_a_hundred_people_is_set_in_lines() -> None:
    names = ", ".join(f"Person Number\u00a0{n}" for n in range(100))
    require_sound(placed(replace(COVER, people=f"100 people: {names}.")))


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"title": "A title " * 50}, "cover, name: "),
        ({"about": "A place " * 50}, "cover, place: "),
    ],
)
def test_words_that_do_not_fit_are_refused(changed: dict[str, str], told: str) -> None:
    with pytest.raises(Misfit, match=told):
        placed(replace(COVER, **changed))


def test_a_character_without_a_glyph_is_named() -> None:
    with pytest.raises(BadInput, match=r"title: the .*U\+05E9"):
        placed(replace(COVER, title="שלום"))
