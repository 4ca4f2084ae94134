"""That a label says everything it must, in characters that can be printed."""

from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, Any, TypeVar

from msgspec import Struct
from msgspec.structs import asdict, replace

from labelkit.errors import BadInput, Fault
from labelkit.mixing.words import BottleText, CardText, HazardText
from labelkit.printing.boxes import Code, Page, Symbol, Text
from labelkit.printing.fonts import clean
from labelkit.printing.foot import DO_NOT_DRINK
from labelkit.printing.headline import is_in_name
from labelkit.printing.typeset import plain

__all__ = [
    "hazard_words",
    "is_said",
    "missing",
    "printable",
    "text_of",
]

_PART_SHOWN = ("part", "name")
_NOT_PRINTED = ("code", "code_means")  # for a camera, and for a reader's voice

if TYPE_CHECKING:  # a label's words need none of what these are made with
    from labelkit.mixing.notices import NoticeText
    from labelkit.mixing.pack_text import PackText
    from labelkit.mixing.weighing_sheet import WeighingText

_Words = TypeVar(
    "_Words", BottleText, CardText, "NoticeText", "WeighingText", "PackText"
)


def printable(text: _Words) -> _Words:
    """The words as they are printed.

    Raises:
        BadInput: every character that the printed type does not have, with its field.
    """
    faults: list[Fault] = []
    changes: dict[str, Any] = {}
    for name in text.__struct_fields__:
        value = getattr(text, name)
        try:
            cleaned = _cleaned(value, name)
        except BadInput as error:
            faults += error.faults
        else:
            if cleaned is not value and cleaned != value:
                changes[name] = cleaned
    if faults:
        raise BadInput.of(dict.fromkeys(faults))
    return replace(text, **changes) if changes else text


@lru_cache(maxsize=8192, typed=True)
def _cleaned(value: Any, field: str) -> Any:
    """A value with every text in it cleaned, but what is never printed as words."""
    if isinstance(value, str):
        return value if field in _NOT_PRINTED else clean(value, field)
    if isinstance(value, tuple):
        return tuple(_cleaned(part, field) for part in value)
    if not isinstance(value, Struct):
        return value
    inner = {name: _cleaned(part, field) for name, part in asdict(value).items()}
    return replace(value, **inner)


def missing(text: BottleText, page: Page, kind: str = "label") -> list[str]:
    """What a label must say and does not; less is asked of what only helps a label.

    Args:
        text: the bottle's words.
        page: as placed.
        kind: of its layout: ``label``, ``cap`` or ``dropper``.
    """
    said = text_of(page)
    if kind == "cap" or (kind == "dropper" and not text.hazard.none_reached):
        return _missing_on_the_glass(text, page, kind)
    if kind == "dropper":
        headline = replace(text.headline, text="", beside="")
        text = replace(text, headline=headline, code="")
    wanted = {*_words(text), *hazard_words(text.hazard)} - {""}
    left_off = [words for words in wanted if _said_as(words) not in said]
    left_off += _part_left_off(text, page)
    apart = text.mixed and text.by and {text.mixed, text.by}
    if text.made in left_off and apart and all(_normal(one) in said for one in apart):
        left_off.remove(text.made)
    if text.aid in left_off and _normal(text.aid_full) in said:
        left_off.remove(text.aid)
    shown = {box.code for box in page.boxes if isinstance(box, Symbol)}
    left_off += [p.code for p in text.hazard.pictograms if p.code not in shown]
    codes = [box.payload for box in page.boxes if isinstance(box, Code)]
    no_code = bool(text.code) and text.code not in codes
    return sorted([*left_off, "the code"] if no_code else left_off)


def _missing_on_the_glass(text: BottleText, page: Page, kind: str) -> list[str]:
    """What the glass under a tag must say and does not."""
    said = text_of(page)
    wanted = {text.name, text.number}
    if kind == "dropper":
        wanted |= {text.hazard.signal, text.emergency, DO_NOT_DRINK} - {""}
        shown = {box.code for box in page.boxes if isinstance(box, Symbol)}
        wanted |= {p.code for p in text.hazard.pictograms if p.code not in shown}
    left_off = [words for words in wanted if _said_as(words) not in said]
    return sorted([*left_off, *_part_left_off(text, page)])


def _part_left_off(text: BottleText, page: Page) -> list[str]:
    """The part's letter where no mark and no name ends in it; many a word holds one."""
    letter = text.part.letter if text.part else ""
    marks = (b for b in page.boxes if isinstance(b, Text) and b.field in _PART_SHOWN)
    pieces = (piece[0].split() for mark in marks for piece in _pieces(mark))
    shown = {word for words in pieces for word in words[-1:]}
    return [f"the part mark {letter}"] if letter and letter not in shown else []


def _pieces(block: Text) -> Iterator[tuple[str, str, float]]:
    for line in block.lines:
        yield from line.pieces


def text_of(page: Page) -> str:
    """Everything that is to be read on a page, in order, in lower case."""
    blocks = [_said_in(box) for box in page.boxes if isinstance(box, Text)]
    return " ".join([words for words in blocks if words])


@lru_cache(maxsize=4096)
def _said_in(block: Text) -> str:
    lines = (
        line.says or "".join([text for text, _, _ in line.pieces])
        for line in block.lines
    )
    return _normal(" ".join(lines))


def is_said(words: str, said: str) -> bool:
    """Whether words stand in what `text_of` gives."""
    return _normal(words) in said


@lru_cache(maxsize=4096)
def _said_as(words: str) -> str:
    return _normal(words)


def _normal(text: str) -> str:
    return " ".join(text.casefold().split())  # cuts at no-break spaces too


def _words(text: BottleText) -> Iterator[str]:
    yield from (text.name, text.number, text.headline.text, text.made, text.supplier)
    yield from (text.discard_label, text.discard, text.off_when, text.emergency)
    yield from (text.bottle, text.use_mark, *text.strength, plain(text.contents))
    yield from (plain(text.first_words), text.never_with, text.aid, DO_NOT_DRINK)
    if not is_in_name(text.headline, text.name):
        yield from (text.headline.substance, text.headline.hydrate)
    yield text.headline.beside
    if text.part:
        yield text.part.ratio
        yield f"goes with {text.part.goes_with}" if text.part.goes_with else ""


@lru_cache(maxsize=256)
def hazard_words(hazard: HazardText) -> tuple[str, ...]:
    """Everything that a hazard block must say."""
    return (
        hazard.signal,
        hazard.alert,
        hazard.contains,
        *hazard.statements,
        *hazard.open_points,
        *(p.word for p in hazard.pictograms),
        *map(plain, hazard.precautions),
        *(run.text for run in hazard.none_reached),
    )
