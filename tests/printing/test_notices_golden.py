"""Each notice's placed boxes, box by box."""

import pytest

from labelkit.printing.notices import place_notice
from tests.printing.conftest import CheckGolden
from tests.printing.notice_texts import NOTICES
from tests.printing.placed import as_text


@pytest.mark.parametrize("name", NOTICES)
def test_a_notice_is_placed_as_it_was_before(
    name: str, check_golden: CheckGolden
) -> None:
    placement = place_notice(NOTICES[name])
    gave_way = "; ".join(placement.steps) or "nothing"
    told = f"gave way: {gave_way}\n{as_text((placement.page,))}"
    check_golden(f"notices/{name}", told)
