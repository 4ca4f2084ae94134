"""Chemical formulas as people write them: atoms, charge and molar mass."""

import re
from collections.abc import Iterator, Mapping
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType

from msgspec import Struct

from labelkit.errors import BadInput

__all__ = ["Composition", "atoms", "composition", "molar_mass"]

_SYMBOL = "[A-Z][a-z]?"
_ELEMENTS = frozenset(
    re.findall(
        _SYMBOL,
        "H He Li Be B C N O F Ne Na Mg Al Si P S Cl Ar K Ca Sc Ti V Cr Mn Fe Co Ni Cu "
        "Zn Ga Ge As Se Br Kr Rb Sr Y Zr Nb Mo Tc Ru Rh Pd Ag Cd In Sn Sb Te I Xe Cs "
        "Ba La Ce Pr Nd Pm Sm Eu Gd Tb Dy Ho Er Tm Yb Lu Hf Ta W Re Os Ir Pt Au Hg Tl "
        "Pb Bi Po At Rn Fr Ra Ac Th Pa U Np Pu Am Cm Bk Cf Es Fm Md No Lr Rf Db Sg Bh "
        "Hs Mt Ds Rg Cn Nh Fl Mc Lv Ts Og",
    )
)
_CLOSES = {"(": ")", "[": "]"}
_SPELLING = str.maketrans("₀₁₂₃₄₅₆₇₈₉·•∙⋅−–", "0123456789....--")
_WRITE = "Write it like Na2CO3.10H2O, or like Fe+3 and Cr2O7-2 for an ion."

_CHARGE = re.compile(r"(?P<sign>[+-])(?P<size>\d*)$")
# a dot parts hydrate water from the salt; its number may be broken: K2CO3.1.5H2O
_PART = re.compile(r"\.(?P<times>\d+(?:\.\d+)?)?(?=[A-Z(\[])")
_TOKEN = re.compile(rf"(?P<symbol>{_SYMBOL})|(?P<opens>[(\[])|(?P<shuts>[)\]])")
_COUNT = re.compile(r"[1-9]\d*")

_Counts = dict[str, Fraction]


class Composition(Struct, frozen=True):
    """What one formula unit is made of, hydrate water included.

    Attributes:
        atoms: how many of each element, by symbol.
        charge: in elementary charges; 0 unless the formula is an ion's.
    """

    atoms: Mapping[str, int]
    charge: int = 0


@lru_cache(maxsize=512)
def composition(formula: str) -> Composition:
    """Return the atoms and the charge of one unit of ``formula``.

    Raises:
        BadInput: the formula cannot be read, or its water makes half atoms.
    """
    counts, charge = _read(formula)
    if any(count.denominator != 1 for count in counts.values()):
        raise BadInput(
            f"formula {formula!r} holds half an atom",
            remedy="Write it doubled, as K4C2O6.3H2O, with parent_units doubled too.",
        )
    whole = {symbol: int(count) for symbol, count in counts.items()}
    return Composition(MappingProxyType(whole), charge)


def atoms(formula: str) -> Mapping[str, int]:
    """Return how many of each element one unit of ``formula`` holds.

    Raises:
        BadInput: as `composition`.
    """
    return composition(formula).atoms


@lru_cache(maxsize=512)
def molar_mass(formula: str) -> Decimal:
    """Return the molar mass [g/mol] to 0.001, with the atomic weights of molmass.

    Raises:
        BadInput: the formula cannot be read.
    """
    from molmass.elements import ELECTRON, ELEMENTS

    counts, charge = _read(formula)
    total = sum(
        (
            count * Fraction(str(ELEMENTS[symbol].mass))
            for symbol, count in counts.items()
        ),
        start=-charge * Fraction(str(ELECTRON.mass)),
    )
    exact = Decimal(total.numerator) / Decimal(total.denominator)
    return exact.quantize(Decimal("0.001"), rounding=ROUND_HALF_UP)


def _read(formula: str) -> tuple[_Counts, int]:
    """Read the counts, which halves of water may break, and the charge."""
    text = formula.strip().translate(_SPELLING)
    if not text:
        raise BadInput("the formula is empty", remedy=_WRITE)
    text, charge = _split_charge(text)
    counts: _Counts = {}
    for times, part in _parts(text):
        for symbol, count in _read_part(part, formula).items():
            counts[symbol] = counts.get(symbol, Fraction(0)) + times * count
    return counts, charge


def _split_charge(text: str) -> tuple[str, int]:
    found = _CHARGE.search(text)
    if found is None:
        return text, 0
    size = int(found["size"] or 1)
    return text[: found.start()], size if found["sign"] == "+" else -size


def _parts(text: str) -> Iterator[tuple[Fraction, str]]:
    """Split the salt from its water: (how many, of what)."""
    times, start = Fraction(1), 0
    for dot in _PART.finditer(text):
        yield times, text[start : dot.start()]
        times, start = Fraction(dot["times"] or 1), dot.end()
    yield times, text[start:]


def _read_part(part: str, formula: str) -> _Counts:
    """Count the atoms of one part, brackets inside brackets allowed."""
    open_groups: list[tuple[str, _Counts]] = [("", {})]
    at = 0
    while at < len(part):
        token = _TOKEN.match(part, at)
        if token is None:
            raise _cannot_read(formula, part[at:])
        count, end = _count(part, token.end())
        if token["opens"]:
            open_groups.append((_CLOSES[token["opens"]], {}))
            end = token.end()
        elif token["shuts"]:
            closer, inner = open_groups.pop()
            if closer != token["shuts"] or not inner:
                raise _cannot_read(formula, part[at:])
            _add(open_groups[-1][1], inner, count)
        elif token["symbol"] not in _ELEMENTS:
            raise _cannot_read(formula, part[at:])
        else:
            _add(open_groups[-1][1], {token["symbol"]: Fraction(1)}, count)
        at = end
    if len(open_groups) > 1 or not open_groups[0][1]:
        raise _cannot_read(formula, part)
    return open_groups[0][1]


def _count(part: str, at: int) -> tuple[int, int]:
    """Return the number written at ``at``, 1 if none, and where it ends."""
    found = _COUNT.match(part, at)
    return (int(found.group()), found.end()) if found else (1, at)


def _add(counts: _Counts, more: _Counts, times: int) -> None:
    for symbol, count in more.items():
        counts[symbol] = counts.get(symbol, Fraction(0)) + times * count


def _cannot_read(formula: str, rest: str) -> BadInput:
    where = f" from {rest!r} on" if rest and rest != formula else ""
    return BadInput(f"formula {formula!r} cannot be read{where}", remedy=_WRITE)
