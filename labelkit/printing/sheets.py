"""Sheets of labels: pure geometry, and which label comes to lie where.

Lengths in mm, origin at the top left of the paper, slots counted from nought.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, islice, repeat

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import BadInput, Fault, Misfit
from labelkit.printing.boxes import Bar, Box, Frame, Page
from labelkit.printing.papers import Paper, Placed

__all__ = [
    "Job",
    "Sheet",
    "impose",
    "impose_duplex",
    "require_room",
    "slots_needed",
    "slots_used",
]

_HAIRLINE = 0.18
_SAME_SIZE = 0.05  # two sizes nearer than this are one size
_CROP, _CROP_AWAY = 4.0, 1.0  # length of a crop mark and its distance [mm]
_LARGEST = 2000  # [mm] ours: A0 (ISO 216) is 1189 long
_OUTLINES = ("off", "hairline", "crop")
_ORDERS = ("rows", "columns")


class Sheet(Struct, frozen=True):
    """Where labels lie on a paper.

    Attributes:
        name: what a person types.
        paper: width and height of the paper [mm].
        label: width and height of a label [mm].
        columns: labels side by side.
        rows: labels one below the other.
        at: left and top edge of the first label [mm].
        pitch: from one label's edge to the next one's, across and down [mm].
        radius: of the corners [mm].
        order: ``rows`` counts along the rows, ``columns`` down the columns.
        outlines: ``off``; on plain paper that is cut ``hairline`` round each label, or
            ``crop`` marks outside the block of labels.
    """

    name: str
    paper: tuple[float, float]
    label: tuple[float, float]
    columns: int
    rows: int
    at: tuple[float, float]
    pitch: tuple[float, float]
    radius: float = 0.0
    order: str = "rows"
    outlines: str = "off"

    def __post_init__(self) -> None:
        faults = list(_faults(self))
        if faults:
            raise BadInput.of(faults)

    @property
    def slots(self) -> int:
        """How many labels a paper holds."""
        return self.columns * self.rows

    def slot(self, number: int) -> tuple[float, float]:
        """Left and top edge of a slot [mm]."""
        if self.order == "rows":
            row, column = divmod(number, self.columns)
        else:
            column, row = divmod(number, self.rows)
        return (
            self.at[0] + column * self.pitch[0],
            self.at[1] + row * self.pitch[1],
        )

    def holds(self, width: float, height: float) -> bool:
        """Whether a label of a size [mm] fills a slot, upright or turned."""
        return any(
            abs(self.label[0] - w) < _SAME_SIZE and abs(self.label[1] - h) < _SAME_SIZE
            for w, h in ((width, height), (height, width))
        )


def _faults(sheet: Sheet) -> Iterator[Fault]:
    place = f"sheet {sheet.name}"
    if sheet.columns < 1 or sheet.rows < 1:
        yield Fault(place, "has no labels", "Write columns and rows of at least 1.")
        return
    for axis, count in enumerate((sheet.columns, sheet.rows)):
        yield from _faults_along(sheet, axis, count)
    if sheet.radius > min(sheet.label) / 2:
        half = _mm(min(sheet.label) / 2)
        problem = f"radius {_mm(sheet.radius)} is more than half the label's short side"
        yield Fault(place, problem, f"Write at most {half}.")
    for key, known in (("order", _ORDERS), ("outlines", _OUTLINES)):
        if getattr(sheet, key) not in known:
            problem = f"{key} '{getattr(sheet, key)}' is not known"
            yield Fault(place, problem, f"Write one of: {', '.join(known)}.")


def _faults_along(sheet: Sheet, axis: int, count: int) -> Iterator[Fault]:
    place = f"sheet {sheet.name}, {('across', 'down')[axis]}"
    label, pitch, paper = sheet.label[axis], sheet.pitch[axis], sheet.paper[axis]
    if not label > 0 or not paper > 0 or sheet.at[axis] < 0:
        problem = "paper and label need a size, and the first label lies on the paper"
        yield Fault(place, problem, "Write lengths in mm.")
    elif paper > _LARGEST:
        problem = f"the paper is {_mm(paper)} large"
        yield Fault(place, problem, f"Write at most {_mm(_LARGEST)}.")
    if count > 1 and pitch < label:
        problem = f"pitch {_mm(pitch)} is less than the label's {_mm(label)}"
        yield Fault(place, problem, "Labels would overlap: write a larger pitch.")
    end = sheet.at[axis] + (count - 1) * pitch + label
    if end > paper + 1e-6:
        problem = f"the last label ends at {_mm(end)}, beyond the paper's {_mm(paper)}"
        yield Fault(place, problem, "Write fewer labels or a smaller pitch.")


def _mm(length: float) -> str:
    return f"{length:g} mm"


class Job(Struct, frozen=True):
    """How labels are laid on sheets.

    Attributes:
        skip: slots of the first paper that are already used.
        copies: how often the labels are printed, all of them each time.
        nudge: moves everything right and down [mm]; from the calibration page.
        nudge_back: the same for the backs of cards [mm].
        scale: what the printer shrinks is made larger, across and down.
        flip: ``long`` or ``short``, the edge over which a printer turns the paper.
    """

    skip: int = 0
    copies: int = 1
    nudge: tuple[float, float] = (0.0, 0.0)
    nudge_back: tuple[float, float] = (0.0, 0.0)
    scale: tuple[float, float] = (1.0, 1.0)
    flip: str = "long"


def impose(
    pages: Iterable[Page], sheet: Sheet, job: Job | None = None
) -> Iterator[Paper]:
    """Lay labels on sheets, slot by slot.

    Raises:
        BadInput: more slots are skipped than there are, or there is nothing to copy.
        Misfit: a label has another size than the sheet's.
    """
    job = job or Job()
    require_room(sheet, job)
    copied = _kept_together(_copied(pages, job.copies), sheet, job.skip)
    first = list(islice(copied, sheet.slots - job.skip))
    if any(first):  # a slot left free for two labels prints nothing
        yield _paper(sheet, job, first, range(job.skip, sheet.slots))
    while batch := list(islice(copied, sheet.slots)):
        yield _paper(sheet, job, batch, range(sheet.slots))


def impose_duplex(
    cards: Iterable[tuple[Page, Page]], sheet: Sheet, job: Job | None = None
) -> Iterator[Paper]:
    """Lay cards on sheets printed on both sides: each paper's front, then its back.

    A back lies where its front comes to lie once the paper is turned over.

    Raises:
        BadInput: more slots are skipped than there are, or there is nothing to copy.
        Misfit: a card has another size than the sheet's.
    """
    job = job or Job()
    both = [page for card in cards for page in card]
    fronts = impose(both[::2], sheet, job)
    backs = impose(both[1::2], sheet, job)
    for front, back in zip(fronts, backs, strict=True):
        yield front
        yield _turned_over(back, job)


def require_room(sheet: Sheet, job: Job) -> None:
    """Refuse more slots to skip than there are, and nothing to copy.

    Raises:
        BadInput: either.
    """
    if not 0 <= job.skip < sheet.slots:
        raise BadInput(
            f"{job.skip} slots cannot be skipped on a sheet of {sheet.slots}",
            place="skip",
            remedy=f"Write 0 to {sheet.slots - 1}.",
        )
    if job.copies < 1:
        raise BadInput(
            f"{job.copies} copies are none", place="copies", remedy="Write 1 or more."
        )


def _copied(pages: Iterable[Page], copies: int) -> Iterator[Page]:
    if copies == 1:
        return iter(pages)
    return chain.from_iterable(repeat(tuple(pages), copies))


def _kept_together(
    pages: Iterable[Page], sheet: Sheet, first: int
) -> Iterator[Page | None]:
    """The pages slot by slot; None where one is left free.

    A page that belongs to the next one leaves the last slot of a paper free.
    """
    slot = first
    for page in pages:
        if page.with_next and slot % sheet.slots == sheet.slots - 1:
            yield None
            slot += 1
        yield page
        slot += 1


def slots_needed(pages: Iterable[Page], sheet: Sheet, job: Job) -> int:
    """How many slots a job takes, those left free between labels with them."""
    copied = _copied(pages, job.copies)
    return sum(1 for _ in _kept_together(copied, sheet, job.skip))


def _paper(
    sheet: Sheet, job: Job, pages: Sequence[Page | None], slots: Sequence[int]
) -> Paper:
    placed = tuple(
        _placed(page, sheet, job, slot)
        for page, slot in zip(pages, slots, strict=False)
        if page is not None
    )
    marks = tuple(_marks(sheet, placed))
    return Paper(sheet.paper[0], sheet.paper[1], placed, marks)


def _marks(sheet: Sheet, placed: Sequence[Placed]) -> Iterator[Box]:
    if sheet.outlines == "hairline":
        yield from _outlined(sheet, placed)
    elif sheet.outlines == "crop":
        yield from _cropped(sheet, placed)


def _outlined(sheet: Sheet, placed: Sequence[Placed]) -> Iterator[Box]:
    for at in placed:
        yield Frame(at.x, at.y, sheet.label[0], sheet.label[1], _HAIRLINE, "cut")


def _cropped(sheet: Sheet, placed: Sequence[Placed]) -> Iterator[Box]:
    """Short lines outside the block of labels, in line with every edge that is cut."""
    (left, top), (right, bottom) = sheet.at, _end(sheet)
    for x in sorted({at.x + w for at in placed for w in (0, sheet.label[0])}):
        for y in (top - _CROP_AWAY - _CROP, bottom + _CROP_AWAY):
            yield Bar(x - _HAIRLINE / 2, y, _HAIRLINE, _CROP, field="cut")
    for y in sorted({at.y + h for at in placed for h in (0, sheet.label[1])}):
        for x in (left - _CROP_AWAY - _CROP, right + _CROP_AWAY):
            yield Bar(x, y - _HAIRLINE / 2, _CROP, _HAIRLINE, field="cut")


def _end(sheet: Sheet) -> tuple[float, float]:
    x, y = sheet.slot(sheet.slots - 1)
    return x + sheet.label[0], y + sheet.label[1]


def _placed(page: Page, sheet: Sheet, job: Job, slot: int) -> Placed:
    wide, high = page.flat
    if not sheet.holds(wide, high):
        raise Misfit(
            f"a label of {wide:g} x {high:g} mm does not fit a sheet of "
            f"{sheet.label[0]:g} x {sheet.label[1]:g} mm",
            place=f"sheet {sheet.name}",
            remedy="Name a sheet of the label's size, or none for one label a page.",
        )
    left, top = sheet.slot(slot)
    # Contents only ever grow: smaller, the type would fall below its minimum.
    grown = (max(job.scale[0], 1.0), max(job.scale[1], 1.0))
    x, y = job.nudge[0] + job.scale[0] * left, job.nudge[1] + job.scale[1] * top
    turned = abs(wide - sheet.label[0]) >= _SAME_SIZE
    return Placed(page, x, y, turned, grown)


def _turned_over(paper: Paper, job: Job) -> Paper:
    """The same places seen from the back of the paper.

    A back has its top where its front has it, so that a hole goes through both and a
    card is turned like the page of a book.
    """
    long_edge_upright = paper.height >= paper.width
    mirrored_across = (job.flip == "long") == long_edge_upright
    placed = []
    for at in paper.placed:
        w, h = at.page.flat[:: -1 if at.turned else 1]
        x, y = at.x - job.nudge[0], at.y - job.nudge[1]
        if mirrored_across:
            x = paper.width - x - w * at.scale[0]
        else:
            y = paper.height - y - h * at.scale[1]
        x, y = x + job.nudge_back[0], y + job.nudge_back[1]
        moved = replace(at, x=x, y=y, upside_down=mirrored_across == at.turned)
        placed.append(moved)
    return Paper(paper.width, paper.height, tuple(placed))


def slots_used(sheet: Sheet, job: Job, labels: int) -> str:
    """Which slots a job fills, counted from 1, for a person at the printer."""
    total = labels * job.copies
    papers = -(-(job.skip + total) // sheet.slots)
    last = (job.skip + total - 1) % sheet.slots + 1
    first = job.skip + 1
    if papers == 1:
        span = f"slot {first}" if first == last else f"slots {first} to {last}"
        return f"{span} of {sheet.slots}"
    one = first == sheet.slots
    span = f"slot {first}" if one else f"slots {first} to {sheet.slots}"
    return f"{span} of the first sheet, up to slot {last} of sheet {papers}"
