"""Fitting a bottle's words to a layout, and choosing the layout.

Nothing is clipped and nothing is set smaller than its minimum: what does not fit gives
way in a fixed order, and what may not give way asks for a larger label.
"""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from math import inf

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput, Misfit
from labelkit.mixing.words import BottleText
from labelkit.printing.boxes import Box, Page
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
from labelkit.printing.layouts import (
    Layout,
    built_in,
    by_size,
    conditions_of,
    layout_named,
)
from labelkit.printing.least_size import too_small_by_law
from labelkit.printing.leaves import apart, folded
from labelkit.printing.place import place
from labelkit.printing.said import missing

__all__ = ["Placement", "choose", "fit"]

_SLACK_MM = 1e-6
# On a small bottle a layout made for it is taken only up to this many times the area of
# the smallest that carries everything; ours.
_WORTH_BEING_MADE_FOR = 1.5
_BIG_BOTTLE_mL = 1000.0
_FIGURE = re.compile(r"[1-9]")
_SIGN = re.compile(r"[0-9A-Z]")
_WHAT_IT_IS_FOR = {
    "no class": "reaches no hazard class",
    "no part": "is not part of a set",
    "class": "reaches a hazard class",
    "part": "is part of a set",
}


class Placement(Struct, frozen=True):
    """A bottle's words in their places.

    Attributes:
        layout: name of the layout.
        steps: what gave way, in words.
        spare: height left over [mm].
        apart: the page's halves are two labels.
        by_itself: it is a label; not what only goes on the glass under a tag.
    """

    page: Page
    layout: str
    steps: tuple[str, ...]
    spare: float
    apart: bool = False
    by_itself: bool = True

    @property
    def pages(self) -> tuple[Page, ...]:
        """What is printed for the bottle, together or not at all."""
        return apart(self.page) if self.apart else (self.page,)


def fit(
    text: BottleText, layout: Layout, *, profile: str, mono: bool, keyline: bool
) -> Placement:
    """The bottle's words in a layout, with as much of what may give way as fits.

    Raises:
        Misfit: what may not give way does not fit; the remedy names a layout that does.
        BadInput: a supplied label in black only.
    """
    if profile == "supply" and mono:
        raise BadInput(
            "a supplied bottle needs red frames",
            place="mono",
            remedy='Print in colour, or write profile = "room".',
        )
    try:
        return _fitted(text, layout, profile, "black" if mono else "red", keyline)
    except Misfit as misfit:
        raise Misfit(
            misfit.faults[0].problem,
            place=f"layout {layout.name}",
            remedy=_remedy(text, layout, profile),
        ) from None


def choose(
    text: BottleText,
    layouts: Iterable[Layout],
    profile: str,
    preferred: str = "",
    beside: tuple[BottleText, ...] = (),
) -> Layout:
    """The smallest layout that carries everything and is made for such a bottle.

    Where none that is made for it does, the smallest that carries everything at all.

    Args:
        text: the bottle's words.
        layouts: those of the bench beside the built-in ones.
        profile: ``own``, ``room`` or ``supply``.
        preferred: the name of a layout; it is taken whatever the bottle.
        beside: words of the other parts of its set; the parts look alike where one
            layout carries them all.

    Raises:
        Unknown: there is no layout of the preferred name.
        Misfit: none carries it.
    """
    own = tuple(layouts)
    if preferred:
        return layout_named(preferred, own)
    every = {layout.name: layout for layout in (*built_in(), *own)}
    known = [layout for layout in every.values() if not layout.waits_for_its_name]
    known.sort(key=by_size)
    for texts in [(text, *beside), (text,)] if beside else [(text,)]:
        chosen = _chosen(texts, known, profile)
        if chosen is not None:
            return chosen
    raise Misfit(
        f"no layout carries {quoted(text.name)} on a bottle of {text.volume_mL:f} mL",
        remedy=_SHORTEN,
    )


_SHORTEN = "Shorten the title or the recipe's own words, or bring a larger layout."


def _chosen(
    texts: tuple[BottleText, ...], known: list[Layout], profile: str
) -> Layout | None:
    """The layout for bottles that are to look alike; the first is the one meant."""

    def carried(layouts: Iterable[Layout]) -> Iterator[Layout]:
        for layout in layouts:
            large = all(too_small_by_law(text, layout) is None for text in texts)
            alike = large and all(_carries(text, layout, profile) for text in texts)
            if alike and _takes(texts[0], layout, profile):
                yield layout

    smallest = next(carried(known), None)
    if smallest is None:
        return None
    small_bottle = float(texts[0].volume_mL) < _BIG_BOTTLE_mL
    most = smallest.area * _WORTH_BEING_MADE_FOR if small_bottle else inf
    fitting = (layout for layout in known if layout.area <= most)
    made_for_it = [f for f in fitting if all(_is_made_for(f, text) for text in texts)]
    made_for_it.sort(key=lambda layout: not layout.first)
    return next(carried(made_for_it), smallest)


def _is_made_for(layout: Layout, text: BottleText) -> bool:
    conditions = conditions_of(text)
    small_enough = float(text.volume_mL) <= layout.up_to_mL
    return small_enough and conditions.issuperset({*layout.chosen, *layout.only})


def _remedy(text: BottleText, layout: Layout, profile: str) -> str:
    carrying = (
        other
        for other in built_in()
        if other != layout
        and other.kind == "label"
        and too_small_by_law(text, other) is None
        and _carries(text, other, profile)
    )
    found = list(carrying)
    smallest = next((other for other in found if not other.waits_for_its_name), None)
    if smallest is None:
        return _SHORTEN
    told = f"Use --layout {smallest.name}, the smallest that carries it"
    two = next((other for other in found if other.halves == "apart"), None)
    return f"{told}; or {two.name}, two labels." if two else f"{told}."


def _carries(text: BottleText, layout: Layout, profile: str) -> bool:
    """Whether a layout carries the label of such a bottle, whatever its number."""
    return isinstance(_outcome(_like(text), layout, profile), _Found)


def _takes(text: BottleText, layout: Layout, profile: str) -> bool:
    """Whether a layout that carries such bottles carries this one, number and all."""
    found = _outcome(_like(text), layout, profile)
    if isinstance(found, Misfit):
        return False
    if _Look(text, layout).placed(found.choices) is not None:
        return True
    return isinstance(_outcome(text, layout, profile), _Found)


def _fitted(
    text: BottleText, layout: Layout, profile: str, frame: str, keyline: bool
) -> Placement:
    look = _Look(text, layout, frame, keyline)
    found = _outcome(_like(text), layout, profile)
    drawn = None if isinstance(found, Misfit) else look.placed(found.choices)
    if isinstance(found, Misfit) or drawn is None:
        found = _outcome(text, layout, profile)
        if isinstance(found, Misfit):
            raise found
        drawn = place(layout, look.setting(found.choices))
    boxes, spare = drawn
    page = Page(layout.width, layout.height, boxes, text.name)
    if layout.halves == "folded":
        page = folded(page)
    return Placement(
        page,
        layout.name,
        found.steps,
        round(spare, 3),
        apart=layout.halves == "apart",
        by_itself=layout.is_a_label_of(text),
    )


def _like(text: BottleText) -> BottleText:
    """The words without what differs from bottle to bottle and from batch to batch.

    What gives way is the same for all of them and is found once.
    """
    return replace(
        text,
        number=_SIGN.sub("0", text.number),
        name=_zeros(text.name),
        bottle=_zeros(text.bottle),
        made=_zeros(text.made),
        discard=_zeros(text.discard),
        strength=tuple(map(_zeros, text.strength)),
        code="",
        code_means="",
    )


def _zeros(text: str) -> str:
    """The text with its figures alike; they are all as wide."""
    return _FIGURE.sub("0", text)


class _Look(Struct, frozen=True):
    """A bottle's words in a layout, to be placed with one choice or another."""

    text: BottleText
    layout: Layout
    frame: str = "red"
    keyline: bool = True

    def placed(self, choices: Choices) -> tuple[tuple[Box, ...], float] | None:
        """The boxes and what is to spare; None where it does not fit."""
        try:
            boxes, spare = place(self.layout, self.setting(choices))
        except Misfit:
            return None
        return (boxes, spare) if spare >= -_SLACK_MM else None

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


class _Found(Struct, frozen=True):
    """What gives way, and the same in words."""

    choices: Choices
    steps: tuple[str, ...]


@lru_cache(maxsize=2048)
def _outcome(text: BottleText, layout: Layout, profile: str) -> _Found | Misfit:
    """What gives way, or what is missing; the answer is kept, whichever it is."""
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
    boxes, _ = place(layout, _Look(text, layout).setting(choices))
    page = Page(layout.width, layout.height, boxes)
    left_off = missing(text, page, layout.kind)
    if left_off:
        return Misfit(f"it leaves off {'; '.join(left_off)}")
    return _Found(choices, told(text, layout, choices))


def _decided(text: BottleText, layout: Layout, profile: str) -> Choices:
    """What gives way: as little as will do, then type as large as there is room for.

    Raises:
        Misfit: everything has given way and something is still missing.
    """
    look = _Look(text, layout)
    first = first_choices(text, layout)
    taken: list[Give] = []
    waiting = gives(text, layout, profile)
    while look.placed(_given(first, taken)) is None:
        give = next(waiting, None)
        if give is None:
            raise _lack(look, [_given(first, taken[:n]) for n in range(len(taken) + 1)])
        taken.append(give)
    for index in reversed(range(len(taken) - 1)):
        fewer = taken[:index] + taken[index + 1 :]
        if look.placed(_given(first, fewer)) is not None:
            taken = fewer
    return _grown(look, _given(first, taken))


def _given(choices: Choices, taken: Iterable[Give]) -> Choices:
    for give in taken:
        choices = give(choices)
    return choices


def _grown(look: _Look, choices: Choices) -> Choices:
    hazards_pt = (box.wanted for box in look.layout.boxes if box.kind == "hazards")
    most = max(hazards_pt, default=0.0)
    sizes = [size for size in GROWTH_PT if size <= most]
    hazards = (replace(choices, hazard_pt=size) for size in sizes)
    choices = _first_placed(look, hazards, choices)
    if choices.side == first_choices(look.text, look.layout).side:
        choices = _first_placed(look, _larger_symbols(look.layout, choices), choices)
    others = (replace(choices, text_pt=size) for size in sizes)
    return _first_placed(look, others, choices)


def _first_placed(look: _Look, tried: Iterable[Choices], otherwise: Choices) -> Choices:
    fitting = (choices for choices in tried if look.placed(choices) is not None)
    return next(fitting, otherwise)


def _larger_symbols(layout: Layout, choices: Choices) -> Iterator[Choices]:
    for side in GROWTH_SIDE_MM:
        if choices.side < side <= layout.largest_symbol_mm:
            yield replace(choices, side=side)


def _lack(look: _Look, tried: Iterable[Choices]) -> Misfit:
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
