"""Labels of a job on their papers: each size on a sheet of its own."""

from collections.abc import Sequence

from msgspec.structs import replace

from labelkit.cli.sheet_choice import job_for, sheet_for
from labelkit.cli.workplace import Workplace
from labelkit.printing.boxes import Page
from labelkit.printing.papers import Paper
from labelkit.printing.sheets import Sheet

__all__ = ["laid"]

# What is smaller than any sheet's labels is cut out of plain paper [mm].
_CUT_OUT_UNDER_MM = 52
_PAPERS_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
_ROUND_MM, _BETWEEN_MM = 15.0, 6.0


def laid(
    place: Workplace, pages: Sequence[Page], name: str, *, skip: int, copies: int
) -> tuple[list[Paper], str]:
    """Labels on sheets, and which slots they use.

    Args:
        place: for the settings and the bench's own sheets.
        pages: the labels.
        name: the sheet they are wanted on; another size goes to a sheet of its size.
        skip: slots of the first sheet that are already used.
        copies: of every label.

    Raises:
        Unknown: there is no such sheet.
        Misfit: there is no sheet for a size.
        BadInput: more slots are skipped than there are.
    """
    from labelkit.printing.sheets import impose, slots_needed, slots_used

    papers: list[Paper] = []
    told: list[str] = []
    for size, group in _by_size(pages).items():
        sheet, other = _sheet(place, name, size)
        if skip == sheet.slots - 1 and group[0].with_next:
            other, skip = f"{other}one slot is too few for two labels; ", 0
        job = job_for(place.settings, skip=skip, copies=copies)
        papers += impose(group, sheet, job)
        once = replace(job, copies=1)
        used = slots_used(sheet, once, slots_needed(group, sheet, job))
        told.append(f"{other}{sheet.name}: {used}")
        skip = 0
    return papers, "\n".join(told)


def _by_size(pages: Sequence[Page]) -> dict[tuple[float, float], list[Page]]:
    groups: dict[tuple[float, float], list[Page]] = {}
    for page in pages:
        low, high = sorted(page.flat)
        groups.setdefault((low, high), []).append(page)
    return groups


def _sheet(place: Workplace, name: str, size: tuple[float, float]) -> tuple[Sheet, str]:
    low, high = size
    if low < _CUT_OUT_UNDER_MM:
        return _plain_paper(place.settings.paper, high, low), ""
    return sheet_for(place, name, high, low)


def _plain_paper(paper: str, width: float, height: float) -> Sheet:
    """As many as a plain paper holds, with marks to cut along."""
    across, down = _PAPERS_MM[paper]
    pitch = (width + _BETWEEN_MM, height + _BETWEEN_MM)
    columns = int((across - 2 * _ROUND_MM + _BETWEEN_MM) // pitch[0])
    rows = int((down - 2 * _ROUND_MM + _BETWEEN_MM) // pitch[1])
    return Sheet(
        f"plain paper, {width:g} x {height:g} mm to cut out",
        paper=(across, down),
        label=(width, height),
        columns=columns,
        rows=rows,
        at=(_ROUND_MM, _ROUND_MM),
        pitch=pitch,
        outlines="crop",
    )
