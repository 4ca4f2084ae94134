"""What things sort and are found by.

Dates sort by the wall clock they were written by, as a label shows it, whatever the
time zone.
"""

import unicodedata
from datetime import date, datetime, time

from labelkit.errors import BadInput
from labelkit.mixing.dates import clock as clock_key
from labelkit.mixing.dates import last_moment

__all__ = ["clock_key", "discard_key", "due_key", "search_words"]


def due_key(at: date) -> str:
    """What the dates of bottles past their time at ``at`` sort up to."""
    return clock_key(at if isinstance(at, datetime) else datetime.combine(at, time()))


def discard_key(written: str) -> str:
    """What sorts discard dates, of a day or of an hour, by when a bottle is past it.

    Raises:
        BadInput: it is no date.
    """
    try:
        return last_moment(written)
    except ValueError:
        raise BadInput(
            f"{written!r} is no date",
            place="discard_after",
            remedy="Write it as 2032-03-14 or 2032-03-14T22:00.",
        ) from None


def search_words(text: str) -> str:
    """``text`` as it is searched: without case and accents."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(c for c in apart if not unicodedata.combining(c))
