"""The words of a frozen batch, as they were first printed and shown."""

from labelkit.mixing.plain import from_plain
from labelkit.mixing.ports import Record
from labelkit.mixing.words import BottleText, PageText

__all__ = ["bottle_texts", "page_text"]


def bottle_texts(record: Record) -> tuple[BottleText, ...]:
    """The words of each bottle's label, as they were first printed."""
    words = record.data["words"]["bottles"]
    return tuple(from_plain(BottleText, bottle) for bottle in words)


def page_text(record: Record) -> PageText:
    """The words of the record page."""
    return from_plain(PageText, record.data["words"]["page"])
