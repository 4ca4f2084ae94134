"""Article 18(3): which ingredients a label names."""

from tests.hazards.making import chemical, measured, verdict


def test_irritants_and_water_hazards_are_not_named() -> None:
    found = verdict(
        (chemical("irritant", "Eye Irrit. 2", "Skin Irrit. 2"), "20"),
        (chemical("fish poison", "Aquatic Chronic 2"), "30"),
        ph=measured(7),
    )
    assert len(found.classes) == 3
    assert found.names == ()


def test_every_ingredient_that_reaches_a_class_alone_is_named() -> None:
    parts = [(chemical(name, "Carc. 1B"), "1") for name in ("one", "two", "three")]
    assert verdict(*parts).names == ("one", "three", "two")


def test_of_a_sum_only_the_main_contributors_are_named() -> None:
    big, small = chemical("big", "Eye Dam. 1"), chemical("small", "Eye Dam. 1")
    assert verdict((big, "5"), (small, "1"), ph=measured(7)).names == ("big",)
    assert verdict((big, "2"), (small, "1"), ph=measured(7)).names == ("big", "small")


def test_at_most_four_are_named_as_long_as_every_class_has_one() -> None:
    parts = [(chemical(f"c{n}", "Carc. 1B"), "1") for n in range(6)]
    assert len(verdict(*parts).names) == 4
    classes = [
        "Carc. 1B", "Muta. 1B", "Resp. Sens. 1", "STOT RE 1", "Acute Tox. 3 (oral)",
    ]  # fmt: skip
    each = [(chemical(one, one), "15") for one in classes]
    assert set(verdict(*each).names) == set(classes)


def test_the_most_severe_cause_stands_first() -> None:
    mild, severe = chemical("a mild", "Skin Sens. 1"), chemical("z severe", "Carc. 1B")
    assert verdict((mild, "2"), (severe, "1")).names == ("z severe", "a mild")
