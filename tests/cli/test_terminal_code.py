"""The address on the terminal is read by a decoder that is none of ours."""

import re

import pytest
import zxingcpp

from labelkit.cli.terminal_code import terminal_code
from tests.cli.terminal import drawn


@pytest.mark.parametrize(
    "address",
    ["HTTP://127.0.0.1:8731/", "HTTP://192.0.2.244:65535/", "HTTP://A.EXAMPLE:80/"],
)
def test_a_camera_reads_the_address(address: str) -> None:
    (found,) = zxingcpp.read_barcodes(drawn(terminal_code(address)))
    assert found.text == address


def test_it_is_black_on_white_on_every_terminal() -> None:
    for line in terminal_code("HTTP://127.0.0.1:8731/").split("\n"):
        assert line.startswith("\x1b[38;2;0;0;0;48;2;255;255;255m")
        assert line.endswith("\x1b[0m")


def test_the_quiet_zone_is_four_modules_wide() -> None:
    # ISO/IEC 18004:2015, 6.3.8
    lines = re.sub(r"\x1b\[[0-9;]*m", "", terminal_code("HTTP://127.0.0.1/")).split(
        "\n"
    )
    assert not "".join(lines[:2]).strip()
    assert not "".join(lines[-2:]).strip()
    assert all(line[:4] == line[-4:] == "    " for line in lines)
    assert {len(line) for line in lines} == {len(lines[0])}
