"""What the tests of files share."""

from collections.abc import Callable

import pytest

from labelkit.errors import BadInput
from labelkit.files.chemicals import read_catalogue
from labelkit.files.recipes import recipe_from_text


@pytest.fixture
def told() -> Callable[[str], list[str]]:
    """The lines that tell what is wrong with a recipe called stock."""

    def lines(text: str) -> list[str]:
        with pytest.raises(BadInput) as caught:
            recipe_from_text(text, "stock", read_catalogue())
        return str(caught.value).split("\n")

    return lines
