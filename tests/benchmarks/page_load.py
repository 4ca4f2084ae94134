"""Record pages a second, and how long the slowest take, as the shelf grows.

Run it from the checkout: ``python tests/benchmarks/page_load.py``. It fills a shelf
with 1 000 batches and one with 100 000 in a folder of its own (a few GB at the size of
a real record), serves both on loopback in processes of their own, and takes turns
between them. Beside each it serves the same page as a static file, by the simplest
server there is, in the same run: what of the time is the loopback's and the client's.
The server's processor time for a page is told too: other work on the machine changes it
less. Where there are more batches than a server holds pages of, hardly any is held.
Goals: 300 pages a second, and at 100 000 batches a 99th percentile within 1.3 of that
at 1 000.
"""

import argparse
import http.client
import json
import multiprocessing
import socket
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from click.testing import CliRunner

from labelkit.cli.cards import Cards
from labelkit.cli.group import commands
from labelkit.cli.workplace import Workplace
from labelkit.mixing.numbers import number_from
from labelkit.mixing.ports import Record
from labelkit.resources import samples_dir
from labelkit.shelf import SqliteShelf, lines, open_shelf
from labelkit.shelf.merging import FORM

GOAL_RATIO, GOAL_RATE = 1.3, 300.0
FIRST_DAY = datetime(2021, 1, 1, 9)  # noqa: DTZ001 - a bench knows its wall clock
RECIPES = ("borate-alkali", "silver-nitrate", "film-developer")
CLIENTS = 2
# Of what is shown, the share that is the front page or one of its lists.
ASKED = ("", "?show=due", "?q=silver", "?page=3")


def number(which: int) -> str:
    """Numbers far apart, as random ones are."""
    spread = which * 0x9E3779B1 % 2**40
    return number_from((spread >> 5 * place) % 32 for place in range(8))


def samples(bench: Path) -> list[Record]:
    """A batch of each recipe, mixed by the command a person types."""
    import shutil

    shutil.copytree(str(samples_dir()), bench)
    for recipe in RECIPES:
        words = ["mix", "--bench", str(bench), recipe, "--by", "M. Osei", "--json"]
        done = CliRunner().invoke(commands, words, input="")
        if done.exit_code:
            raise RuntimeError(done.output)
    with open_shelf(bench / "shelf.sqlite3", create=False) as shelf:
        return list(shelf.all())


def exported(records: list[Record], of: int) -> Iterator[str]:
    """The same batches over and over, each under its own number and on its own day."""
    yield json.dumps({"labelkit": "shelf", "form": FORM, "batches": of, "events": 0})
    written = [json.dumps({"batch": lines.record_json(record)}) for record in records]
    for which in range(of):
        record = records[which % len(records)]
        day = FIRST_DAY + timedelta(days=3650 * which / of)
        line = written[which % len(records)].replace(record.number, number(which))
        yield line.replace(record.mixed_on.isoformat(), day.isoformat())


def serve_shelf(path: Path, bench: Path, port: Any, spent: Any) -> None:
    """The pages as ``labelkit serve`` serves them."""
    from labelkit.pages.app import create_app
    from labelkit.pages.serving import TURN_S
    from labelkit.pages.waiting import server_for

    place = Workplace(bench)
    with open_shelf(path, create=False) as shelf:
        app = create_app(shelf, Cards(place), place.settings)
        bound = listening()
        port.value = bound.getsockname()[1]
        sys.setswitchinterval(TURN_S)
        server_for(counted(app, spent), bound).run()


def counted(app: Any, spent: Any) -> Any:
    """The application, telling before each answer what the process has used [s]."""

    def counting(environ: Any, start_response: Any) -> Any:
        spent.value = time.process_time()
        return app(environ, start_response)

    return counting


def serve_file(folder: Path, port: Any, _: Any) -> None:
    """The same page as a file, by the server of the standard library."""

    class Quiet(SimpleHTTPRequestHandler):
        protocol_version = "HTTP/1.1"
        disable_nagle_algorithm = True

        def log_message(self, *_: object) -> None:
            """Nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=folder))
    port.value = server.server_port
    server.serve_forever()


def listening() -> socket.socket:
    bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    bound.bind(("127.0.0.1", 0))
    return bound


def started(serve: Callable[..., None], *given: object) -> tuple[Any, int, Any]:
    """A server in a process of its own, its port, and what it used so far [s]."""
    port, spent = multiprocessing.Value("i", 0), multiprocessing.Value("d", 0)
    process = multiprocessing.Process(
        target=serve, args=(*given, port, spent), daemon=True
    )
    process.start()
    while not port.value:
        if not process.is_alive():
            raise RuntimeError("the server ended before it answered")
        time.sleep(0.05)
    return process, port.value, spent


def load(port: int, paths: list[str]) -> tuple[list[float], float]:
    """How long each answer took [ms], and how many there were a second."""
    took: list[float] = []
    faults: list[str] = []

    def client(own: list[str]) -> None:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        for path in own:
            begun = time.perf_counter()
            connection.request("GET", path)
            answer = connection.getresponse()
            answer.read()
            took.append((time.perf_counter() - begun) * 1000)
            if answer.status != 200:
                faults.append(f"{path}: {answer.status}")
        connection.close()

    clients = [
        threading.Thread(target=client, args=(paths[n::CLIENTS],))
        for n in range(CLIENTS)
    ]
    begun = time.perf_counter()
    for thread in clients:
        thread.start()
    for thread in clients:
        thread.join()
    if faults or len(took) != len(paths):
        raise RuntimeError(f"{len(faults)} answers were no page: {faults[:3]}")
    return took, len(took) / (time.perf_counter() - begun)


def told(name: str, took: list[float], rate: float) -> str:
    quantiles = statistics.quantiles(took, n=100)
    return (
        f"{name:34}{rate:8.0f} /s{statistics.median(took):9.2f} ms"
        f"{quantiles[98]:9.2f} ms"
    )


def measure(folder: Path, sizes: list[int], pages: int, rounds: int) -> int:
    """Print a line for each server; how many goals were missed."""
    bench = folder / "bench"
    records = samples(bench)
    servers = {}
    for size in sizes:
        path = folder / f"{size}.sqlite3"
        with open_shelf(path, create=True) as shelf:
            shelf.import_lines(exported(records, size))
            servers[size] = started(serve_shelf, path, bench)
            (folder / "page.html").write_bytes(page_of(shelf, bench))
    static, static_port, _ = started(serve_file, folder)
    try:
        return report(servers, static_port, pages, rounds)
    finally:
        for process in (*(server for server, *_ in servers.values()), static):
            process.terminate()


def page_of(shelf: SqliteShelf, bench: Path) -> bytes:
    from labelkit.pages.site import Site

    place = Workplace(bench)
    site = Site(shelf, Cards(place), place.settings, live=True)
    return site.batch(number(0), "../")


def report(
    servers: dict[int, tuple[Any, int, Any]], static_port: int, pages: int, rounds: int
) -> int:
    records: dict[int, list[float]] = {size: [] for size in servers}
    lists: dict[int, list[float]] = {size: [] for size in servers}
    rates: dict[int, list[float]] = {size: [] for size in servers}
    used_ms: dict[int, list[float]] = {size: [] for size in servers}
    for turn in range(rounds):
        for size, (_, port, spent) in servers.items():
            which = [(turn * pages + n) * 7919 % size for n in range(pages)]
            begun_s = spent.value
            took, rate = load(port, [f"/B/{number(n)}" for n in which])
            used_ms[size].append((spent.value - begun_s) * 1000 / pages)
            records[size] += took
            rates[size].append(rate)
            took, _ = load(port, [f"/{q}" for q in ASKED * (pages // 20)])
            lists[size] += took
    print(f"{'':34}{'pages':>11}{'median':>12}{'p99':>12}")
    for size in servers:
        rate = statistics.median(rates[size])
        print(told(f"record pages, {size} batches", records[size], rate))
        print(f"{'':34}{statistics.median(used_ms[size]):8.2f} ms processor a page")
    took, rate = load(static_port, ["/page.html"] * pages)
    print(told("the same page as a static file", took, rate))
    for size in servers:
        rate = CLIENTS * 1000 / statistics.mean(lists[size])
        print(told(f"the shelf and its lists, {size}", lists[size], rate))
    small, large = (statistics.quantiles(records[s], n=100)[98] for s in servers)
    rate = statistics.median(rates[max(servers)])
    print(f"p99 ratio {large / small:.2f} (goal {GOAL_RATIO})")
    print(f"{rate:.0f} record pages a second (goal {GOAL_RATE:.0f})")
    return (large / small > GOAL_RATIO) + (rate < GOAL_RATE)


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--sizes", type=int, nargs=2, default=[1_000, 100_000])
    asked.add_argument("--pages", type=int, default=500, help="asked for in a round")
    asked.add_argument("--rounds", type=int, default=6)
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        return measure(Path(name), given.sizes, given.pages, given.rounds)


if __name__ == "__main__":
    sys.exit(main())
