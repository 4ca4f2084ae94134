"""How large a label must be for its bottle: the law's table against a layout."""

from labelkit.errors import Misfit
from labelkit.hazards.label_size import label_size
from labelkit.mixing.words import BottleText
from labelkit.printing.layouts import Layout

__all__ = ["too_small_by_law"]

_IF_POSSIBLE_mL = 3000


def too_small_by_law(text: BottleText, layout: Layout) -> Misfit | None:
    """A label smaller than Table 1.3 asks for; None where it is large enough.

    Regulation (EC) No 1272/2008, Annex I, 1.2.1.4: an error where a bottle is supplied,
    advice else. Up to 3 L the size holds "if possible", and nothing is asked for where
    no class is reached.
    """
    if text.hazard.none_reached or text.volume_mL <= _IF_POSSIBLE_mL:
        return None
    short, long = label_size(text.volume_mL / 1000).label_mm
    low, high = sorted((layout.width, layout.height))
    if low >= short and high >= long:
        return None
    return Misfit(f"a label for such a bottle measures {short} x {long} mm or more")
