"""How much of a product, in how much: two of volume, grams and strength."""

from decimal import Decimal

from msgspec import Struct

from labelkit.chemistry.amounts import Amount, Dimension, parse_amount
from labelkit.chemistry.display import figures
from labelkit.chemistry.numbers import quoted, split_number
from labelkit.chemistry.substances import Substance
from labelkit.errors import BadInput
from labelkit.mixing.dilution import Basis, Concentration

__all__ = ["Size", "Wanted", "parse_grams", "sized"]

OPTIONS = "--make, --grams, --each (or --strength)"
# Nothing a room mixes is larger; our own bound [mL].
LARGEST_mL = Decimal(1_000_000)


class Wanted(Struct, frozen=True):
    """What was asked for; None for what was not said.

    Attributes:
        make: how much solution.
        grams_g: of the product, in its form [g].
        each: the volume that is to carry one gram.
        strength: in place of ``each``.
    """

    make: Amount | None = None
    grams_g: Decimal | None = None
    each: Amount | None = None
    strength: Concentration | None = None


class Size(Struct, frozen=True):
    """Grams of the product in millilitres of solution."""

    product_g: Decimal
    volume_mL: Decimal


def parse_grams(text: str) -> Decimal:
    """The mass that ``text`` means [g]; a bare number is in grams.

    Raises:
        BadInput: it cannot be read, or is no mass.
    """
    bare = not split_number(text)[1]
    amount = parse_amount(f"{text} g" if bare else text)
    if amount.dimension is not Dimension.MASS:
        raise BadInput(
            f"{quoted(text)} is not a mass", remedy="Write it in g, such as 25g."
        )
    return amount.number


def sized(wanted: Wanted, product: Substance) -> Size:
    """The grams and the volume that two of the three tell.

    Raises:
        BadInput: not exactly two are given, or one is of the wrong kind.
    """
    make_mL = _volume_mL(wanted.make, "--make")
    mL_per_g = _mL_per_g(wanted, product)
    grams_g = wanted.grams_g
    given = [make_mL, grams_g, mL_per_g]
    count = sum(value is not None for value in given)
    if count != 2:
        raise BadInput(
            f"{_counted(count)} of {OPTIONS} {'is' if count == 1 else 'are'} given",
            remedy="Give two of them: the third follows.",
        )
    if make_mL is None:
        assert grams_g is not None and mL_per_g is not None
        make_mL = grams_g * mL_per_g
    if grams_g is None:
        assert mL_per_g is not None
        grams_g = make_mL / mL_per_g
    if make_mL > LARGEST_mL:
        raise BadInput(
            f"that makes {figures(make_mL / 1000, 3)} L, more than is ever mixed",
            remedy="Ask for less, or for a stronger solution.",
        )
    return Size(grams_g, make_mL)


def _counted(count: int) -> str:
    return {0: "none", 1: "one", 3: "all three"}.get(count, str(count))


def _volume_mL(amount: Amount | None, option: str) -> Decimal | None:
    if amount is None:
        return None
    if amount.dimension is not Dimension.VOLUME:
        raise BadInput(
            f"{quoted(amount.written)} is not a volume",
            place=option,
            remedy="Write it in mL or L.",
        )
    return amount.number


def _mL_per_g(wanted: Wanted, product: Substance) -> Decimal | None:
    each_mL = _volume_mL(wanted.each, "--each")
    if wanted.strength is None:
        return each_mL
    if each_mL is not None:
        raise BadInput(
            "--each and --strength both say how strong it is to be",
            remedy="Give one of the two.",
        )
    value, basis = wanted.strength.value, wanted.strength.basis
    if basis is Basis.MASS_IN_VOLUME:
        return 100 / value
    if basis is Basis.GRAMS_PER_LITRE:
        return 1000 / value
    if basis is Basis.MOLES_PER_LITRE and product.molar_mass is not None:
        return 1000 / (value * product.molar_mass)
    raise BadInput(
        f"{wanted.strength} cannot be met without the density of what comes out",
        place="--strength",
        remedy="Write it as % w/v, g/L or mol/L.",
    )
