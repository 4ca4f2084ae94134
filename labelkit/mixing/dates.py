"""Dates and times as they are printed and kept: ISO 8601."""

from datetime import date, datetime

__all__ = [
    "Day",
    "clock",
    "is_past",
    "last_moment",
    "moment_words",
    "read_day",
    "written",
]

Day = date | datetime

_DAY = len("2032-03-14")
_DAY_IS_OVER = "T24:00:00.000000"  # sorts after every time of the day
_FOR_EVER = "~"  # sorts after every date


def written(day: Day | None) -> str | None:
    """``2032-03-14``, or ``2032-03-14 15:40`` where it keeps for hours (ISO 8601)."""
    if day is None:
        return None
    if isinstance(day, datetime):
        return f"{day:%Y-%m-%d %H:%M}"
    return day.isoformat()


def moment_words(at: datetime) -> str:
    """``2031-03-14 15:40``; midnight is how a day without a time is kept."""
    return f"{at:%Y-%m-%d %H:%M}".removesuffix(" 00:00")


def read_day(text: str) -> Day:
    """A day or a moment as it is kept.

    Raises:
        ValueError: it is neither.
    """
    timed = len(text) > _DAY
    return datetime.fromisoformat(text) if timed else date.fromisoformat(text)


def last_moment(kept: str | None) -> str:
    """What sorts dates as they are kept: good through the last day or moment.

    By the room's own clock; a date that is not known sorts after all others.

    Raises:
        ValueError: it is no date.
    """
    if not kept:
        return _FOR_EVER
    day = read_day(kept)
    if isinstance(day, datetime):
        return clock(day)
    return f"{day.isoformat()}{_DAY_IS_OVER}"


def is_past(kept: str | None, at: datetime) -> bool:
    """Whether a date as it is kept has passed ``at`` a moment."""
    return last_moment(kept) <= clock(at)


def clock(moment: datetime) -> str:
    """What sorts moments by the wall clock they were written by, whatever the zone."""
    return moment.replace(tzinfo=None).isoformat(timespec="microseconds")
