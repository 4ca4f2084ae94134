"""`labelkit serve` as a program: who is answered, how much is taken in, and the PIN."""

import http.client
import re
import signal
import socket
import time
import tracemalloc
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from threading import Thread

import pytest

from labelkit.errors import ShelfError
from labelkit.pages import serving
from labelkit.pages.serving import serve
from labelkit.pages.waiting import server_for
from labelkit.shelf import SqliteShelf
from tests.pages.live import Room
from tests.pages.print_room import BORATE, ROOM, Cards
from tests.pages.served import HOST, free_port, program

FORM = "application/x-www-form-urlencoded"


@pytest.fixture
def port() -> int:
    return free_port()


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
    assert said == [f"http://{HOST}:{port}/"]
    with closing(socket.socket()) as free:
        free.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        free.bind((HOST, port))


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    folder = tmp_path / "empty"
    folder.mkdir()
    (folder / "labelkit.toml").write_text(
        'room = "Tern Street Print Room"\nbase_url = "http://bottles.example:8731"\n'
    )
    (folder / "recipes").mkdir()
    return folder


def get(port: int, path: str, host: str) -> tuple[int, str, dict[str, str]]:
    with closing(http.client.HTTPConnection(HOST, port, timeout=10)) as connection:
        connection.request("GET", path, headers={"Host": host})
        answer = connection.getresponse()
        return answer.status, answer.read().decode(), dict(answer.getheaders())


def test_it_answers_here_under_its_own_name_and_stops_when_told(
    empty: Path, port: int
) -> None:
    with program(empty, port) as (running, said):
        assert said == f"Record pages at http://{HOST}:{port}/ until Ctrl-C.\n"
        status, body, headers = get(port, "/", f"localhost:{port}")
        assert status == 200
        assert "The shelf" in body
        assert "Server" not in headers
        # a name of somebody else's that was pointed at this machine
        status, body, _ = get(port, "/", "rebound.example:80")
        assert status == 421
        assert "The shelf" not in body.split("<h1>")[1].split("</h1>")[0]
        assert get(port, "/", "bottles.example")[0] == 421
        assert get(port, "/B/..%2f..%2fshelf.sqlite3", f"{HOST}:{port}")[0] == 404
        assert get(port, "/pin", f"{HOST}:{port}")[0] == 404
        for path in ("/plan", "/mixes"):
            assert get(port, path, f"{HOST}:{port}")[0] == 200
        running.send_signal(signal.SIGINT)
        assert running.wait(timeout=10) == 0


def test_in_the_network_it_shows_a_code_an_address_and_a_pin(
    empty: Path, port: int
) -> None:
    pins = set()
    for _ in range(2):
        with program(empty, port, "--lan") as (_, said):
            assert re.search(rf"Record pages at http://[0-9.]+:{port}/ until", said)
            assert "Nothing is encrypted" in said
            assert "█▀▀▀▀▀█" in said
            pins |= set(re.findall(r"PIN, .*: (\d{3} \d{3})$", said, re.MULTILINE))
            for host in (HOST, "localhost", socket.gethostname(), "bottles.example"):
                assert get(port, "/", f"{host}:{port}")[0] == 200
            for host in ("rebound.example", "0.0.0.0", "8.8.8.8", "127.0.0.1.nip.io"):
                assert get(port, "/", f"{host}:{port}")[0] == 421
            status, body, _ = get(port, "/pin", HOST)
            assert status == 200
            assert not any(pin in body or pin.replace(" ", "") in body for pin in pins)
    assert len(pins) == 2


def test_an_address_of_this_machine_is_known_and_no_other() -> None:
    own = serving._own_address()
    assert serving._is_our_address(own)
    assert serving._is_our_address(HOST)
    for other in (
        "0.0.0.0",
        "192.0.2.77",
        "224.0.0.1",
        "8.8.8.8",
        "localhost",
        "1",
        "::1",
        "",
    ):
        assert not serving._is_our_address(other)


# What is taken in


@pytest.fixture
def listening(shelf: SqliteShelf) -> Iterator[int]:
    with running(shelf) as port:
        yield port


@contextmanager
def running(shelf: SqliteShelf, **given: int) -> Iterator[int]:
    """A server in a thread of its own; it is closed by its own loop, as it waits."""
    bound = socket.socket()
    bound.bind((HOST, 0))
    server = server_for(Room(shelf).app, bound, **given)
    thread = Thread(target=server.run, daemon=True)
    thread.start()
    yield int(bound.getsockname()[1])
    server.trigger.pull_trigger(server.close)
    thread.join(timeout=15)
    assert not thread.is_alive()


def raw(port: int, *pieces: bytes) -> bytes:
    """The whole answer to bytes as they are; "" where the line was cut."""
    with closing(socket.create_connection((HOST, port), timeout=20)) as line:
        with suppress(ConnectionError):
            for piece in pieces:
                line.sendall(piece)
        answer = b""
        with suppress(ConnectionError):
            while chunk := line.recv(65536):
                answer += chunk
        return answer


def post(*headers: str) -> bytes:
    lines = ["POST /notes HTTP/1.1", "Host: localhost", "Connection: close", *headers]
    return "\r\n".join([*lines, f"Content-Type: {FORM}", "", ""]).encode()


def chunks(size: int, times: int) -> list[bytes]:
    return [b"%x\r\n" % size + b"x" * size + b"\r\n"] * times


@pytest.mark.parametrize("length", [64 * 1024 + 1, 250_000])
def test_a_form_that_is_too_long_gets_our_page(listening: int, length: int) -> None:
    for answer in (
        raw(listening, post(f"Content-Length: {length}"), b"x" * length),
        raw(
            listening,
            post("Transfer-Encoding: chunked"),
            *chunks(length // 8 + 1, 8),
            b"0\r\n\r\n",
        ),
    ):
        assert answer.startswith(b"HTTP/1.1 413 ")
        assert b"A form may hold 64 kB" in answer
        assert b"DO NOT DRINK" in answer


def test_what_claims_to_be_huge_is_stopped_before_it_is_read(listening: int) -> None:
    answer = raw(listening, post(f"Content-Length: {10**10}"))
    assert answer.startswith(b"HTTP/1.1 413 ")
    assert b"A form may hold 64 kB" in answer
    assert b"waitress" not in answer


def test_ten_megabytes_do_not_fill_the_memory(listening: int) -> None:
    raw(listening, b"GET /notes HTTP/1.0\r\nHost: localhost\r\n\r\n")
    tracemalloc.start()
    raw(listening, post("Content-Length: 10000000"), *[b"x" * 65536] * 160)
    raw(listening, post("Transfer-Encoding: chunked"), *chunks(65536, 160))
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 2_000_000
    answer = raw(listening, b"GET /notes HTTP/1.0\r\nHost: localhost\r\n\r\n")
    assert answer.startswith(b"HTTP/1.0 200")


@pytest.mark.parametrize(
    "request_",
    [
        b"GET /" + b"a" * 20_000 + b" HTTP/1.1\r\nHost: localhost\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: localhost\r\n" + b"X: y\r\n" * 4000 + b"\r\n",
    ],
    ids=["a long address", "a flood of headers"],
)
def test_too_much_before_the_body_is_told(listening: int, request_: bytes) -> None:
    # RFC 6585, 5: 431
    answer = raw(listening, request_)
    assert answer.startswith(b"HTTP/1.0 431 ")
    assert b"Too much was sent" in answer


@pytest.mark.parametrize(
    "request_",
    [
        b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: localhost\r\nbroken header\r\n\r\n",
        post("Content-Length: -1"),
        post("Transfer-Encoding: chunked") + b"zz\r\n",
    ],
)
def test_what_is_no_http_is_answered_without_a_trace(
    listening: int, request_: bytes
) -> None:
    answer = raw(listening, request_)
    assert answer[8:13] in (b" 400 ", b" 501 ")
    assert not any(word in answer for word in (b"Traceback", b"/work", b"waitress"))


def test_without_a_host_nothing_is_told(listening: int) -> None:
    answer = raw(listening, b"GET /B/" + BORATE.encode() + b" HTTP/1.0\r\n\r\n")
    assert answer.startswith(b"HTTP/1.0 421 ")
    assert b"Borate" not in answer


def test_slow_clients_do_not_keep_others_waiting(listening: int) -> None:
    slow = [socket.create_connection((HOST, listening)) for _ in range(50)]
    try:
        for line in slow:
            line.sendall(b"POST /notes HTTP/1.1\r\nHost: local")
        began = time.monotonic()
        answer = raw(listening, b"GET /notes HTTP/1.0\r\nHost: localhost\r\n\r\n")
        assert answer.startswith(b"HTTP/1.0 200 ")
        assert time.monotonic() - began < 5
    finally:
        for line in slow:
            line.close()


def test_a_silent_line_is_cut(shelf: SqliteShelf) -> None:
    with (
        running(shelf, idle_s=1) as port,
        closing(socket.create_connection((HOST, port), timeout=15)) as line,
    ):
        line.sendall(b"GET / HTTP/1.1\r\nHost: local")
        assert line.recv(100) == b""


def test_half_a_minute_of_silence_is_borne() -> None:
    with closing(socket.socket()) as bound:
        bound.bind((HOST, 0))
        server = server_for(print, bound)
        assert server.adj.channel_timeout == 30
        server.close()
