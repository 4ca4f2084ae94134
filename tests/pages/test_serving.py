"""`labelkit serve` as a program: this machine alone, until it is interrupted."""

import http.client
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from labelkit.errors import ShelfError
from labelkit.pages.serving import HOST, serve
from labelkit.shelf import SqliteShelf
from tests.pages.print_room import ROOM, Cards

HOUSE = Path(__file__).resolve().parents[2]


@pytest.fixture
def port() -> int:
    with closing(socket.socket()) as free:
        free.bind((HOST, 0))
        return int(free.getsockname()[1])


def test_a_taken_port_is_one_line(shelf: SqliteShelf, port: int) -> None:
    with closing(socket.socket()) as taken:
        taken.bind((HOST, port))
        taken.listen()
        with pytest.raises(ShelfError) as caught:
            serve(shelf, Cards(), ROOM, port=port, say=print)
    (line,) = str(caught.value).splitlines()
    assert line.startswith(f"--port: port {port} cannot be listened at: ")
    assert line.endswith("Name another, such as --port 8732.")


def test_it_says_where_it_listens_and_lets_go_of_the_port(
    shelf: SqliteShelf, port: int
) -> None:
    said: list[str] = []

    def say(line: str) -> None:
        said.append(line)
        with closing(socket.create_connection((HOST, port))):
            raise InterruptedError

    with pytest.raises(InterruptedError):
        serve(shelf, Cards(), ROOM, port=port, say=say)
    assert said == [f"Record pages at http://{HOST}:{port}/ until Ctrl-C."]
    with closing(socket.socket()) as free:
        free.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        free.bind((HOST, port))


@pytest.fixture
def running(tmp_path: Path, port: int) -> Iterator[subprocess.Popen[str]]:
    (tmp_path / "labelkit.toml").write_text('room = "Tern Street Print Room"\n')
    (tmp_path / "recipes").mkdir()
    command = ["-m", "labelkit", "serve", "--bench", str(tmp_path), "--port", str(port)]
    with subprocess.Popen(
        [sys.executable, "-u", *command],
        cwd=HOUSE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as program:
        assert program.stdout is not None
        assert str(port) in program.stdout.readline()
        yield program
        program.kill()


def get(port: int, path: str, host: str) -> tuple[int, str, dict[str, str]]:
    with closing(http.client.HTTPConnection(HOST, port, timeout=10)) as connection:
        connection.request("GET", path, headers={"Host": host})
        answer = connection.getresponse()
        return answer.status, answer.read().decode(), dict(answer.getheaders())


def test_it_answers_here_under_its_own_name_and_stops_when_told(
    running: subprocess.Popen[str], port: int
) -> None:
    status, body, headers = get(port, "/", f"localhost:{port}")
    assert status == 200
    assert "Nothing stands on the shelf." in body
    assert "Server" not in headers
    # a name of somebody else's that was pointed at this machine
    status, body, _ = get(port, "/", "rebound.example:80")
    assert status == 400
    assert "The shelf" not in body.split("<h1>")[1].split("</h1>")[0]
    assert get(port, "/B/..%2f..%2fshelf.sqlite3", f"{HOST}:{port}")[0] == 404
    running.send_signal(signal.SIGINT)
    assert running.wait(timeout=10) == 0
