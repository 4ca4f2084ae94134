"""`labelkit serve` as a program of its own."""

import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

__all__ = ["HOST", "ON_LOOPBACK", "free_port", "program"]

HOST = "127.0.0.1"
HOUSE = Path(__file__).resolve().parents[2]
# The program itself, but that no test listens to the network it runs in.
ON_LOOPBACK = (
    "from labelkit.pages import serving; serving._EVERY = serving.HOST; "
    "from labelkit.cli import main; main()"
)


def free_port() -> int:
    with closing(socket.socket()) as free:
        free.bind((HOST, 0))
        return int(free.getsockname()[1])


@contextmanager
def program(
    bench: Path, port: int, *words: str
) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """`labelkit serve`, and what it said once it answered."""
    command = ["serve", "--bench", str(bench), "--port", str(port), *words]
    with subprocess.Popen(
        [sys.executable, "-u", "-c", ON_LOOPBACK, *command],
        cwd=HOUSE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    ) as running:
        assert running.stdout is not None
        said = ""
        while str(port) not in said or ("--lan" in words and "trust" not in said):
            line = running.stdout.readline()
            assert line, running.stderr and running.stderr.read()
            said += line
        try:
            yield running, said
        finally:
            running.kill()
