"""Which sheet a print goes on: the named one, else the one of the print's size."""

from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.cli.workplace import Workplace
from labelkit.errors import Misfit
from labelkit.mixing.bench import Settings

if TYPE_CHECKING:
    from labelkit.printing.sheets import Job, Sheet

__all__ = ["ONE_A_PAGE", "job_for", "sheet_for"]

ONE_A_PAGE = "single"


def sheet_for(
    place: Workplace, name: str, width: float, height: float, *, what: str = "label"
) -> "tuple[Sheet, str]":
    """The sheet of that name, or the one of the print's size where it does not fit.

    Returns:
        The sheet, and what to tell a person where it is another one; else "".

    Raises:
        Unknown: there is no such sheet.
        Misfit: neither takes a print of ``width`` x ``height`` [mm].
    """
    from labelkit.printing.sheet_files import read_sheet, sheet_name

    sheet = place.own_layouts.sheets().get(name) or read_sheet(name)
    if sheet.holds(width, height):
        return sheet, ""
    other = sheet_name(place.settings.paper, width, height)
    if not other:
        raise Misfit(
            f"a {what} of {width:g} x {height:g} mm does not fit sheet {name}",
            remedy=f"Print one {what} a page: leave --sheet out.",
        )
    return read_sheet(other), f"{name} does not fit this {what}; "


def job_for(
    settings: Settings, *, skip: int = 0, copies: int = 1, flip: str = "long"
) -> "Job":
    """How a bench's printer lays prints on sheets."""
    from labelkit.printing.sheets import Job

    return Job(
        skip,
        copies,
        _floats(settings.nudge_mm),
        _floats(settings.nudge_back_mm),
        _floats(settings.scale),
        flip,
    )


def _floats(pair: tuple[Decimal, Decimal]) -> tuple[float, float]:
    return float(pair[0]), float(pair[1])
