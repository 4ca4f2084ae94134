"""Annex II part 1 and 2; the shares from which part 1 is printed are ours."""

import pytest

from tests.hazards.making import (
    SODIUM_HYPOCHLORITE,
    chemical,
    limit,
    measured,
    verdict,
)

BISULFITE = chemical(
    "metabisulfite",
    "Acute Tox. 4 (oral)",
    "Eye Dam. 1",
    euh=("EUH031",),
    tags=("mild-acid",),
)
BISULFITE_TOO = chemical("bisulfite", euh=("EUH031",))
SULFITE = chemical("sulfite", tags=("sulfite-source",))
HARMFUL = chemical("harmful", "Acute Tox. 3 (oral)")


def test_gas_with_acid_is_printed_from_one_percent_of_all_that_give_it() -> None:
    assert verdict((BISULFITE, "1"), ph=measured(4)).euh == ("EUH031",)
    assert verdict((BISULFITE, "0.99"), (HARMFUL, "5"), ph=measured(4)).euh == ()
    both = verdict((BISULFITE, "0.5"), (BISULFITE_TOO, "0.5"), (HARMFUL, "50"))
    assert both.euh == ("EUH031",)


def test_hypochlorite_has_a_limit_of_its_own() -> None:
    # Annex VI, Table 3: EUH031 from 5 %
    at = verdict((SODIUM_HYPOCHLORITE, "5"), ph=measured(11), for_public=False)
    under = verdict((SODIUM_HYPOCHLORITE, "4.99"), ph=measured(11), for_public=False)
    assert (at.euh, under.euh) == (("EUH031",), ())
    assert "With acid sodium hypochlorite can give off a toxic gas." in under.notices


def test_an_unclassified_mixture_gets_advice_instead() -> None:
    # Article 25(1): part 1 binds classified mixtures only
    found = verdict((BISULFITE_TOO, "5"), ph=measured(5))
    assert found.classes == ()
    assert found.euh == ()
    assert "With acid bisulfite can give off a toxic gas." in found.notices


def test_sulfite_gets_advice_although_it_carries_no_code() -> None:
    found = verdict((SULFITE, "5"), ph=measured(9))
    assert found.notices == ("With acid sulfite can give off sulfur dioxide.",)


def test_what_is_printed_is_not_advised_again() -> None:
    sulfite_too = chemical("m", "Eye Dam. 1", euh=("EUH031",), tags=("sulfite-source",))
    assert verdict((sulfite_too, "3"), ph=measured(5)).notices == ()


@pytest.mark.parametrize(
    ("other", "printed"),
    [("Skin Corr. 1B", False), ("Skin Irrit. 2", False), ("Acute Tox. 3 (oral)", True)],
)
def test_dryness_is_not_told_of_what_irritates(other: str, printed: bool) -> None:
    # Annex II, 1.2.4
    dry = chemical("solvent", euh=("EUH066",))
    found = verdict((dry, "5"), (chemical("x", other), "20"), ph=measured(7))
    assert ("EUH066" in found.euh) is printed


def test_toxic_by_eye_from_a_tenth_of_a_percent() -> None:
    # Annex II, 1.2.5
    eye = chemical("e", euh=("EUH070",))
    assert verdict((eye, "0.1"), (HARMFUL, "20")).euh == ("EUH070",)
    assert verdict((eye, "0.099"), (HARMFUL, "20")).euh == ()


def test_corrosive_to_the_airways_needs_corrosion_or_an_inhalation_class() -> None:
    # Annex II, 1.2.6; H335 says the same and goes
    acid = chemical("acid", "Skin Corr. 1B", "STOT SE 3 (H335)", euh=("EUH071",))
    found = verdict((acid, "20"), ph=measured(3))
    assert "EUH071" in found.euh
    assert "H335" in found.h
    assert "H335" not in found.label_h
    assert "EUH071" not in verdict((acid, "1"), (HARMFUL, "20"), ph=measured(3)).euh


def test_active_chlorine_above_one_percent_for_the_public() -> None:
    # Annex II, 2.6
    neutral = measured(10)
    assert "EUH206" in verdict((SODIUM_HYPOCHLORITE, "1.01"), ph=neutral).euh
    assert "EUH206" not in verdict((SODIUM_HYPOCHLORITE, "1"), ph=neutral).euh
    trade = verdict((SODIUM_HYPOCHLORITE, "2"), ph=neutral, for_public=False)
    assert "EUH206" not in trade.euh


@pytest.mark.parametrize(
    ("classes", "at", "under"),
    [
        # Annex II, 2.10
        (("Skin Sens. 1B",), "0.1", "0.099"),
        (("Skin Sens. 1A",), "0.01", "0.0099"),
        (("Carc. 2",), "0.1", "0.099"),
        (("Repr. 1B D",), "0.1", "0.099"),
        (("Lact.",), "0.1", "0.099"),
        (("Eye Irrit. 2",), "1", "0.99"),
        (("Aquatic Chronic 4",), "1", "0.99"),
        (("ED HH 2",), "0.1", "0.099"),
    ],
)
def test_a_data_sheet_on_request_for_the_trade(
    classes: tuple[str, ...], at: str, under: str
) -> None:
    data = chemical("agent", *classes)
    more = {"for_public": False, "ph": measured(7)}
    assert "EUH210" in verdict((data, at), **more).euh  # type: ignore[arg-type]
    assert "EUH210" not in verdict((data, under), **more).euh  # type: ignore[arg-type]
    assert "EUH210" not in verdict((data, at), ph=measured(7)).euh


def test_a_tenth_of_a_sensitisers_own_limit_asks_for_the_sheet() -> None:
    data = chemical("s", "Skin Sens. 1", limits=(limit("Skin Sens. 1", "0.2"),))
    assert "EUH210" in verdict((data, "0.02"), for_public=False).euh
    assert "EUH210" not in verdict((data, "0.019"), for_public=False).euh


def test_there_are_no_such_statements_outside_europe() -> None:
    for regime in ("un-ghs", "us-hcs"):
        assert verdict((SODIUM_HYPOCHLORITE, "5"), regime=regime).euh == ()
