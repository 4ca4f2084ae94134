"""A batch: what was really mixed, from the weights as read, and into which bottles."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension, parse_amount
from labelkit.chemistry.display import show_amount
from labelkit.chemistry.numbers import quoted
from labelkit.errors import Ambiguous, BadInput, Unknown
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.check import Check, Level
from labelkit.mixing.doses import Dose, volume_of
from labelkit.mixing.job import Job
from labelkit.mixing.plan import Plan
from labelkit.mixing.recipe import Measured

__all__ = [
    "USE_MARKS",
    "Batch",
    "as_read",
    "bottles_from",
    "readings_from",
    "unacknowledged",
]

USE_MARKS = ("all", "maker", "hold")
# A bottle is named by its size and need not be full [share of what was made].
ROOM_LEFT = Decimal("0.1")
MOST_BOTTLES = 1000
WRITE_IN = {
    Dimension.MASS: "Write it in g or kg.",
    Dimension.VOLUME: "Write it in mL or L.",
}


class Batch(Struct, frozen=True):
    """What was mixed, when, by whom, and where it went.

    Attributes:
        number: ``ABCD-EFGH-K``.
        planned: the doses as they were planned.
        plan: worked out again from the doses as read.
        bottles_mL: volume of each bottle [mL]; for a dry mixture its grams.
        acknowledged: codes of the checks of level ``stop`` that were acknowledged.
        use: who may take it in a shared room: all, maker, hold, or "".
    """

    number: str
    planned: tuple[Dose, ...]
    plan: Plan
    made_by: str
    bottles_mL: tuple[Decimal, ...]
    acknowledged: tuple[str, ...] = ()
    use: str = ""

    @property
    def mixed_on(self) -> datetime:
        """When it was mixed."""
        return self.plan.job.on


def as_read(
    job: Job,
    readings: Mapping[int, Amount],
    *,
    made_up_to: Amount | None = None,
    ph: Decimal | None = None,
    density: Decimal | None = None,
) -> Job:
    """The job with what the balance, the cylinder and the meter said.

    Args:
        job: as planned.
        readings: by step number; a step without one stays "planned, not read".
        made_up_to: what it was really made up to.
        ph: measured on the finished solution.
        density: measured [g/mL].

    Raises:
        BadInput: a mass of a solution that was poured, or what it was made up to is
            of another dimension than what was asked for.
    """
    doses = tuple(
        _checked(dose, readings[dose.step]) if dose.step in readings else dose
        for dose in job.doses
    )
    measured = Measured(
        ph=job.measured.ph if ph is None else ph,
        density_g_per_mL=(
            job.measured.density_g_per_mL if density is None else density
        ),
    )
    job = replace(job, doses=doses, measured=measured)
    if made_up_to is not None:
        job = _made_up(job, made_up_to)
    if job.by_mass:
        volume_mL = volume_of(job.make, measured.density_g_per_mL)
        job = replace(job, volume_mL=volume_mL)
    return job


def readings_from(
    job: Job, words: Sequence[str], catalogue: Catalogue
) -> dict[int, Amount]:
    """``STEP=AMOUNT`` as typed, by step number.

    STEP is a step's number, or a chemical that occurs once, by its id or a full name.

    Raises:
        BadInput: no such step or chemical, one that occurs more than once, an amount
            that cannot be read, or a step named twice.
    """
    readings: dict[int, Amount] = {}
    for word in words:
        name, equals, amount = word.partition("=")
        if not equals:
            raise BadInput(
                f"{quoted(word)} has no '='",
                place="--weighed",
                remedy="Write STEP=AMOUNT, such as 2=17.4g or borax-decahydrate=17.4g.",
            )
        step = _step_named(job, name.strip(), catalogue)
        if step in readings:
            raise BadInput(
                f"step {step} is given twice",
                place="--weighed",
                remedy="Give each step one reading.",
            )
        try:
            readings[step] = parse_amount(amount)
        except BadInput as error:
            raise error.at(f"--weighed {name}") from None
    return readings


def bottles_from(text: str | None, plan: Plan) -> tuple[Decimal, ...]:
    """``2x250 mL, 12x10 mL`` as one size a bottle [mL or g]; one bottle where None.

    Raises:
        BadInput: it cannot be read, or the bottles hold more than was made.
    """
    made, dimension = plan.job.volume_mL, Dimension.VOLUME
    if made is None:
        made, dimension = plan.job.make.number, Dimension.MASS
    if not text:
        return (made,)
    bottles: list[Decimal] = []
    for piece in text.split(","):
        bottles += _bottles(piece.strip(), dimension)
    filled = sum(bottles, Decimal(0))
    if filled > made * (1 + ROOM_LEFT):
        holds, was_made = (show_amount(Amount(n, dimension)) for n in (filled, made))
        raise BadInput(
            f"{quoted(text)} is {holds} of bottles for {was_made}",
            place="--into",
            remedy="Name bottles that hold no more than was made.",
        )
    return tuple(bottles)


def unacknowledged(plan: Plan, acknowledged: Sequence[str]) -> tuple[Check, ...]:
    """The checks of level ``stop`` that nobody has acknowledged yet."""
    return tuple(
        check
        for check in plan.checks
        if check.level is Level.STOP and check.code not in acknowledged
    )


def _bottles(piece: str, dimension: Dimension) -> list[Decimal]:
    count, times, _ = piece.lower().replace("×", "x").partition("x")
    if not times:
        return [_size(piece, dimension)]
    if not (count.strip().isdecimal() and 0 < int(count) <= MOST_BOTTLES):
        raise BadInput(
            f"{quoted(piece)} does not say how many bottles",
            place="--into",
            remedy="Write it like 2x250 mL, 12x10 mL.",
        )
    return [_size(piece[len(count) + 1 :], dimension)] * int(count)


def _size(text: str, dimension: Dimension) -> Decimal:
    try:
        amount = parse_amount(text)
    except BadInput as error:
        raise error.at("--into") from None
    if amount.dimension is not dimension:
        raise BadInput(
            f"{quoted(amount.written)} is not a {dimension.value}",
            place="--into",
            remedy=WRITE_IN[dimension],
        )
    return amount.number


def _made_up(job: Job, amount: Amount) -> Job:
    if amount.dimension is not job.make.dimension:
        raise BadInput(
            f"{quoted(amount.written)} is not a {job.make.dimension.value}",
            place="--made-up-to",
            remedy=WRITE_IN[job.make.dimension],
        )
    if job.by_mass:
        return replace(job, make=amount)
    return replace(job, volume_mL=amount.number)


def _checked(dose: Dose, amount: Amount) -> Dose:
    is_volume = amount.dimension is Dimension.VOLUME
    if dose.chemical.startswith("recipe:") and not is_volume:
        raise BadInput(
            f"{quoted(amount.written)} of a solution that is poured",
            place=f"step {dose.step}",
            remedy="Write what the cylinder read, in mL.",
        )
    return dose.read_as(amount)


def _step_named(job: Job, name: str, catalogue: Catalogue) -> int:
    steps = [dose.step for dose in job.doses]
    if name.isdecimal() and int(name) in steps:
        return int(name)
    meant = (name, _id_of(name, catalogue))
    found = [dose.step for dose in job.doses if dose.chemical in meant]
    if len(found) == 1:
        return found[0]
    if found:
        listed = ", ".join(str(step) for step in found)
        raise BadInput(
            f"{name} goes in more than once",
            place="--weighed",
            remedy=f"Name the step instead: {listed}.",
        )
    listed = ", ".join(f"{dose.step} ({dose.chemical})" for dose in job.doses)
    raise BadInput(
        f"no step adds {quoted(name)}",
        place="--weighed",
        remedy=f"Name one of: {listed}.",
    )


def _id_of(name: str, catalogue: Catalogue) -> str:
    try:
        return catalogue.find(name).id
    except (Unknown, Ambiguous):
        return ""
