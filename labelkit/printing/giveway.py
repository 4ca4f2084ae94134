"""What may give way on a label, and in which order."""

from collections.abc import Callable, Iterator

from msgspec.structs import replace

from labelkit.hazards.label_size import label_size
from labelkit.mixing.words import BottleText
from labelkit.printing.drawn import Choices
from labelkit.printing.layouts import Layout, LayoutBox, conditions_of

__all__ = ["GROWTH_PT", "GROWTH_SIDE_MM", "Give", "first_choices", "gives", "told"]

# Between what Table 1.3 of Annex I prefers and its least [mm]; ours.
_BETWEEN_MM = 13.0
_HEADLINE_STEP_PT = 4.0
# Running text is set as large as it finds room for [pt].
GROWTH_PT = (
    20.0,
    18.0,
    16.0,
    14.0,
    13.2,
    12.4,
    11.7,
    11.0,
    10.5,
    9.9,
    9.4,
    8.8,
    8.3,
    7.7,
    7.2,
)
GROWTH_SIDE_MM = (46.0, 32.0, 28.0, 23.0, 19.0)

Give = Callable[[Choices], Choices]


def first_choices(text: BottleText, layout: Layout) -> Choices:
    """Everything as it is wanted, less what the layout has no box for."""
    shown = _fields(text, layout)
    return Choices(
        side=_sides(text)[0],
        cautions="cautions" in shown,
        scale="scale" in shown,
        write_in="write-in" in shown,
        tally="tally" in shown,
    )


def gives(text: BottleText, layout: Layout, profile: str) -> Iterator[Give]:
    """What gives way, the first to go first; only what the label has to give."""
    shown = _fields(text, layout)
    yield lambda choices: replace(choices, tight=True)
    if text.cautions and "cautions" in shown:
        yield lambda choices: replace(choices, cautions=False)
    yield lambda choices: replace(choices, run_together=True)
    sides = list(_side_gives(text))
    scale = list(_scale_gives(text, shown))
    yield from (*scale, *sides) if profile == "supply" else (*sides, *scale)
    yield from _headline_gives(text, layout)
    yield from _row_gives(text, layout, shown)
    if _code_can_move(text, layout):
        yield lambda choices: replace(choices, code_stays=False)


def _side_gives(text: BottleText) -> Iterator[Give]:
    if text.hazard.pictograms:
        for side in _sides(text)[1:]:
            yield _smaller_pictograms(side)


def _smaller_pictograms(side: float) -> Give:
    return lambda choices: replace(choices, side=side)


def _scale_gives(text: BottleText, shown: set[str]) -> Iterator[Give]:
    if text.headline.scale and "scale" in shown:
        yield lambda choices: replace(choices, scale=False)


def _headline_gives(text: BottleText, layout: Layout) -> Iterator[Give]:
    boxes = [box for box in _boxes(text, layout) if box.kind == "headline"]
    most = max((box.wanted - box.smallest for box in boxes), default=0.0)
    down = 0.0
    while down < most:
        down = min(down + _HEADLINE_STEP_PT, most)
        yield _smaller_headline(down)


def _smaller_headline(down: float) -> Give:
    return lambda choices: replace(choices, headline_down=down)


def _row_gives(text: BottleText, layout: Layout, shown: set[str]) -> Iterator[Give]:
    write_in = text.write_in and "write-in" in shown
    tally = text.tally is not None and "tally" in shown
    can_go = write_in + tally - layout.keeps_rows
    if write_in and can_go > 0:
        yield lambda choices: replace(choices, write_in=False)
    if tally and can_go - write_in > 0:
        yield lambda choices: replace(choices, tally=False)


def _code_can_move(text: BottleText, layout: Layout) -> bool:
    boxes = _boxes(text, layout)
    moves = any(box.kind == "code" and box.moves_to_hazards for box in boxes)
    return moves and not text.hazard.none_reached


def _sides(text: BottleText) -> tuple[float, ...]:
    """Sides of a pictogram [mm], the wanted one first, down to the least."""
    size = label_size(text.volume_mL / 1000)
    least, wanted = size.pictogram_min_mm, size.pictogram_preferred_mm
    between = (_BETWEEN_MM,) if least < _BETWEEN_MM < wanted else ()
    return tuple(dict.fromkeys((float(wanted), *between, float(least))))


def _boxes(text: BottleText, layout: Layout) -> tuple[LayoutBox, ...]:
    return layout.boxes_for(conditions_of(text))


def _fields(text: BottleText, layout: Layout) -> set[str]:
    return {field for box in _boxes(text, layout) for field in box.shows}


def told(text: BottleText, layout: Layout, choices: Choices) -> tuple[str, ...]:
    """What gave way, in words, in the order in which it did."""
    if layout.kind != "label":
        return ()
    wanted = first_choices(text, layout)
    said = (
        (choices.tight, "less white between the blocks"),
        (text.cautions and not choices.cautions, "handling cautions are on the card"),
        (choices.run_together, "first words and what is not known run together"),
        (
            text.hazard.pictograms and choices.side < wanted.side,
            f"pictograms {choices.side:g} mm instead of {wanted.side:g}",
        ),
        (text.headline.scale and not choices.scale, "the twin scale is on the card"),
        (choices.headline_down, f"headline {choices.headline_down:g} pt smaller"),
        (text.write_in and not choices.write_in, "no row to write opening dates in"),
        (text.tally and not choices.tally, "no tally"),
        (not choices.code_stays, "the code stands beside the hazards"),
    )
    return tuple(words for is_so, words in said if is_so)
