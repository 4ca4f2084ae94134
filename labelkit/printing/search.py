"""What gives way on a label: as little as will do; then type as large as has room.

The search is long and most bottles of a run are set alike. So what it finds is kept for
every bottle whose words take as much room, whatever they say.
"""

from collections.abc import Iterable, Iterator
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.words import BottleText
from labelkit.printing.boxes import Box, Page
from labelkit.printing.decisive import Decisive, decisive
from labelkit.printing.drawn import Choices, Setting
from labelkit.printing.fonts import min_size_pt
from labelkit.printing.giveway import (
    GROWTH_PT,
    GROWTH_SIDE_MM,
    Give,
    first_choices,
    gives,
    told,
)
from labelkit.printing.layouts import Layout, conditions_of
from labelkit.printing.least_size import too_small_by_law
from labelkit.printing.place import SLACK_MM, fits, place
from labelkit.printing.remembered import forget as draw_anew
from labelkit.printing.said import missing

__all__ = ["Found", "Look", "carried", "forget", "found", "left_off", "outcome"]

_MOST = 2048
_WHAT_IT_IS_FOR = {
    "no class": "reaches no hazard class",
    "no part": "is not part of a set",
    "class": "reaches a hazard class",
    "part": "is part of a set",
}


class Look(Struct, frozen=True, gc=False):
    """A bottle's words in a layout, to be placed with one choice or another."""

    text: BottleText
    layout: Layout
    frame: str = "red"
    keyline: bool = True

    def fits(self, choices: Choices) -> bool:
        """Whether everything has room."""
        return fits(self.layout, self.setting(choices))

    def placed(self, choices: Choices) -> tuple[tuple[Box, ...], float] | None:
        """The boxes and what is to spare [mm]; None where it does not fit."""
        try:
            boxes, spare = place(self.layout, self.setting(choices))
        except Misfit:
            return None
        return (boxes, spare) if spare >= -SLACK_MM else None

    def setting(self, choices: Choices) -> Setting:
        """Everything that decides how the words are set."""
        least = min_size_pt(float(self.text.volume_mL))
        room = 0.0 if choices.code_stays else self._code_right()
        return Setting(self.text, choices, least, self.frame, self.keyline, room)

    def _code_right(self) -> float:
        """How far a headline may reach once the code beside it is gone [mm]."""
        boxes = self.layout.boxes_for(conditions_of(self.text))
        codes = [box for box in boxes if box.kind == "code"]
        lines = [box for box in boxes if box.kind == "headline"]
        beside = any(
            box.x >= line.right and box.right <= code.right and box.y < line.bottom
            for code in codes
            for line in lines
            for box in boxes
            if box is not code
        )
        return 0.0 if beside else max((code.right for code in codes), default=0.0)


class Found(Struct, frozen=True, gc=False):
    """What gives way, and the same in words."""

    choices: Choices
    steps: tuple[str, ...]


_known: dict[tuple[Decisive, Layout, str], Found | None] = {}


@lru_cache(maxsize=_MOST)
def found(text: BottleText, layout: Layout, profile: str) -> Found | None:
    """What gives way; None where not enough does. Searched for once for bottles alike.

    Why not is told by `outcome`: its words are the bottle's own.
    """
    key = (decisive(text, layout), layout, profile)
    if key not in _known:
        if len(_known) >= _MOST:
            _known.clear()
        searched = _searched(text, layout, profile)
        _known[key] = None if isinstance(searched, Misfit) else searched
    return _known[key]


@lru_cache(maxsize=_MOST)
def carried(text: BottleText, layout: Layout, profile: str) -> Found | None:
    """What gives way where then everything is said; else None."""
    way = found(text, layout, profile)
    return None if way is None or _omitted(text, layout, way.choices) else way


@lru_cache(maxsize=_MOST)
def outcome(text: BottleText, layout: Layout, profile: str) -> Found | Misfit:
    """What gives way, or what is missing in this bottle's own words."""
    searched = _searched(text, layout, profile)
    if isinstance(searched, Misfit):
        return searched
    omitted = _omitted(text, layout, searched.choices)
    return Misfit(f"it leaves off {'; '.join(omitted)}") if omitted else searched


def forget() -> None:
    """Search for everything anew from here on, and draw it anew."""
    _known.clear()
    for kept in (found, carried, outcome):
        kept.cache_clear()
    draw_anew()


def left_off(text: BottleText, layout: Layout, boxes: tuple[Box, ...]) -> list[str]:
    """What the label of a bottle must say and does not."""
    return missing(text, Page(layout.width, layout.height, boxes), layout.kind)


def _omitted(text: BottleText, layout: Layout, choices: Choices) -> list[str]:
    boxes, _ = place(layout, Look(text, layout).setting(choices))
    return left_off(text, layout, boxes)


def _searched(text: BottleText, layout: Layout, profile: str) -> Found | Misfit:
    if not layout.carries(conditions_of(text)):
        made_for = " and ".join(_WHAT_IT_IS_FOR.get(one, one) for one in layout.only)
        return Misfit(f"'{layout.name}' is for a bottle that {made_for}")
    too_small = too_small_by_law(text, layout)
    if too_small is not None and profile == "supply":
        return too_small
    try:
        choices = _decided(text, layout, profile)
    except Misfit as misfit:
        return misfit
    return Found(choices, told(text, layout, choices))


def _decided(text: BottleText, layout: Layout, profile: str) -> Choices:
    """What gives way: as little as will do, then type as large as there is room for.

    Raises:
        Misfit: everything has given way and something is still missing.
    """
    look = Look(text, layout)
    first = first_choices(text, layout)
    taken: list[Give] = []
    waiting = gives(text, layout, profile)
    while not look.fits(_given(first, taken)):
        give = next(waiting, None)
        if give is None:
            raise _lack(look, [_given(first, taken[:n]) for n in range(len(taken) + 1)])
        taken.append(give)
    for index in reversed(range(len(taken) - 1)):
        fewer = taken[:index] + taken[index + 1 :]
        if look.fits(_given(first, fewer)):
            taken = fewer
    return _grown(look, _given(first, taken))


def _given(choices: Choices, taken: Iterable[Give]) -> Choices:
    for give in taken:
        choices = give(choices)
    return choices


def _grown(look: Look, choices: Choices) -> Choices:
    hazards_pt = (box.wanted for box in look.layout.boxes if box.kind == "hazards")
    most = max(hazards_pt, default=0.0)
    sizes = [size for size in GROWTH_PT if size <= most]
    hazards = (replace(choices, hazard_pt=size) for size in sizes)
    choices = _first_that_fits(look, hazards, choices)
    if choices.side == first_choices(look.text, look.layout).side:
        larger = _larger_symbols(look.layout, choices)
        choices = _first_that_fits(look, larger, choices)
    others = (replace(choices, text_pt=size) for size in sizes)
    return _first_that_fits(look, others, choices)


def _first_that_fits(
    look: Look, tried: Iterable[Choices], otherwise: Choices
) -> Choices:
    return next(filter(look.fits, tried), otherwise)


def _larger_symbols(layout: Layout, choices: Choices) -> Iterator[Choices]:
    for side in GROWTH_SIDE_MM:
        if choices.side < side <= layout.largest_symbol_mm:
            yield replace(choices, side=side)


def _lack(look: Look, tried: Iterable[Choices]) -> Misfit:
    """What is missing when everything has given way that may."""
    spares: list[float] = []
    wrong = Misfit("nothing fits")
    for choices in tried:
        try:
            spares.append(place(look.layout, look.setting(choices))[1])
        except Misfit as misfit:
            wrong = misfit
    if not spares:
        return wrong
    size = f"{look.layout.width:g} x {look.layout.height:g} mm"
    missing = -max(spares)
    return Misfit(f"{size} is {missing:.1f} mm too low for everything it must say")
