"""The words of a notice: a label that nothing was calculated for.

A shared room needs two of them beside its bottle labels: UNKNOWN for a bottle that was
found, WASTE for the vessel that used solutions are collected in.
"""

from msgspec import Struct

from labelkit.mixing.words import Words

__all__ = ["Blank", "NoticeText"]


class Blank(Struct, frozen=True):
    """A line to write on; what is known already is printed on it.

    Attributes:
        field: by which a layout places it.
        term: stands before the line.
    """

    field: str
    term: str
    value: str = ""


class NoticeText(Struct, frozen=True):
    """Everything a notice says, in reading order.

    Attributes:
        kind: ``unknown`` or ``waste``; also the name of its layout.
        word: what is read across the room.
        lead: the sentence or name under it.
        detail: what is known of the contents.
        never: the head above ``things``.
        things: what must not come in, each with what it would do, the worst first.
        kept: how many of these stay; the others give way, the last one first.
        closing: the last words of that list.
        ticks: a term, then words that have a box to tick.
        then: what follows the last line: "then to hazardous waste".
        place: where that is; left off where there is no room for it.
        extra: sentences before ``first_words`` that give way, the first one first.
        number: beside the code; "" where there is none.
        code: the payload; "" for none.
        emergency: the number to call; "" leaves a white field.
    """

    kind: str
    word: str
    lead: str
    blanks: tuple[Blank, ...]
    first_words: Words
    detail: Words = ()
    never: str = ""
    things: tuple[Words, ...] = ()
    kept: int = 0
    closing: str = ""
    ticks: tuple[str, ...] = ()
    then: str = ""
    place: str = ""
    extra: tuple[str, ...] = ()
    number: str = ""
    code: str = ""
    code_means: str = ""
    emergency: str = ""
