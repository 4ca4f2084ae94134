"""The settings of a bench and the jars in its cupboard."""

from datetime import date
from decimal import Decimal

from msgspec import Struct

__all__ = ["PROFILES", "REGIMES", "Jar", "Settings"]

PROFILES = ("own", "room", "supply")
REGIMES = ("eu-clp", "gb-clp", "un-ghs", "us-hcs")


class Settings(Struct, frozen=True):
    """What ``labelkit.toml`` says; every field has the default of an empty file.

    Attributes:
        balance_g: readability of the balance [g].
        cylinder_mL: one graduation of the cylinder for the final volume [mL].
        keyline: a black edge round red frames; None leaves it to the profile.
        nudge_mm: right and down [mm].
        scale: 100 / measured across, 200 / measured down.
    """

    room: str = ""
    address: str = ""
    phone: str = ""
    profile: str = "own"
    regime: str = "eu-clp"
    country: str = ""
    emergency: str = ""
    disposal: str = ""
    base_url: str = ""
    balance_g: Decimal = Decimal("0.1")
    cylinder_mL: Decimal = Decimal(5)
    label: str = ""
    sheet: str = ""
    paper: str = "A4"
    mono: bool = False
    keyline: bool | None = None
    nudge_mm: tuple[Decimal, Decimal] = (Decimal(0), Decimal(0))
    nudge_back_mm: tuple[Decimal, Decimal] = (Decimal(0), Decimal(0))
    scale: tuple[Decimal, Decimal] = (Decimal(1), Decimal(1))
    language: str = "en"

    @property
    def draws_keyline(self) -> bool:
        """Whether red frames get a black edge, seen under a red safelight."""
        return self.profile != "supply" if self.keyline is None else self.keyline


class Jar(Struct, frozen=True):
    """One jar in the cupboard: what it is said to hold."""

    chemical: str
    lot: str = ""
    assay_percent: Decimal | None = None
    opened: date | None = None
    pack: str = ""
    price: str = ""
