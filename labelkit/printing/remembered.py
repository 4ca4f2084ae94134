"""Boxes drawn once and taken again where nothing they show has changed.

Labels of one batch differ in their number, labels of one bench in name and date; all
else on them is the same, and the search for what gives way draws it many times over.
"""

from collections.abc import Callable
from operator import attrgetter
from typing import Any

from msgspec import Struct

from labelkit.printing.drawn import Drawn, Setting
from labelkit.printing.layouts import Layout, LayoutBox

__all__ = ["WORDS_SHOWN", "forget", "remembered"]

Draw = Callable[[LayoutBox, float, Setting], Drawn]
Key = tuple[object, ...]

_MOST = 8192

# What of a bottle's words a field shows.
WORDS_SHOWN: dict[str, tuple[str, ...]] = {
    "name": ("name",),
    "part": ("part",),
    "goes-with": ("part",),
    "ratio": ("part",),
    "headline": ("headline",),
    "substance": ("headline", "name"),
    "beside": ("headline",),
    "strength": ("strength",),
    "contents": ("contents",),
    "cautions": ("cautions",),
    "made": ("made",),
    "mixed": ("mixed", "by"),
    "by": ("mixed", "by", "made"),
    "supplier": ("supplier",),
    "discard": ("discard_label", "discard"),
    "off-when": ("off_when",),
    "number": ("number",),
    "bottle": ("bottle", "use_mark"),
    "count": ("bottle",),
    "use-mark": ("use_mark",),
    "code": ("code", "code_means"),
    "scale": ("headline", "volume_mL"),
    "write-in": ("write_in",),
    "tally": ("tally",),
    "tally-caption": ("tally",),
    "rule": (),
    "hazards": ("hazard", "first_words", "never_with", "aid", "aid_full", "name",
                "number", "part", "code", "code_means"),
    "foot": ("hazard", "emergency"),
    "pictograms": ("hazard",),
    "hole": (),
    "cap": ("name", "part", "strength", "number"),
    "label-1": (),
    "label-2": (),
    "on-the-tag": (),
}  # fmt: skip
# What of the choices and of the rest of a setting decides how it is drawn.
_CHOICES: dict[str, tuple[str, ...]] = {
    "headline": ("headline_down",),
    "cautions": ("cautions",),
    "code": ("code_stays",),
    "scale": ("scale",),
    "write-in": ("write_in",),
    "tally": ("tally",),
    "tally-caption": ("tally",),
    "hazards": ("side", "run_together", "code_stays", "hazard_pt"),
    "pictograms": ("side", "text_pt", "tight"),
}
_REST: dict[str, tuple[str, ...]] = {
    "headline": ("code_room",),
    "hazards": ("frame", "keyline"),
    "pictograms": ("frame", "keyline"),
}


class _Last(Struct):
    """How a box was drawn the last time: most often it is drawn so again."""

    layout: Layout  # holds its boxes, so that their ids stay theirs
    getter: Callable[[Setting], Any]
    top: float = 0.0
    values: Any = None
    drawn: Drawn | None = None


_last: dict[int, _Last] = {}
_drawn: dict[Key, Drawn] = {}


def remembered(
    layout: Layout, box: LayoutBox, top: float, setting: Setting, draw: Draw
) -> Drawn:
    """A box as it was drawn before with the same words, or drawn now.

    Raises:
        Misfit: as drawing it does.
    """
    if box.words:
        return draw(box, top, setting)
    last = _last.get(id(box))
    if last is None or last.layout is not layout:
        last = _last[id(box)] = _Last(layout, _getter(box))
    values = last.getter(setting)
    if last.drawn is not None and last.top == top and last.values == values:
        return last.drawn
    key = (layout, id(box), top, values)
    found = _drawn.get(key)
    if found is None:
        if len(_drawn) >= _MOST:
            _drawn.clear()
        found = _drawn[key] = draw(box, top, setting)
    last.top, last.values, last.drawn = top, values, found
    return found


def forget() -> None:
    """Draw everything anew from here on."""
    _drawn.clear()
    _last.clear()


def _getter(box: LayoutBox) -> Callable[[Setting], Any]:
    names = ["least_pt"]
    for field in box.shows:
        names += [f"text.{name}" for name in WORDS_SHOWN[field]]
        names += [f"choices.{name}" for name in _CHOICES.get(field, ())]
        names += _REST.get(field, ())
    if box.arranged == "paragraph":
        names.append("choices.text_pt")
    return attrgetter(*dict.fromkeys(names))
