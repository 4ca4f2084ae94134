"""The codewords of a QR symbol: data, padding and check words (ISO/IEC 18004:2015).

Data words are held as bytes and check words as one whole number, so that the division
by the generator polynomial takes one table look-up a word.
"""

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import chain, zip_longest

__all__ = ["ALPHANUMERIC", "codewords", "data_bits", "mode_of"]

ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"  # table 5, in order
_VALUES = {mark: value for value, mark in enumerate(ALPHANUMERIC)}
_INDICATORS = {"numeric": 0b0001, "alphanumeric": 0b0010, "byte": 0b0100}  # table 2
# Table 3: bits of the character count, up to versions 9, 26 and 40.
_COUNT_BITS = {
    "numeric": (10, 12, 14),
    "alphanumeric": (9, 11, 13),
    "byte": (8, 16, 16),
}
_PADS = b"\xec\x11"  # 7.4.10
_FIELD = 0x11D  # x^8 + x^4 + x^3 + x^2 + 1; 7.5.2

Piece = tuple[int, int]  # a value and its width in bits


def mode_of(payload: str) -> str:
    """How a payload is written: ``numeric``, ``alphanumeric`` or ``byte``."""
    if payload.isascii() and payload.isdigit():
        return "numeric"
    return "alphanumeric" if _VALUES.keys() >= set(payload) else "byte"


def data_bits(payload: str, version: int) -> int:
    """Length of a payload with its header [bits]; 7.4.3 to 7.4.5."""
    mode = mode_of(payload)
    if mode == "numeric":
        length = -(-len(payload) * 10 // 3)
    elif mode == "alphanumeric":
        length = -(-len(payload) * 11 // 2)
    else:
        length = 8 * len(payload.encode())
    return 4 + _count_bits(mode, version) + length


def _count_bits(mode: str, version: int) -> int:
    return _COUNT_BITS[mode][(version > 9) + (version > 26)]


def codewords(payload: str, version: int, blocks: Sequence[tuple[int, int]]) -> bytes:
    """All codewords in the order in which they are placed.

    Args:
        payload: no longer than the blocks hold.
        version: 1 to 40.
        blocks: words in all and words of data, for each block; table 9.
    """
    data = _data_words(payload, version, sum(words for _, words in blocks))
    parts, checks = [], []
    start = 0
    for total, words in blocks:
        part = data[start : start + words]
        start += words
        parts.append(part)
        checks.append(_check_words(part, total - words))
    return bytes([*_in_turn(parts), *_in_turn(checks)])


def _in_turn(blocks: Sequence[bytes]) -> Iterator[int]:
    """The first word of every block, then the second of every block; 7.6."""
    rounds = chain.from_iterable(zip_longest(*blocks))
    return (word for word in rounds if word is not None)


def _data_words(payload: str, version: int, words: int) -> bytes:
    stream = length = 0
    for value, width in _pieces(payload, version):
        stream = stream << width | value
        length += width
    ending = min(4, 8 * words - length)  # the terminator; 7.4.9
    ending += -(length + ending) % 8
    filled = (stream << ending).to_bytes((length + ending) // 8, "big")
    return filled + (_PADS * words)[: words - len(filled)]


def _pieces(payload: str, version: int) -> Iterator[Piece]:
    mode = mode_of(payload)
    data = payload.encode()
    yield _INDICATORS[mode], 4
    yield len(data), _count_bits(mode, version)
    if mode == "numeric":
        yield from _thirds(payload)
    elif mode == "alphanumeric":
        yield from _pairs(payload)
    else:
        yield int.from_bytes(data, "big"), 8 * len(data)


def _thirds(digits: str) -> Iterator[Piece]:
    for at in range(0, len(digits), 3):
        group = digits[at : at + 3]
        yield int(group), (4, 7, 10)[len(group) - 1]


def _pairs(marks: str) -> Iterator[Piece]:
    values = [_VALUES[mark] for mark in marks]
    for first, second in zip(values[::2], values[1::2], strict=False):
        yield 45 * first + second, 11
    if len(values) % 2:
        yield values[-1], 6


def _check_words(data: bytes, count: int) -> bytes:
    """The remainder of the data after division by the generator polynomial; 7.5.2."""
    multiples = _multiples(count)
    kept, top = (1 << 8 * (count - 1)) - 1, 8 * (count - 1)
    rest = 0
    for word in data:
        rest = (rest & kept) << 8 ^ multiples[rest >> top ^ word]
    return rest.to_bytes(count, "big")


@cache
def _multiples(count: int) -> list[int]:
    """The generator polynomial of a degree times each word, without its first term."""
    generator = [1]
    root = 1
    for _ in range(count):
        times_root = [0, *(_times(factor, root) for factor in generator)]
        generator = [a ^ b for a, b in zip([*generator, 0], times_root, strict=True)]
        root = _times(root, 2)
    multiples = [0]
    for bit in range(8):
        products = bytes(_times(factor, 1 << bit) for factor in generator[1:])
        single = int.from_bytes(products, "big")
        multiples += [single ^ lower for lower in multiples]
    return multiples


def _times(a: int, b: int) -> int:
    """Product in the field of 256 elements."""
    product = 0
    while b:
        if b & 1:
            product ^= a
        a = a << 1 ^ (_FIELD if a & 0x80 else 0)
        b >>= 1
    return product
