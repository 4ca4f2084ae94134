"""Versions of one recipe: what adds up, which hydrate was meant, which is thinner."""

from decimal import Decimal

import pytest

from labelkit.errors import BadInput
from labelkit.files.recipes import read_recipe
from labelkit.mixing.comparing import Comparison, Version, compare
from labelkit.mixing.comparing_text import verdicts
from tests.conftest import SAMPLES
from tests.mixing.conftest import Room

NAMES = ("bench-book", "newsletter", "one-to-five", "wall-card")


def compared(room: Room, *texts: str) -> Comparison:
    plans = [room.plan(room.recipe(t, f"v{n}")) for n, t in enumerate(texts, start=1)]
    return compare(plans, room.plan, room.books.catalogue)


@pytest.fixture(scope="session")
def samples(room: Room) -> Comparison:
    catalogue = room.books.catalogue
    files = [SAMPLES / "compare" / f"borate-{name}.toml" for name in NAMES]
    plans = [room.plan(read_recipe(file, catalogue)) for file in files]
    return compare(plans, room.plan, catalogue)


def version(comparison: Comparison, name: str) -> Version:
    return next(v for v in comparison.versions if v.recipe.name.endswith(name))


def carried(one: Version) -> Decimal:
    return one.carried["sodium-metaborate-tetrahydrate"]


def test_the_proportions_of_the_mailing_lists_add_up(samples: Comparison) -> None:
    # 69.16 g + 14.50 g make 100 g (public lists, 1999; case B-mb-02)
    book = version(samples, "bench-book")
    assert carried(book) == pytest.approx(100, abs=Decimal("0.1"))
    assert book.adds_up
    assert samples.versions[samples.measure] is book


def test_crystal_water_counted_twice_shows_as_a_thinner_solution(
    samples: Comparison,
) -> None:
    # 45.5 g + 9.5 g for 100 g: NaBO2.8H2O (209.92) was read for NaBO2.4H2O (137.86)
    thin = version(samples, "newsletter")
    assert thin.adds_up
    assert thin.thinner == pytest.approx(
        Decimal("137.86") / Decimal("209.92"), abs=Decimal("0.005")
    )
    assert thin.off == pytest.approx(Decimal("-0.344"), abs=Decimal("0.003"))
    assert thin.reading is None


def test_one_to_five_leaves_borax_over(samples: Comparison) -> None:
    # 25 g of lye use up 0.3125 mol of borax, 119.2 g of the 125 g: 4.6 % stay
    (left,) = version(samples, "one-to-five").leftovers
    assert left.chemical == "borax-decahydrate"
    assert left.g_per_L == pytest.approx(Decimal("5.82"), abs=Decimal("0.02"))
    assert left.percent == pytest.approx(Decimal("4.65"), abs=Decimal("0.02"))


def test_the_form_that_was_meant_is_found(samples: Comparison) -> None:
    # 52.8 g of the pentahydrate do the work of 69.1 g of the decahydrate (0.764)
    card = version(samples, "wall-card")
    assert not card.adds_up
    assert not card.agrees
    assert card.reading is not None
    assert (card.reading.out, card.reading.into) == (
        "borax-decahydrate",
        "borax-pentahydrate",
    )
    assert card.reading.g_per_L == pytest.approx(
        carried(samples.versions[0]), rel=Decimal("0.01")
    )


def test_the_verdicts_say_so_in_words(samples: Comparison, room: Room) -> None:
    said = dict(zip(NAMES, verdicts(samples, room.books.catalogue), strict=True))
    assert said["bench-book"] == (
        "borate-bench-book: 100 g/L sodium metaborate tetrahydrate. It adds up (0.1 % "
        "over). The others are measured by it."
    )
    assert "It is 34 % weaker than borate-bench-book." in said["newsletter"]
    assert "made up to about 660 mL instead of 1 L" in said["newsletter"]
    assert "It leaves 5.8 g/L of borax decahydrate over (4.6 %)" in said["one-to-five"]
    assert said["wall-card"].endswith("the pentahydrate was most likely meant.")
    assert "17 g/L more of borax decahydrate would use it up" in said["wall-card"]


def developer(carbonate: str, grams: str, makes: str = "1 L") -> str:
    return (
        f'title = "D"\nmakes = "{makes}"\n[[step]]\nadd = "water"\namount = "200 mL"\n'
        f'[[step]]\nadd = "{carbonate}"\namount = "{grams} g"\n'
        '[[step]]\nadd = "potassium-bromide"\namount = "2 g"\n'
        f'[[step]]\nmake_up_to = "{makes}"\n'
    )


ANHYDROUS, MONO = "sodium-carbonate-anhydrous", "sodium-carbonate-monohydrate"


def test_forms_that_carry_the_same_agree(room: Room) -> None:
    # the published factor 1.17
    comparison = compared(room, developer(ANHYDROUS, "50"), developer(MONO, "58.5"))
    assert all(v.agrees for v in comparison.versions)
    said = verdicts(comparison, room.books.catalogue)
    assert said[1].startswith("v2: 2 chemicals per litre. It agrees with v1")


def test_without_a_reaction_the_form_that_was_meant_is_found_too(room: Room) -> None:
    comparison = compared(
        room,
        developer(ANHYDROUS, "50"),
        developer(MONO, "58.5"),
        developer(ANHYDROUS, "58.5"),
    )
    odd = comparison.versions[2]
    assert not odd.agrees
    assert odd.reading is not None
    assert odd.reading.into == MONO


def test_three_per_cent_still_agrees_and_a_little_more_does_not(room: Room) -> None:
    def off(grams: str) -> bool:
        hundred = developer(ANHYDROUS, "100")
        return compared(room, hundred, developer(ANHYDROUS, grams)).versions[1].agrees

    assert off("103")
    assert not off("103.1")
    assert off("97")
    assert not off("96.9")


def test_another_volume_is_the_same_recipe(room: Room) -> None:
    half = developer(ANHYDROUS, "25", "500 mL").replace('"2 g"', '"1 g"')
    comparison = compared(room, developer(ANHYDROUS, "50"), half)
    assert comparison.versions[1].off == 0


def test_what_only_one_version_holds_is_named(room: Room) -> None:
    more = developer(ANHYDROUS, "50").replace(
        "[[step]]\nmake_up_to", '[[step]]\nadd = "metol"\namount = "2 g"\n'
        "[[step]]\nmake_up_to"
    )  # fmt: skip
    comparison = compared(room, developer(ANHYDROUS, "50"), more)
    judged = comparison.versions[1 - comparison.measure]
    assert not judged.agrees
    assert "metol" in " ".join(verdicts(comparison, room.books.catalogue))


def test_a_dry_mixture_has_no_litre(room: Room) -> None:
    dry = 'title = "Dry"\nmakes = "10 g"\n[[step]]\nadd = "metol"\namount = "10 g"\n'
    with pytest.raises(BadInput) as caught:
        compared(room, dry, developer(ANHYDROUS, "50"))
    assert str(caught.value) == (
        "v1 is a dry mixture, so it has no strength per litre. Compare recipes that "
        "make a volume."
    )
