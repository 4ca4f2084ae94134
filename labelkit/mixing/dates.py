"""Dates and times as they are printed and kept: ISO 8601."""

from datetime import date, datetime

__all__ = ["Day", "written"]

Day = date | datetime


def written(day: Day | None) -> str | None:
    """``2032-03-14``, or ``2032-03-14 15:40`` where it keeps for hours (ISO 8601)."""
    if day is None:
        return None
    if isinstance(day, datetime):
        return f"{day:%Y-%m-%d %H:%M}"
    return day.isoformat()
