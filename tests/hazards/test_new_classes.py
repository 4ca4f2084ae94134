"""Delegated Regulation (EU) 2023/707; Table 3.11.2, the others from memory."""

import pytest

from tests.hazards.making import chemical, limit, verdict


@pytest.mark.parametrize(
    ("one", "at", "under", "code", "signal"),
    [
        ("ED HH 1", "0.1", "0.099", "EUH380", "Danger"),
        ("ED HH 2", "1", "0.99", "EUH381", "Warning"),
        ("ED ENV 1", "0.1", "0.099", "EUH430", "Danger"),
        ("ED ENV 2", "1", "0.99", "EUH431", "Warning"),
        ("PBT", "0.1", "0.099", "EUH440", "Danger"),
        ("vPvB", "0.1", "0.099", "EUH441", "Danger"),
        ("PMT", "0.1", "0.099", "EUH450", "Danger"),
        ("vPvM", "0.1", "0.099", "EUH451", "Danger"),
    ],
)
def test_the_new_classes_in_the_eu(
    one: str, at: str, under: str, code: str, signal: str
) -> None:
    data = chemical("agent", one)
    found = verdict((data, at))
    assert (found.classes, found.euh, found.signal) == ((one,), (code,), signal)
    assert (found.h, found.pictograms, found.names) == ((), (), ("agent",))
    assert verdict((data, under)).classes == ()


@pytest.mark.parametrize("regime", ["gb-clp", "un-ghs", "us-hcs"])
def test_nobody_else_has_them(regime: str) -> None:
    data = chemical("agent", "ED HH 1", "PBT")
    assert verdict((data, "5"), regime=regime).classes == ()


def test_an_own_limit_replaces_the_generic_one_and_is_enough() -> None:
    data = chemical("agent", limits=(limit("ED HH 2", "3"),))
    assert verdict((data, "3")).classes == ("ED HH 2",)
    assert verdict((data, "2.99")).classes == ()


def test_the_stricter_of_two_categories_is_kept() -> None:
    parts = ((chemical("a", "ED HH 1"), "1"), (chemical("b", "ED HH 2"), "1"))
    assert verdict(*parts).classes == ("ED HH 1",)
