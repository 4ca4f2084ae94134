"""A dilution on the terminal and as JSON."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.amounts import Amount, Dimension
from labelkit.chemistry.display import figures, plain, show_amount, show_mass_g
from labelkit.cli.words import WIDTH, ends, fact
from labelkit.mixing.answers import number
from labelkit.mixing.bench import Settings
from labelkit.mixing.dilution import (
    Concentration,
    Diluted,
    Pour,
    fine_enough_mL,
    readable,
)
from labelkit.mixing.shown import shown_volume

__all__ = ["Told", "dilution_json", "dilution_lines"]


class Told(Struct, frozen=True):
    """A dilution with everything that is said of it.

    Attributes:
        graduation_mL: of the cylinder it is measured with [mL].
        ratio: (); or the parts.
        least_mL: of stock, that one ``least_of`` needs [mL]; None where nobody said.
        batches: others whose parts the cylinder can read.
    """

    found: Diluted
    settings: Settings
    graduation_mL: Decimal
    ratio: tuple[Decimal, ...] = ()
    strong: Concentration | None = None
    weak: Concentration | None = None
    least_mL: Decimal | None = None
    least_of: str = "use"
    batches: tuple[Diluted, ...] = ()

    def shown(self, pour: Pour) -> str:
        """``100 mL``, as the cylinder reads; grams where it is weighed."""
        if pour.volume_mL <= 0 and pour.mass_g is not None:
            return show_mass_g(pour.mass_g, self.settings.balance_g)
        settings = replace(self.settings, cylinder_mL=self.graduation_mL)
        return shown_volume(pour.volume_mL, settings)

    def unread(self) -> tuple[Pour, ...]:
        """What the cylinder does not tell within 5 %."""
        pours = self.found.pours[:-1] if self.found.fills else self.found.pours
        return tuple(
            p
            for p in pours
            if p.volume_mL > 0 and not readable(p.volume_mL, self.graduation_mL)
        )

    @property
    def least_make_mL(self) -> Decimal | None:
        """What must be made at least, so that the stock is enough [mL]."""
        if self.least_mL is None or not self.ratio:
            return None
        return self.least_mL * sum(self.ratio, Decimal(0)) / self.ratio[0]

    @property
    def enough(self) -> bool:
        """Whether the stock is enough for one use."""
        least = self.least_mL
        return least is None or self.found.pours[0].volume_mL >= least


def dilution_json(told: Told) -> dict[str, Any]:
    """A dilution as JSON."""
    unread = told.unread()
    return {
        "make": {"mL": number(told.found.make_mL)},
        "measure": [_pour_json(pour, told) for pour in told.found.pours],
        "from": str(told.strong) if told.strong else None,
        "to": str(told.weak) if told.weak else None,
        "ratio": "+".join(plain(part) for part in told.ratio) or None,
        "fill_up": told.found.fills,
        "measurable": not unread,
        "batches": [_batch_json(batch) for batch in told.batches] if unread else [],
        "least": None
        if told.least_mL is None
        else {
            "mL": number(told.least_mL),
            "of": told.least_of,
            "enough": told.enough,
            "make_mL": number(told.least_make_mL),
        },
        "notes": list(told.found.notes),
    }


def dilution_lines(told: Told) -> Iterator[str]:
    """A dilution in words, 78 wide."""
    title = " + ".join(plain(part) for part in told.ratio)
    if told.strong and told.weak:
        title = f"{told.strong} to {told.weak}"
    made = told.found.make_mL
    whole = f"makes {show_amount(_mL(made))}" if made > 0 else ""
    yield ends(title, whole)
    yield "=" * WIDTH
    for place, pour in enumerate(told.found.pours):
        last = place == len(told.found.pours) - 1
        if told.found.fills and last:
            yield ends(f"   fill up with {pour.part} to", show_amount(_mL(made)))
        else:
            yield ends(f"   {pour.part}", told.shown(pour))
    yield from _remarks(told)


def _remarks(told: Told) -> Iterator[str]:
    for note in told.found.notes:
        yield fact("note", note)
    if not told.enough and told.least_mL and told.least_make_mL:
        stock = figures(told.found.pours[0].volume_mL, 3)
        yield fact(
            "WARN",
            f"one {told.least_of} needs {figures(told.least_mL, 3)} mL of stock, here "
            f"are {stock} mL: make {figures(told.least_make_mL, 3)} mL or more.",
        )
    unread = told.unread()
    if unread:
        parts = ", ".join(
            dict.fromkeys(f"{figures(p.volume_mL, 3)} mL" for p in unread)
        )
        yield fact(
            "WARN",
            f"a cylinder of {plain(told.graduation_mL)} mL a line does not tell "
            f"{parts} to 5 %: {_instead(told)}.",
        )


def _instead(told: Told) -> str:
    fine = fine_enough_mL(p.volume_mL for p in told.unread())
    finer = f"take one of {plain(fine)} mL a line" if fine else "weigh it instead"
    if not told.batches:
        return finer
    offered = [
        f"{' + '.join(plain(p.volume_mL) for p in batch.pours)} mL make "
        f"{show_amount(_mL(batch.make_mL))}"
        for batch in told.batches
    ]
    return f"{finer}, or make more ({'; '.join(offered)})"


def _pour_json(pour: Pour, told: Told) -> dict[str, Any]:
    weighed = {"g": number(pour.mass_g)} if pour.mass_g is not None else {}
    volume = number(pour.volume_mL) if pour.volume_mL > 0 else None
    return {"part": pour.part, "mL": volume, "show": told.shown(pour)} | weighed


def _batch_json(batch: Diluted) -> dict[str, Any]:
    return {
        "make_mL": number(batch.make_mL),
        "mL": [number(pour.volume_mL) for pour in batch.pours],
    }


def _mL(volume_mL: Decimal) -> Amount:
    return Amount(volume_mL, Dimension.VOLUME)
