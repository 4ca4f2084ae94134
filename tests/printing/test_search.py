"""What is kept of one bottle for the next never changes how a bottle is set."""

from collections.abc import Iterable, Iterator
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText
from labelkit.printing import search
from labelkit.printing.decisive import decisive
from labelkit.printing.fit import Placement
from labelkit.printing.label import place_label
from labelkit.printing.layouts import Layout, built_in, layout_named
from labelkit.printing.pdf import draw
from labelkit.printing.search import forget
from tests.printing.label_texts import (
    BORATE,
    BROMIDE,
    CARBONATE,
    DEVELOPER,
    HOST,
    PYROGALLOL,
)

TEXTS = (BORATE, BROMIDE, CARBONATE, DEVELOPER, PYROGALLOL)
NAMES = (
    "Borate stock",
    "Iii",
    "WWWW MMMM WWWW",
    "Sodium metaborate tetrahydrate",  # says the substance of the headline
    "A weak alkaline bath for films of the room's own make and many more",
    "Dr. A. B. 5 g IF IN",
)
NUMBERS = ("7M3K-2QWX-Y", "WWWW-MMMM-W", "PR-1")
HEADLINES = ("20 mL = 1 g", "111 mL = 1 g", "9.4 mL = 0.1 g", "1 + 1 + 100")


def variants(text: BottleText) -> Iterator[BottleText]:
    for name, number, headline in product(NAMES, NUMBERS, HEADLINES):
        said = replace(text.headline, text=headline)
        code = f"{HOST}{number}"
        yield replace(text, name=name, number=number, headline=said, code=code)


def placed(text: BottleText, layout: Layout) -> Placement | str:
    try:
        return place_label(text, layout=layout, settings=Settings())
    except Misfit as misfit:
        return str(misfit)


def printed(placements: Iterable[Placement | str]) -> list[bytes]:
    pages = [one.pages for one in placements if isinstance(one, Placement)]
    return [draw(p, title="", author="", subject="", tagged=False) for p in pages]


@pytest.mark.parametrize("name", ["small", "tall", "wrap", "tag"])
@pytest.mark.parametrize("text", [BORATE, BROMIDE, DEVELOPER], ids=lambda t: t.name)
def test_a_label_is_the_same_alone_and_in_any_order(
    text: BottleText, name: str
) -> None:
    layout, bottles = layout_named(name), list(variants(text))[::9]
    alone = []
    for one in bottles:
        forget()
        alone.append(placed(one, layout))
    forget()
    in_order = [placed(one, layout) for one in bottles]
    forget()
    turned = [placed(one, layout) for one in reversed(bottles)][::-1]
    assert in_order == alone
    assert turned == alone
    assert printed(in_order[:2]) == printed(turned[:2]) == printed(alone[:2])


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(TEXTS),
    st.sampled_from(built_in()),
    st.lists(
        st.tuples(
            st.text("Wil 0A.5g", max_size=30) | st.sampled_from(NAMES),
            st.text("0IMW-", max_size=14),
            st.sampled_from(HEADLINES) | st.from_regex(r"[1-9]{1,5} mL = [1-9] g\Z"),
        ),
        min_size=2,
        max_size=4,
    ),
)
def test_what_is_equal_in_all_that_decides_is_set_alike(
    text: BottleText, layout: Layout, said: list[tuple[str, str, str]]
) -> None:
    ways: dict[object, object] = {}
    for name, number, headline in said:
        one = replace(
            text,
            name=name,
            number=number,
            headline=replace(text.headline, text=headline),
        )
        searched = search._searched(one, layout, "room")
        way = "none" if isinstance(searched, Misfit) else searched
        assert ways.setdefault(decisive(one, layout), way) == way


@pytest.mark.parametrize("name", ["tall", "wrap", "large"])
def test_names_that_take_as_much_room_are_searched_for_once(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    searched: list[str] = []
    search_for = search._searched

    def counted(text: BottleText, layout: Layout, profile: str) -> object:
        searched.append(text.name)
        return search_for(text, layout, profile)

    monkeypatch.setattr(search, "_searched", counted)
    forget()
    for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ":
        placed(replace(BORATE, name=f"Stock {letter}"), layout_named(name))
    assert 1 <= len(searched) <= 4  # said beside the hazards in steps of half a mm
    forget()


# Bottles of one layout that differ in no more than is measured, and are set otherwise.
@pytest.mark.parametrize(
    ("text", "layout", "names", "headlines"),
    [
        # The room of the name beside the hazards.
        (PYROGALLOL, "wrap-low", ("Iii", "Borate stock"), ("1 mL = 1 g",) * 2),
        (CARBONATE, "wrap", ("Iii", "Borate stock"), ("11111 mL = 1 g",) * 2),
        # Whether the name says what the headline is about.
        (BROMIDE, "small", ("Iii", "Potassium bromide"), ("1 mL = 1 g",) * 2),
        # The figures of the headline.
        (BORATE, "wrap", ("Iii", "Iii"), ("1 mL = 1 g", "11111 mL = 1 g")),
        (BROMIDE, "wrap-low", ("Iii", "Iii"), ("1 mL = 1 g", "11111 mL = 1 g")),
        # The lines of the name.
        (BORATE, "tall", ("Iii", NAMES[4]), ("1 mL = 1 g",) * 2),
    ],
)
def test_what_is_measured_decides(
    text: BottleText,
    layout: str,
    names: tuple[str, str],
    headlines: tuple[str, str],
) -> None:
    bottles = [
        replace(text, name=name, headline=replace(text.headline, text=headline))
        for name, headline in zip(names, headlines, strict=True)
    ]
    alone = []
    for one in bottles:
        forget()
        alone.append(search.found(one, layout_named(layout), "room"))
    assert alone[0] != alone[1]
    forget()
    assert [search.found(b, layout_named(layout), "room") for b in bottles] == alone


@pytest.mark.parametrize("layout", built_in(), ids=lambda layout: layout.name)
def test_another_word_of_any_other_field_decides(layout: Layout) -> None:
    same = decisive(BORATE, layout)
    for changes in (
        {"contents": ()},
        {"made": "Mixed by hand."},
        {"strength": ("5 g/L",)},
        {"discard": "2040-01-01 12:00"},
        {"never_with": ""},
        {"emergency": ""},
        {"use_mark": "HOLD"},
        {"headline": replace(BORATE.headline, substance="borax")},
        {"headline": replace(BORATE.headline, text="1 + 9")},
        {"hazard": replace(BORATE.hazard, signal="WARNING")},
    ):
        assert decisive(replace(BORATE, **changes), layout) != same


def test_the_refusal_of_one_bottle_is_not_told_of_another() -> None:
    layout = layout_named("tall")
    forget()
    for name in ("X" * 60, "Y" * 60):
        with pytest.raises(Misfit, match=f"'{name[:30]}"):
            place_label(replace(BORATE, name=name), layout=layout, settings=Settings())
