"""Alcohol-rich solutions: no share is ever told too low."""

from decimal import Decimal

import pytest

from tests.mixing.conftest import Room
from tests.mixing.writing import text

ASKED = "its density must be measured"


def spirit(room: Room, measured: str = ""):  # type: ignore[no-untyped-def]
    steps = [("isopropyl-alcohol", "300 mL"), ("benzotriazole", "10 g")]
    return room.plan(text("500 mL", steps, measured))


def test_a_spirit_without_a_density_asks_for_one(room: Room) -> None:
    assert any(ASKED in check.text for check in spirit(room).checks)


def test_a_measured_density_settles_it(room: Room) -> None:
    plan = spirit(room, '[measured]\ndensity = "0.89 g/mL"')
    assert not any(ASKED in check.text for check in plan.checks)


def test_a_share_is_reckoned_as_if_it_were_pure_spirit(room: Room) -> None:
    # 300 mL of 0.785 g/mL (CRC Handbook, 20 degC) in 500 mL as light as that: 60 %
    parts = spirit(room).solution.parts(room.books.catalogue)
    shares = {part.data.id: part.present for part in parts}
    assert shares["isopropyl-alcohol"] == pytest.approx(
        Decimal(60), rel=Decimal("0.01")
    )
