"""`labelkit serve` from the command line: begun, looked at, and stopped by Ctrl-C."""

import http.client
import re
import shutil
import signal
import socket
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pexpect
import pytest
import zxingcpp

from tests.cli.conftest import labelkit
from tests.cli.terminal import HOUSE, batch_of, drawn
from tests.pages.served import HOST, ON_LOOPBACK, free_port, program


@pytest.fixture
def fresh(tmp_path: Path) -> Path:
    """A bench as `labelkit init` leaves it."""
    folder = tmp_path / "fresh"
    assert labelkit("init", folder).code == 0
    return folder


@pytest.fixture
def port() -> int:
    return free_port()


def get(port: int, path: str = "/") -> tuple[int, str]:
    with closing(http.client.HTTPConnection(HOST, port, timeout=20)) as connection:
        connection.request("GET", path)
        answer = connection.getresponse()
        return answer.status, answer.read().decode()


def ended(folder: Path, *words: str) -> tuple[int, str, str]:
    """A command that ends by itself: its exit code, what it said, what it refused."""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", "labelkit", *words],
        cwd=folder,
        env={"PYTHONPATH": str(HOUSE), "PATH": "/usr/bin:/bin"},
        capture_output=True,
        encoding="utf-8",
        timeout=60,
    )
    return done.returncode, done.stdout, done.stderr


def test_a_fresh_bench_is_served_until_ctrl_c_and_leaves_nothing_behind(
    fresh: Path, port: int
) -> None:
    with program(fresh, port) as (running, said):
        assert said == f"Record pages at http://{HOST}:{port}/ until Ctrl-C.\n"
        status, front = get(port)
        assert status == 200
        assert "<h1>The shelf</h1>" in front
        assert get(port, "/plan")[0] == get(port, "/mixes")[0] == 200
        running.send_signal(signal.SIGINT)
        rest, told = running.communicate(timeout=20)
        assert (running.returncode, rest.strip(), told.strip()) == (0, "", "")
    with closing(socket.socket()) as free:
        free.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        free.bind((HOST, port))


def test_the_terminal_shows_a_code_of_the_address_in_the_network(
    fresh: Path, port: int
) -> None:
    words = ["serve", "--lan", "--bench", str(fresh), "--port", str(port)]
    terminal = pexpect.spawn(
        sys.executable,
        ["-c", ON_LOOPBACK, *words],
        cwd=HOUSE,
        encoding="utf-8",
        timeout=60,
        dimensions=(60, 160),
    )
    terminal.expect_exact("a network you trust.")
    said = (terminal.before or "").replace("\r\n", "\n")
    (address,) = re.findall(r"Record pages at (http://[0-9.]+:\d+/) until", said)
    code = [line for line in said.split("\n") if line.startswith("\x1b[")]
    (found,) = zxingcpp.read_barcodes(drawn("\n".join(code)))
    # RFC 3986, 3.1 and 3.2.2: scheme and host are alike in either case
    assert found.text == address.upper()
    assert re.search(r"^PIN, .*: \d{3} \d{3}$", said, re.MULTILINE)
    assert get(port)[0] == 200
    terminal.sendintr()
    terminal.expect(pexpect.EOF)
    assert "Traceback" not in (terminal.before or "")
    terminal.close()
    assert terminal.exitstatus == 0


def test_a_taken_port_is_told_in_one_line(fresh: Path, port: int) -> None:
    with closing(socket.socket()) as taken:
        taken.bind((HOST, port))
        taken.listen()
        code, said, told = ended(fresh, "serve", "--port", str(port))
    assert (code, said) == (2, "")
    assert f"port {port} cannot be listened at" in told
    assert "Name another, such as --port 8732." in told
    assert "Traceback" not in told


def test_without_a_bench_it_says_how_to_make_one(tmp_path: Path) -> None:
    code, said, told = ended(tmp_path, "serve")
    assert (code, said) == (2, "")
    assert "labelkit init" in told
    assert "Traceback" not in told
    assert list(tmp_path.iterdir()) == []


def test_a_shelf_that_is_moved_away_and_back_is_served_again(
    bench: Path, port: int
) -> None:
    number = batch_of(labelkit("mix", "citric-stop", "--bench", bench).out)
    shelf, away = bench / "shelf.sqlite3", bench / "away.sqlite3"
    with program(bench, port) as (running, _):
        assert get(port, f"/B/{number}")[0] == 200
        shutil.move(shelf, away)
        for path in (f"/B/{number}", "/", "/mixes", f"/log/{number}", "/plan/x"):
            status, body = get(port, path)
            assert status in (503, 404), path
            assert "DO NOT DRINK" in body
            assert str(bench) not in body
        assert get(port, f"/B/{number}")[0] == 503
        assert not shelf.exists()
        shutil.move(away, shelf)
        status, body = get(port, f"/B/{number}")
        assert (status, number in body) == (200, True)
        assert running.poll() is None
