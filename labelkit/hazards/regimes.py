"""Where the four sets of rules differ in a way that changes a result."""

from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import BadInput

__all__ = ["REGIMES", "Regime", "regime_named"]


class Regime(Struct, frozen=True):
    """One set of rules; the defaults are those of the European Union.

    Attributes:
        acute_5: Acute Tox. 5 exists.
        skin_3: Skin Irrit. 3 exists.
        eye_2b: Eye Irrit. 2B exists.
        aquatic_2_3: Aquatic Acute 2 and 3 exist.
        environment: there are environment classes at all.
        new_classes: ED, PBT, vPvB, PMT, vPvM exist.
        boron_sum: Notes 11 and 12 of Annex VI apply.
        euh: EUH statements exist.
        carc_2: limit of Carc. 2 [% w/w]; the next ones alike.
        stot_1: STOT SE 1 and RE 1 of an ingredient, for category 1 of the mixture.
        stot_2: STOT SE 2 and RE 2 of an ingredient.
        american: spelled as in the United States.
    """

    name: str
    acute_5: bool = False
    skin_3: bool = False
    eye_2b: bool = False
    aquatic_2_3: bool = False
    environment: bool = True
    new_classes: bool = False
    boron_sum: bool = True
    euh: bool = True
    # Annex I, Tables 3.4.5, 3.6.2, 3.7.2, 3.8.3 and 3.9.4 [% w/w]
    skin_sens_1: Decimal = Decimal("1.0")
    resp_sens_1: Decimal = Decimal("1.0")
    carc_2: Decimal = Decimal("1.0")
    repr_1: Decimal = Decimal("0.3")
    repr_2: Decimal = Decimal("3.0")
    lact: Decimal = Decimal("0.3")
    stot_1: Decimal = Decimal(10)
    stot_2: Decimal = Decimal(10)
    american: bool = False


_LOW = Decimal("0.1")
_ONE = Decimal("1.0")

# The UN text leaves a choice between two limits for sensitisers, Carc. 2, Repr., Lact.
# and STOT (GHS Tables 3.4.5, 3.6.1, 3.7.1, 3.8.2, 3.9.3): the stricter is taken. The
# United States took the stricter ones too (29 CFR 1910.1200, Appendix A; 1 % for STOT 1
# is confirmed by the agency's letter of 4 March 2014). Repr. 2, Lact., Resp. Sens. and
# STOT 2 of both are from memory.
_STRICTER = Regime(
    "",
    boron_sum=False,
    euh=False,
    skin_sens_1=_LOW,
    resp_sens_1=_LOW,
    carc_2=_LOW,
    repr_1=_LOW,
    repr_2=_LOW,
    lact=_LOW,
    stot_1=_ONE,
    stot_2=_ONE,
)

REGIMES = {
    "eu-clp": Regime("eu-clp", new_classes=True),
    "gb-clp": Regime("gb-clp"),
    "un-ghs": replace(
        _STRICTER,
        name="un-ghs",
        acute_5=True,
        skin_3=True,
        eye_2b=True,
        aquatic_2_3=True,
    ),
    "us-hcs": replace(
        _STRICTER,
        name="us-hcs",
        eye_2b=True,
        environment=False,
        american=True,
    ),
}


def regime_named(name: str) -> Regime:
    """The regime called ``name``.

    Raises:
        BadInput: there is none of that name.
    """
    if name not in REGIMES:
        raise BadInput(
            f"'{name}' is no set of rules",
            place="regime",
            remedy=f"Write one of: {', '.join(REGIMES)}.",
        )
    return REGIMES[name]
