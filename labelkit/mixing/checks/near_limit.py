"""Classes and a pH so close to a limit that a measurement would settle them."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from math import hypot

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.density import BAND
from labelkit.chemistry.weighing import COVERAGE, volume_u_mL
from labelkit.hazards.as_formed import classify_as_formed
from labelkit.hazards.mixture import Acidity, Classification, MixedPart
from labelkit.hazards.ph_rule import ACID_LIMIT_PH, BASE_LIMIT_PH
from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check, Level
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.plan import Plan

__all__ = ["check_near_limit"]

# A meter in good order; common practice, no source.
METER_PH = 0.1
# What a cylinder knows of a dose: one in fifty, rectangular, as for the strength.
POURED_U = 0.0115
WHOLE, NOTHING = Decimal(100), Decimal(0)
MOST_NAMED = 2


class _Band(Struct, frozen=True):
    """Factors between which the true share of each chemical lies, by id."""

    low: Mapping[str, Decimal]
    high: Mapping[str, Decimal]


def check_near_limit(
    plan: Plan, handbook: Handbook, settings: Settings
) -> Iterator[Check]:
    """A class that the density or the balance may tip, and a pH that a meter may."""
    parts = plan.solution.parts(handbook.catalogue)
    if any(part.data.classes or part.data.limits for part in parts):
        yield from _classes(plan, parts, settings)
    yield from _ph(plan, parts)


def _classes(
    plan: Plan, parts: Sequence[MixedPart], settings: Settings
) -> Iterator[Check]:
    band = _band(plan, parts, settings)
    told = [*_lost(plan, parts, band), *_gained(plan, parts, band)]
    if told:
        how = _settled_by(plan)
        text = f"Close to a limit: {'; '.join(told[:MOST_NAMED])}. {how}"
        yield Check("near-limit", Level.NOTE, None, text)


def _lost(plan: Plan, parts: Sequence[MixedPart], band: _Band) -> Iterator[str]:
    """Classes reached that the lowest shares would not reach."""
    here = plan.hazard
    if here.classes:
        low = _classified(plan, _moved(parts, band.low))
        for one in here.classes:
            if one not in low.classes:
                yield f"{one} ({_reason(here, one)})"


def _gained(plan: Plan, parts: Sequence[MixedPart], band: _Band) -> Iterator[str]:
    """Classes that the highest shares would reach; none where no share is higher."""
    here = plan.hazard
    if any(factor > 1 for factor in band.high.values()):
        high = _classified(plan, _moved(parts, band.high))
        for one in high.classes:
            if one not in here.classes:
                reason = _reason(here, one) or _reason(high, one)
                yield f"{one}, not reached ({reason})"


def _classified(plan: Plan, parts: Sequence[MixedPart]) -> Classification:
    return classify_as_formed(
        parts,
        ph=plan.ph,
        ph_bounds=plan.ph_bounds,
        regime=plan.hazard.regime,
        solid=plan.solution.dry,
    )


def _reason(verdict: Classification, hazard_class: str) -> str:
    """The sum beside its limit, as the rules tell it."""
    texts = (r.text for r in verdict.because if r.hazard_class == hazard_class)
    return next(texts, "").removeprefix("not reached: ")


def _settled_by(plan: Plan) -> str:
    density = plan.solution.density
    if not _by_weight(plan) and (density is None or density.source != "measured"):
        return "A measured density settles it; until then it is labelled as reckoned."
    return "Weigh and fill up with care: it is labelled as reckoned."


def _by_weight(plan: Plan) -> bool:
    """Whether its shares go by weight alone."""
    return plan.solution.weighed_whole or plan.job.volume_mL is None


def _band(plan: Plan, parts: Sequence[MixedPart], settings: Settings) -> _Band:
    thin, thick = _density_factors(plan)
    spread = {p.data.id: _spread(plan, p.data.id, settings) for p in parts}
    return _Band(
        low={c: thick * max(1 - one, NOTHING) for c, one in spread.items()},
        high={c: thin * (1 + one) for c, one in spread.items()},
    )


def _density_factors(plan: Plan) -> tuple[Decimal, Decimal]:
    """From the shares used to those at an estimated density 2 % lower, 2 % higher."""
    density = plan.solution.density
    if _by_weight(plan) or density is None or density.source == "measured":
        return Decimal(1), Decimal(1)
    share = min(density.g_per_mL, Decimal(1)) / density.g_per_mL
    return share / (1 - BAND), share / (1 + BAND)


def _spread(plan: Plan, chemical: str, settings: Settings) -> Decimal:
    """Expanded uncertainty (k = 2) of its share, from balance and cylinder."""
    volume_mL, filled = plan.job.volume_mL, 0.0
    if volume_mL is not None and not plan.solution.weighed_whole:
        filled = volume_u_mL(settings.cylinder_mL) / float(volume_mL)
    return Decimal(COVERAGE * hypot(_dose_u(plan, chemical), filled))


def _dose_u(plan: Plan, chemical: str) -> float:
    """Of all its doses together; of what was formed, that of the worst reagent."""
    doses = zip(plan.job.doses, plan.weighings, strict=True)
    found = [
        (float(dose.mass_g or dose.volume_mL or 0), one.relative_u or POURED_U)
        for dose, one in doses
        if dose.chemical == chemical
    ]
    if not found:
        return max((w.relative_u or POURED_U for w in plan.weighings), default=POURED_U)
    return hypot(*(m * u for m, u in found)) / sum(m for m, _ in found)


def _moved(
    parts: Sequence[MixedPart], factors: Mapping[str, Decimal]
) -> tuple[MixedPart, ...]:
    moved = [_times(part, factors[part.data.id]) for part in parts]
    fullest = max(
        sum((part.added for part in moved), Decimal(0)),
        sum((part.present for part in moved), Decimal(0)),
    )
    if fullest <= WHOLE:
        return tuple(moved)
    return tuple(_times(part, WHOLE / fullest) for part in moved)


def _times(part: MixedPart, factor: Decimal) -> MixedPart:
    return replace(
        part,
        added=part.added * factor,
        consumed=part.consumed * factor,
        formed=part.formed * factor,
    )


def _ph(plan: Plan, parts: Sequence[MixedPart]) -> Iterator[Check]:
    if plan.ph is None:
        return
    low, high = _ph_band(plan.ph)
    for limit, way in ((ACID_LIMIT_PH, "down to"), (BASE_LIMIT_PH, "from")):
        if low <= limit <= high and _ph_decides(plan, parts, low, high):
            text = (
                f"{_told(plan.ph)}; {way} {limit:g} it is labelled as corrosive: "
                f"measure it{' again' if plan.ph.measured else ''} with a calibrated "
                "meter."
            )
            yield Check("near-limit", Level.NOTE, None, text)


def _ph_band(ph: Acidity) -> tuple[float, float]:
    if not ph.measured:
        return ph.low, ph.high
    return round(ph.value - METER_PH, 6), round(ph.value + METER_PH, 6)


def _ph_decides(
    plan: Plan, parts: Sequence[MixedPart], low: float, high: float
) -> bool:
    """Whether the label is another one at the two ends of the band."""
    ends = (Acidity(value, value, value, "measured") for value in (low, high))
    one, other = (_classified(replace(plan, ph=end), parts) for end in ends)
    return one.classes != other.classes


def _told(ph: Acidity) -> str:
    if ph.measured:
        return f"pH {ph.value:g} measured"
    return f"pH about {ph.value:.1f} by estimate ({ph.low:.1f} to {ph.high:.1f})"
