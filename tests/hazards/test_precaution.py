"""Article 28 and Annex IV; how the six places are shared out is ours."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.hazards.classes import every_class
from labelkit.hazards.precaution import SAID_BY, choose_precautions

CALM = settings(derandomize=True, deadline=None)


@pytest.mark.parametrize(
    ("classes", "expected"),
    [
        # worked in words: pass 1 P260, P280, P273; pass 2 P314; P333+P313 takes the
        # place of P273
        (
            ["Skin Sens. 1", "STOT RE 2", "Aquatic Chronic 3"],
            ["P102", "P260", "P280", "P314", "P333+P313", "P501"],
        ),
        (
            ["Carc. 2", "Muta. 2", "Skin Sens. 1", "Eye Irrit. 2", "Aquatic Chronic 3"],
            ["P102", "P280", "P305+P351+P338", "P308+P313", "P333+P313", "P501"],
        ),
        (
            ["Muta. 2", "Eye Irrit. 2"],
            ["P102", "P202", "P280", "P305+P351+P338", "P308+P313", "P501"],
        ),
        (["Repr. 1B FD"], ["P102", "P202", "P280", "P308+P313", "P405", "P501"]),
        (["Eye Irrit. 2"], ["P102", "P280", "P305+P351+P338", "P337+P313", "P501"]),
        (
            ["Skin Corr. 1B", "Eye Dam. 1", "Aquatic Acute 1", "Aquatic Chronic 1"],
            [
                "P102", "P273", "P280", "P303+P361+P353", "P305+P351+P338+P310", "P501",
            ],
        ),
    ],
)  # fmt: skip
def test_the_places_are_shared_out_in_turn(
    classes: list[str], expected: list[str]
) -> None:
    assert list(choose_precautions(classes).codes) == expected


def test_nothing_is_said_of_no_class() -> None:
    assert choose_precautions([]).codes == ()


def test_for_the_trade_the_words_on_children_are_left_out() -> None:
    assert "P102" not in choose_precautions(["Eye Irrit. 2"], for_public=False).codes


def test_beyond_six_only_first_aid_is_added_and_counted() -> None:
    chosen = choose_precautions(
        ["Acute Tox. 3 (oral)", "Acute Tox. 3 (dermal)", "Acute Tox. 3 (vapour)",
         "Skin Corr. 1B", "Resp. Sens. 1", "Carc. 1B", "STOT RE 1", "Skin Sens. 1"]
    )  # fmt: skip
    assert chosen.beyond == len(chosen.codes) - 6 > 0
    aid = {code for code in chosen.codes if code.startswith("P3")}
    assert {"P301+P310", "P302+P352", "P304+P340", "P305+P351+P338+P310"} <= aid
    assert aid == set(chosen.codes) - {"P102", "P501"}


@pytest.mark.parametrize(
    ("classes", "gone"),
    [
        # Article 28(1)
        (["Skin Corr. 1B", "Skin Irrit. 2"], "P302+P352"),
        (["STOT RE 2", "Resp. Sens. 1"], "P261"),
        (["Acute Tox. 3 (oral)", "Acute Tox. 4 (oral)"], "P301+P312"),
    ],
)
def test_what_a_longer_statement_says_is_not_said_again(
    classes: list[str], gone: str
) -> None:
    codes = choose_precautions(classes).codes
    assert gone not in codes


@CALM
@given(st.lists(st.sampled_from(every_class()), max_size=8))
def test_no_label_says_more_than_six_but_for_first_aid(classes: list[str]) -> None:
    chosen = choose_precautions(classes)
    assert len(set(chosen.codes)) == len(chosen.codes)
    assert len(chosen.codes) - chosen.beyond <= 6
    if classes:
        assert {"P102", "P501"} <= set(chosen.codes)
    if chosen.beyond:
        rest = set(chosen.codes) - {"P102", "P501"}
        assert all(code.startswith("P3") for code in rest)


@CALM
@given(st.lists(st.sampled_from(every_class()), max_size=8))
def test_nothing_is_said_twice(classes: list[str]) -> None:
    codes = set(choose_precautions(classes).codes)
    assert all(
        not codes & set(longer) for code, longer in SAID_BY.items() if code in codes
    )


@CALM
@given(st.lists(st.sampled_from(every_class()), max_size=8), st.randoms())
def test_the_order_of_the_classes_never_matters(
    classes: list[str], chance: object
) -> None:
    mixed = list(classes)
    chance.shuffle(mixed)  # type: ignore[attr-defined]
    assert choose_precautions(mixed) == choose_precautions(classes)


@CALM
@given(st.lists(st.sampled_from(every_class()), max_size=8))
def test_workplace_statements_never_reach_a_home(classes: list[str]) -> None:
    codes = set(choose_precautions(classes).codes)
    assert not codes & {"P272", "P284", "P240", "P241", "P242", "P243"}
