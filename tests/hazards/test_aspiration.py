"""Annex I, 3.10.3.3.1: 10 % by sum, each ingredient from 1 % on."""

from tests.hazards.making import chemical, limit, verdict

ONE, TWO = chemical("one", "Asp. Tox. 1"), chemical("two", "Asp. Tox. 1")


def test_ten_percent_by_sum() -> None:
    assert verdict((ONE, "10")).classes == ("Asp. Tox. 1",)
    assert verdict((ONE, "9.99")).classes == ()
    assert verdict((ONE, "8.9"), (TWO, "1.1")).classes == ("Asp. Tox. 1",)
    assert verdict((ONE, "9.1"), (TWO, "0.99")).classes == ()


def test_an_own_limit_replaces_the_ten_percent() -> None:
    data = chemical("one", "Asp. Tox. 1", limits=(limit("Asp. Tox. 1", "5"),))
    assert verdict((data, "5")).classes == ("Asp. Tox. 1",)
    assert verdict((data, "4.99")).classes == ()


def test_an_unmeasured_viscosity_is_taken_as_low() -> None:
    said = [r.text for r in verdict((ONE, "10")).because]
    assert "viscosity not measured: taken as low, to be safe" in said
