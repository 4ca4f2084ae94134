"""Fitting a bottle's words to a layout, and choosing the layout.

Nothing is clipped and nothing is set smaller than its minimum: what does not fit gives
way in a fixed order, and what may not give way asks for a larger label.
"""

import re
from collections.abc import Iterable, Iterator
from math import inf

from msgspec import Struct
from msgspec.structs import replace

from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput, Misfit
from labelkit.mixing.words import BottleText
from labelkit.printing.boxes import Page
from labelkit.printing.fonts import figures_alike
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
from labelkit.printing.search import Found, Look, carried, found, left_off, outcome

__all__ = ["Placement", "choose", "fit"]

# On a small bottle a layout made for it is taken only up to this many times the area of
# the smallest that carries everything; ours.
_WORTH_BEING_MADE_FOR = 1.5
_BIG_BOTTLE_mL = 1000.0
_SIGN = re.compile(r"[0-9A-Z]")


class Placement(Struct, frozen=True, gc=False):
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
    return carried(_like(text), layout, profile) is not None


def _takes(text: BottleText, layout: Layout, profile: str) -> bool:
    """Whether a layout that carries such bottles carries this one, number and all."""
    way = carried(_like(text), layout, profile)
    if way is None:
        return False
    if Look(text, layout).fits(way.choices):
        return True
    return isinstance(outcome(text, layout, profile), Found)


def _fitted(
    text: BottleText, layout: Layout, profile: str, frame: str, keyline: bool
) -> Placement:
    look = Look(text, layout, frame, keyline)
    way = found(_like(text), layout, profile)
    drawn = look.placed(way.choices) if way else None
    if way is None or drawn is None or left_off(text, layout, drawn[0]):
        searched = outcome(text, layout, profile)
        if isinstance(searched, Misfit):
            raise searched
        way, drawn = searched, place(layout, look.setting(searched.choices))
    boxes, spare = drawn
    page = Page(layout.width, layout.height, boxes, text.name)
    if layout.halves == "folded":
        page = folded(page)
    return Placement(
        page,
        layout.name,
        way.steps,
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
        name=figures_alike(text.name),
        bottle=figures_alike(text.bottle),
        made=figures_alike(text.made),
        discard=figures_alike(text.discard),
        strength=tuple(map(figures_alike, text.strength)),
        code="",
        code_means="",
    )
