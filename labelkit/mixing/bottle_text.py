"""The words of a bottle's label, from a batch worked out from the weights as read."""

from datetime import datetime
from decimal import Decimal

from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.display import figures, plain, show_amount
from labelkit.mixing.batch import Batch
from labelkit.mixing.bench import Settings
from labelkit.mixing.dates import written
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.hazard_text import hazard_text, never_with_line
from labelkit.mixing.headline import headline_for
from labelkit.mixing.payload import batch_payload
from labelkit.mixing.plan import Plan
from labelkit.mixing.said import (
    AID,
    AID_FULL,
    NBSP,
    contents_words,
    first_words,
    strength_lines,
)
from labelkit.mixing.supplier import supplier_words
from labelkit.mixing.words import BottleText, HazardText, Headline, Run, Tally

__all__ = ["MOST_BOXES", "bottle_texts_for", "discard_words", "made_words", "use_words"]

MOST_BOXES = 24
USE_WORDS = {"all": "SHARED", "hold": "HOLD"}


def bottle_texts_for(
    batch: Batch, handbook: Handbook, settings: Settings
) -> tuple[BottleText, ...]:
    """The words of each bottle's label."""
    count = len(batch.bottles_mL)
    return tuple(
        _bottle_text(batch, n, count, volume_mL, handbook, settings)
        for n, volume_mL in enumerate(batch.bottles_mL, start=1)
    )


def discard_words(plan: Plan) -> tuple[str, str, str]:
    """Words before the date, the date or that none is known, and the sign it is off."""
    day = written(plan.discard_after)
    off = plan.recipe.off_when.removesuffix(".")
    if day is None:
        return "", "No discard date known: test before use.", f"{off}." if off else ""
    off_words = f"or when {off[:1].lower()}{off[1:]}." if off else ""
    return "Discard after", day, off_words


def made_words(batch: Batch, settings: Settings) -> str:
    """When, by whom and where: ``Mixed 2031-03-14 by M. Osei, Tern Street``."""
    timed = isinstance(batch.plan.discard_after, datetime)
    on = f"{batch.mixed_on:%Y-%m-%d %H:%M}" if timed else f"{batch.mixed_on:%Y-%m-%d}"
    by = f" by {batch.made_by}" if batch.made_by else ""
    room = f", {settings.room}" if settings.room else ""
    return f"Mixed {on.replace(' ', NBSP)}{by}{room}."


def made_apart(batch: Batch, settings: Settings) -> tuple[str, str]:
    """The same in two parts for a bath that keeps for hours: ``mixed 14:40``, by."""
    by = ", ".join(word for word in (batch.made_by, settings.room) if word)
    if not isinstance(batch.plan.discard_after, datetime) or not by:
        return "", ""
    return f"mixed{NBSP}{batch.mixed_on:%H:%M}", f"{by}."


def use_words(batch: Batch) -> str:
    """SHARED, ASK with the maker's name, HOLD, or nothing."""
    if batch.use == "maker":
        return f"ASK {batch.made_by}".strip()
    return USE_WORDS.get(batch.use, "")


def _bottle_text(
    batch: Batch,
    n: int,
    count: int,
    volume_mL: Decimal,
    handbook: Handbook,
    settings: Settings,
) -> BottleText:
    plan = batch.plan
    headline = _headline(plan, volume_mL, handbook)
    discard_label, discard, off_when = discard_words(plan)
    mixed, by = made_apart(batch, settings)
    contents = contents_words(plan, handbook.catalogue)
    if plan.ph is not None and plan.ph.measured and headline.scale is None:
        contents = (*contents, Run(f" pH{NBSP}{plan.ph.value:g} measured."))
    return BottleText(
        name=plan.recipe.title,
        number=batch.number,
        headline=headline,
        strength=strength_lines(plan),
        contents=contents,
        made=made_words(batch, settings),
        mixed=mixed,
        by=by,
        discard_label=discard_label,
        discard=discard,
        hazard=_with_warnings(
            hazard_text(plan.hazard, handbook, settings, dry=plan.solution.dry), batch
        ),
        first_words=first_words(plan.hazard.p),
        never_with=never_with_line(plan, handbook),
        aid=AID,
        aid_full=AID_FULL,
        code=_code(batch, headline, discard, settings),
        code_means=f"Code: the record of batch {batch.number}",
        volume_mL=volume_mL,
        bottle=f"bottle {n} of {count}" if count > 1 else "",
        part=plan.part,
        off_when=off_when,
        use_mark=use_words(batch),
        emergency=settings.emergency,
        supplier=supplier_words(settings),
        write_in=bool(plan.recipe.keeps_opened or plan.recipe.keeps_part_full),
        tally=_tally(plan, volume_mL),
    )


def _with_warnings(hazard: HazardText, batch: Batch) -> HazardText:
    """The hazard block, with the deadly remarks in spite of which it was mixed."""
    if not batch.acknowledged:
        return hazard
    said = f"Mixed in spite of a warning: {', '.join(batch.acknowledged)}."
    if hazard.none_reached:
        run = Run(f" {said}", strong=True)
        return replace(hazard, none_reached=(*hazard.none_reached, run))
    return replace(hazard, open_points=(*hazard.open_points, said))


def _headline(plan: Plan, volume_mL: Decimal, handbook: Handbook) -> Headline:
    return headline_for(
        plan.recipe,
        plan.solution.strength,
        plan.relative_u,
        volume_mL,
        plan.job.doses,
        handbook.catalogue,
        handbook.parts,
    )


def _code(batch: Batch, headline: Headline, discard: str, settings: Settings) -> str:
    plan = batch.plan
    return batch_payload(
        batch.number,
        base_url=settings.base_url,
        title=f"{plan.recipe.title} {plan.recipe.part}".strip(),
        equivalence=headline.text if headline.kind == "equivalence" else "",
        mixed=f"{batch.mixed_on:%Y-%m-%d}",
        discard=discard if plan.discard_after else "",
        signal=plan.hazard.signal,
    )


def _tally(plan: Plan, volume_mL: Decimal) -> Tally | None:
    """One box for each unit of the bottle's capacity; more than 24 share boxes."""
    capacity = plan.recipe.use.capacity if plan.recipe.use else None
    if capacity is None or capacity.per.dimension is not Dimension.VOLUME:
        return None
    units = int(capacity.amount * volume_mL / capacity.per.number)
    if units < 1:
        return None
    each = -(-units // MOST_BOXES)
    boxes = units // each
    of_volume = show_amount(
        Amount(Decimal(figures(volume_mL / boxes, 2)), Dimension.VOLUME)
    )
    what = capacity.unit if each == 1 else f"{plain(Decimal(each))} {capacity.unit}s"
    return Tally(
        boxes, f"one box, {_one(each)}{what}: {of_volume}".replace(" mL", f"{NBSP}mL")
    )


def _one(each: int) -> str:
    return "one " if each == 1 else ""
