"""Golden text: placed boxes, one a line, so that a change of layout shows in a diff.

``--update-golden`` writes the files anew and still fails the run, so that nobody leaves
the switch on.
"""

from collections.abc import Callable
from pathlib import Path

import pytest

GOLDEN = Path(__file__).resolve().parent.parent / "golden"
SWITCH = "--update-golden"

CheckGolden = Callable[[str, str], None]


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        SWITCH, action="store_true", help="write golden files anew; the run still fails"
    )


@pytest.fixture
def check_golden(request: pytest.FixtureRequest) -> CheckGolden:
    """Compare a text with ``tests/golden/NAME.txt``."""
    update = request.config.getoption(SWITCH, default=False)

    def check(name: str, text: str) -> None:
        path = GOLDEN / f"{name}.txt"
        if update:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
            pytest.fail(f"{path.name} is written anew; look at the diff, run without")
        assert path.is_file(), f"there is no {path.name}; write it with {SWITCH}"
        assert text == path.read_text("utf-8")

    return check
