"""The five loads on every layout: placed boxes, box by box, or why they do not fit."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from labelkit.errors import Misfit
from labelkit.mixing.bench import Settings
from labelkit.printing.label import place_label
from labelkit.printing.layouts import built_in, layout_named
from tests.printing.conftest import CheckGolden
from tests.printing.label_texts import LOADS
from tests.printing.placed import as_text

LAYOUTS = [layout.name for layout in built_in()]


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("load", LOADS)
def test_a_label_is_placed_as_it_was_before(
    load: str, layout: str, check_golden: CheckGolden
) -> None:
    text = replace(LOADS[load], volume_mL=Decimal(500))
    settings = Settings(profile="room")
    try:
        placement = place_label(text, layout=layout_named(layout), settings=settings)
    except Misfit as misfit:
        told = f"{misfit}\n"
    else:
        gave_way = ", ".join(placement.steps) or "nothing"
        told = f"gave way: {gave_way}; {placement.spare:.1f} mm to spare\n"
        told += as_text((placement.page,))
    check_golden(f"labels/{layout}-{load}", told)
