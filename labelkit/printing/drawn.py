"""What every box of a label is drawn from, and what drawing one gives back."""

from msgspec import Struct

from labelkit.mixing.words import BottleText
from labelkit.printing.boxes import Box
from labelkit.printing.layouts import LayoutBox

__all__ = ["Choices", "Drawn", "Setting"]


class Choices(Struct, frozen=True, gc=False):
    """What has given way so far, and how large running text is set.

    Attributes:
        side: of the pictograms [mm].
        tight: less white between the blocks.
        headline_down: how far the headline is below its wanted size [pt].
        text_pt: running text is set up to this size, if its box wants to be [pt].
        hazard_pt: the same of the hazard block [pt].
    """

    side: float
    tight: bool = False
    cautions: bool = True
    run_together: bool = False
    scale: bool = True
    headline_down: float = 0.0
    write_in: bool = True
    tally: bool = True
    code_stays: bool = True
    text_pt: float = 0.0
    hazard_pt: float = 0.0


class Setting(Struct, frozen=True, gc=False):
    """A bottle's words with all that decides how they are set.

    Attributes:
        least_pt: the smallest type for a bottle of this size [pt].
        frame: ``red`` or ``black``.
        keyline: a black edge outside the frame.
        code_room: the right end of the identity panel where the code has left it [mm].
    """

    text: BottleText
    choices: Choices
    least_pt: float
    frame: str
    keyline: bool
    code_room: float = 0.0

    def running_pt(self, box: LayoutBox) -> float:
        """Type size of running text in a box [pt]."""
        choices = self.choices
        grown = choices.hazard_pt if box.kind == "hazards" else choices.text_pt
        return max(self.least_pt, box.smallest, min(box.wanted, grown))


class Drawn(Struct, frozen=True, gc=False):
    """A box as drawn: what it holds, where it ends, and what is left of its room.

    Attributes:
        bottom: where the next box may begin [mm].
        spare: room left; below 0 what is missing; None where it has no end [mm].
    """

    boxes: tuple[Box, ...]
    bottom: float
    spare: float | None = None
