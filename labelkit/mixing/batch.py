"""A batch: what was really mixed, from the weights as read, and into which bottles."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from labelkit.chemistry.amounts import Amount, Dimension, parse_amount
from labelkit.errors import BadInput
from labelkit.mixing.check import Check, Level
from labelkit.mixing.doses import Dose
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
# A reading further off than this is asked again [share of the planned figure].
FAR_OFF = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class Batch:
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
        made_up_to: the volume it was really made up to.
        ph: measured on the finished solution.
        density: measured [g/mL].

    Raises:
        BadInput: a volume of a solid, or a mass where a solution was poured.
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
    volume_mL = job.volume_mL
    if made_up_to is not None:
        volume_mL = _as_volume(made_up_to)
    return replace(job, doses=doses, volume_mL=volume_mL, measured=measured)


def readings_from(job: Job, words: Sequence[str]) -> dict[int, Amount]:
    """``STEP=AMOUNT`` as typed, by step number.

    STEP is a step's number, or a chemical that occurs once.

    Raises:
        BadInput: no such step or chemical, one that occurs more than once, an amount
            that cannot be read, or a step named twice.
    """
    readings: dict[int, Amount] = {}
    for word in words:
        name, equals, amount = word.partition("=")
        if not equals:
            raise BadInput(
                f"'{word}' has no '='",
                place="--weighed",
                remedy="Write STEP=AMOUNT, such as 2=17.4g or borax-decahydrate=17.4g.",
            )
        step = _step_named(job, name.strip())
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
    """``2x250 mL, 12x10 mL`` as one volume a bottle; one bottle where None.

    Raises:
        BadInput: it cannot be read, or the bottles hold more than was made.
    """
    made = plan.job.volume_mL or plan.job.make.number
    if not text:
        return (made,)
    bottles: list[Decimal] = []
    for piece in text.split(","):
        bottles += _bottles(piece.strip())
    if sum(bottles) > made * (1 + FAR_OFF):
        raise BadInput(
            f"'{text}' is {sum(bottles)} mL of bottles for {made:f} mL",
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


def _bottles(piece: str) -> list[Decimal]:
    count, times, size = piece.lower().replace("×", "x").partition("x")
    if not times:
        return [_as_volume(_amount_into(piece))]
    if not count.strip().isdigit() or not 0 < int(count) <= 1000:
        raise BadInput(
            f"'{piece}' does not say how many bottles",
            place="--into",
            remedy="Write it like 2x250 mL, 12x10 mL.",
        )
    start = len(piece) - len(size)
    return [_as_volume(_amount_into(piece[start:]))] * int(count)


def _amount_into(text: str) -> Amount:
    try:
        return parse_amount(text)
    except BadInput as error:
        raise error.at("--into") from None


def _as_volume(amount: Amount) -> Decimal:
    if amount.dimension is Dimension.MASS:
        raise BadInput(
            f"'{amount.written}' is not a volume", remedy="Write it in mL or L."
        )
    return amount.number


def _checked(dose: Dose, amount: Amount) -> Dose:
    is_volume = amount.dimension is Dimension.VOLUME
    if dose.chemical.startswith("recipe:") and not is_volume:
        raise BadInput(
            f"'{amount.written}' of a solution that is poured",
            place=f"step {dose.step}",
            remedy="Write what the cylinder read, in mL.",
        )
    return dose.read_as(amount)


def _step_named(job: Job, name: str) -> int:
    steps = [dose.step for dose in job.doses]
    if name.isdigit() and int(name) in steps:
        return int(name)
    found = [dose.step for dose in job.doses if dose.chemical == name]
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
        f"no step adds '{name}'",
        place="--weighed",
        remedy=f"Name one of: {listed}.",
    )
