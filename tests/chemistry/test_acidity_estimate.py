"""When a pH is estimated, how wide its band is, and when there is none."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.chemistry.acid_roles import Solute
from labelkit.chemistry.acidity import Estimate, estimate_ph
from labelkit.chemistry.refusal import Refusal
from labelkit.chemistry.substances import State, Substance
from labelkit.files.acidity import read_acidity

TABLE = read_acidity()
KNOWN = sorted(TABLE.roles)


def mixed(**molality: float) -> list[Solute]:
    return [Solute(name.replace("_", "-"), c) for name, c in molality.items()]


def estimated(solutes: list[Solute], at_C: float = 25) -> Estimate:
    told = estimate_ph(solutes, TABLE, at_C)
    assert isinstance(told, Estimate), told
    return told


def refused(solutes: list[Solute]) -> str:
    told = estimate_ph(solutes, TABLE)
    assert isinstance(told, Refusal), told
    return told.reason


def band(told: Estimate) -> float:
    assert told.high - told.value == pytest.approx(told.value - told.low)
    return round(told.high - told.value, 6)


@pytest.mark.parametrize(
    ("lye", "expected"),
    # band by ionic strength, which lye alone gives exactly
    [(0.0999, 0.05), (0.1001, 0.1), (0.4999, 0.1), (0.5001, 0.3), (1.4999, 0.3)],
)
def test_the_band_widens_with_the_ionic_strength(lye: float, expected: float) -> None:
    told = estimated(mixed(sodium_hydroxide=lye))
    assert told.ionic_strength == pytest.approx(lye, abs=1e-6)
    assert band(told) == expected
    assert not told.unbuffered


def test_there_is_no_number_above_an_ionic_strength_of_1_5() -> None:
    assert "ionic strength 1.5" in refused(mixed(sodium_hydroxide=1.5001))


@pytest.mark.parametrize(
    ("sulfite", "expected"),
    [(0.1, 0.3), (0.3, 0.4)],  # ionic strengths 0.4 and 1.1
)
def test_sulfite_has_a_band_of_its_own(sulfite: float, expected: float) -> None:
    parts = mixed(sodium_sulfite_anhydrous=sulfite, sodium_metabisulfite=sulfite / 2)
    assert band(estimated(parts)) == expected


def test_sulfite_that_does_not_decide_leaves_the_band_alone() -> None:
    parts = mixed(
        borax_decahydrate=0.02, sodium_hydroxide=0.02, sodium_sulfite_anhydrous=0.003
    )
    assert band(estimated(parts)) == 0.05


@pytest.mark.parametrize(
    "parts",
    [
        mixed(potassium_bromide=0.1),
        mixed(trisodium_citrate_dihydrate=0.1),
        mixed(ammonium_chloride=0.1),
        mixed(sodium_acetate_trihydrate=0.1),
        mixed(boric_acid=0.1),
        mixed(water=55.5),
        [],
    ],
    ids=["bromide", "citrate", "ammonium", "acetate", "boric acid", "water", "nothing"],
)
def test_what_holds_no_ph_has_no_number(parts: list[Solute]) -> None:
    assert refused(parts).startswith("almost unbuffered")


def test_metaborate_at_the_exact_point_is_told_with_a_warning() -> None:
    told = estimated(mixed(sodium_metaborate_tetrahydrate=0.2))
    assert told.unbuffered
    assert band(told) == 0.5
    assert any(note.startswith("almost unbuffered") for note in told.notes)


def test_bicarbonate_alone_is_told_with_a_warning() -> None:
    told = estimated(mixed(sodium_bicarbonate=0.1))
    assert told.unbuffered
    assert band(told) == 0.5
    assert "loses carbon dioxide to the air, and the pH rises" in told.notes


@pytest.mark.parametrize(
    "parts",
    [
        mixed(borax_decahydrate=0.05, sodium_hydroxide=0.1),
        mixed(sodium_metaborate_tetrahydrate=0.2),
        mixed(boric_acid=0.2, sodium_hydroxide=0.2),
    ],
    ids=["declared by nobody", "as formed", "from the acid"],
)
def test_a_solution_has_one_ph_however_it_is_described(parts: list[Solute]) -> None:
    told = estimated(parts)
    assert told.value == pytest.approx(11.156, abs=0.001)
    assert band(told) == 0.5


def test_every_estimate_says_what_it_assumes() -> None:
    told = estimated(mixed(borax_decahydrate=0.01))
    assert told.notes == ("closed to air, pure reagents, everything dissolved",)


def test_where_a_constant_is_known_at_25_only_the_answer_is_for_25() -> None:
    parts = mixed(ascorbic_acid=0.1, sodium_bicarbonate=0.002)
    told = estimated(parts, at_C=35)
    assert told.at_C == 25
    assert told.value == estimated(parts).value
    assert "for 25 °C: not every constant is known at 35 °C" in told.notes


@pytest.mark.parametrize(
    ("borax", "at_C"),
    # of the boron, polymers hold 3 % at 0.01 mol/kg and 21 % at 0.1
    [(0.01, 15), (0.1, 25)],
)
def test_borate_polymers_keep_a_strong_borax_at_25(borax: float, at_C: float) -> None:
    assert estimated(mixed(borax_decahydrate=borax), at_C=15).at_C == at_C


@pytest.mark.parametrize(
    ("asked", "answered"), [(0, 0), (60, 60), (60.1, 25), (-1, 25)]
)
def test_temperatures_reach_from_0_to_60(asked: float, answered: float) -> None:
    parts = mixed(sodium_carbonate_anhydrous=0.02, sodium_bicarbonate=0.02)
    assert estimated(parts, asked).at_C == answered


@pytest.mark.parametrize(
    ("parts", "why"),
    [
        (mixed(metol=0.02, sodium_carbonate_anhydrous=0.1), "metol"),
        (mixed(hydroquinone=0.05, sodium_carbonate_anhydrous=0.3), "hydroquinone"),
        (mixed(pyrogallol=0.05, sodium_hydroxide=0.1), "pyrogallol"),
        (mixed(pyrocatechol=0.05, sodium_hydroxide=0.1), "pyrocatechol"),
        (mixed(ferric_ammonium_oxalate_trihydrate=0.1), "ferric iron"),
        (mixed(ferric_oxalate_hydrate=0.1, oxalic_acid_dihydrate=0.05), "ferric iron"),
        (mixed(ferric_oxalate_hydrate=0.01, edta_tetrasodium=0.03), "ferric iron"),
        (mixed(potassium_alum_dodecahydrate=0.03, acetic_acid_28pct=0.1), "aluminium"),
        (mixed(chrome_alum_dodecahydrate=0.03, sodium_acetate_trihydrate=0.1),
         "chromium"),
        (mixed(copper_sulfate_pentahydrate=0.1, citric_acid_monohydrate=0.1), "copper"),
        (mixed(potassium_dichromate=0.1, sodium_hydroxide=0.1), "dichromate"),
        (mixed(borax_decahydrate=0.05, glycerol=0.1), "glycerol"),
        (mixed(borax_decahydrate=0.05, tartaric_acid=0.02), "tartaric acid"),
        (mixed(sodium_hypochlorite_household=0.1, sodium_hydroxide=0.1), "bleach"),
        ([Solute("gelatin", None), *mixed(borax_decahydrate=0.05)], "gelatin"),
        ([Solute("ferric-ammonium-citrate-green", None)], "ferric ammonium citrate"),
        (mixed(sodium_thiosulfate_pentahydrate=0.2, acetic_acid_28pct=0.1),
         "thiosulfate breaks up in acid"),
        (mixed(sodium_carbonate_anhydrous=0.1, citric_acid_anhydrous=0.05),
         "carbon dioxide"),
        (mixed(ethanol=2.1, sodium_hydroxide=0.1), "too concentrated in ethanol"),
        ([Solute("sodium-hydroxide", None)], "in mol is not known"),
        (mixed(sodium_hydroxide=1e9), "too concentrated"),
    ],
)  # fmt: skip
def test_what_cannot_be_reckoned_is_refused_with_its_reason(
    parts: list[Solute], why: str
) -> None:
    assert why in refused(parts)


def test_what_no_ph_can_balance_is_refused() -> None:
    acid = [Solute("hydrochloric-acid-37pct", 2.0)] * 100
    assert refused(acid) == "the charges of the solution could not be balanced"


def test_a_strong_oxidiser_and_a_reducer_are_no_solution() -> None:
    oxidiser = Solute("potassium-permanganate", 0.01, tags=frozenset({"permanganate"}))
    reducer = Solute("sodium-sulfite-anhydrous", 0.1, tags=frozenset({"reducer"}))
    assert "react with each other" in refused([reducer, oxidiser])


@pytest.mark.parametrize(
    "parts",
    [
        mixed(glycerol=0.1, sodium_carbonate_anhydrous=0.05),
        mixed(tartaric_acid=0.05, sodium_hydroxide=0.05),
        mixed(thiourea=0.1, sodium_hydroxide=0.1),
        mixed(sodium_thiosulfate_pentahydrate=0.1, borax_decahydrate=0.01),
        mixed(ethanol=1.9, sodium_hydroxide=0.1),
        mixed(pyrocatechol=0.01, acetic_acid_28pct=0.1, sodium_acetate_trihydrate=0.1),
    ],
)
def test_what_takes_no_part_does_not_stand_in_the_way(parts: list[Solute]) -> None:
    assert 1 < estimated(parts).value < 13


def test_a_trace_of_a_developing_agent_is_counted_and_said() -> None:
    parts = mixed(sodium_carbonate_anhydrous=0.1, phenidone=0.0005)
    told = estimated(parts)
    assert "a trace, known only roughly: phenidone" in told.notes
    bare = estimated(mixed(sodium_carbonate_anhydrous=0.1))
    assert band(bare) < band(told) <= band(bare) + 0.05


def test_more_than_a_trace_is_what_may_move_the_ph_by_over_0_05() -> None:
    soda = 0.1

    def with_phenidone(c: float) -> Estimate | Refusal:
        parts = mixed(sodium_carbonate_anhydrous=soda, phenidone=c)
        return estimate_ph(parts, TABLE)

    low, high = 0.0, 0.1
    while high - low > 1e-5:
        middle = (low + high) / 2
        if isinstance(with_phenidone(middle), Estimate):
            low = middle
        else:
            high = middle
    last = with_phenidone(low)
    assert isinstance(last, Estimate)
    bare = estimated(mixed(sodium_carbonate_anhydrous=soda))
    assert band(last) - band(bare) == pytest.approx(0.05, abs=0.001)


@settings(max_examples=15, deadline=None)
@given(st.dictionaries(st.sampled_from(KNOWN), st.floats(1e-6, 1), max_size=4))
def test_an_unknown_ingredient_gives_no_number(known: dict[str, float]) -> None:
    parts = [Solute(name, c) for name, c in known.items()]
    stranger = Solute("a-dye-of-our-own", 1e-9, name="a dye of our own")
    assert "a dye of our own" in refused([*parts, stranger])


@settings(max_examples=15, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(KNOWN), st.floats(1e-4, 0.2), min_size=1, max_size=4
    )
)
def test_the_order_of_reagents_does_not_matter(known: dict[str, float]) -> None:
    parts = [Solute(name, c) for name, c in known.items()]
    assert estimate_ph(parts[::-1], TABLE) == estimate_ph(parts, TABLE)


@settings(max_examples=15, deadline=None)
@given(st.floats(0.002, 0.15), st.floats(0, 0.3), st.floats(1e-6, 0.05))
def test_more_lye_never_lowers_the_estimate(
    borax: float, lye: float, more: float
) -> None:
    less = estimated(mixed(borax_decahydrate=borax, sodium_hydroxide=lye))
    told = estimated(mixed(borax_decahydrate=borax, sodium_hydroxide=lye + more))
    assert told.value > less.value


def test_what_is_not_there_is_not_asked_about() -> None:
    parts = [*mixed(borax_decahydrate=0.01), Solute("a-dye-of-our-own", 0.0)]
    assert estimated(parts).value == pytest.approx(9.183, abs=0.002)


def test_an_own_form_is_known_by_its_parent() -> None:
    own = Substance(
        "borax-from-the-attic",
        ("attic borax",),
        "sodium-tetraborate",
        State.SOLID,
        parent_units=2,
    )
    told = estimated([Solute.of(own, 0.005)])
    assert told.value == estimated(mixed(borax_decahydrate=0.01)).value
