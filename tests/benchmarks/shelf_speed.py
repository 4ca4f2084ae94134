"""How much slower the shelf gets as it grows: 1 000 batches against 100 000.

Run it from the checkout: ``python tests/benchmarks/shelf_speed.py``. It builds both
shelves in a folder of its own (several hundred MB), takes turns between them, and
prints the medians and their ratio. The goal for showing one batch and for listing
what is due is 1.3. Both shelves hold equally many bottles that still stand and that
are due, for a list can only cost as much as it is long; the rest were discarded.
"""

import argparse
import json
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from itertools import count
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from labelkit.mixing.numbers import number_from
from labelkit.mixing.ports import Event, Record
from labelkit.mixing.standing import standings
from labelkit.shelf import SqliteShelf, lines, open_shelf
from labelkit.shelf.merging import FORM

GOAL = 1.3
FIRST_DAY = datetime(2021, 1, 1, 9)  # noqa: DTZ001 - a bench knows its wall clock
TODAY = date(2031, 3, 14)
DUE, STANDING = 60, 300

Act = Callable[[Path, SqliteShelf, int], object]


def number(which: int) -> str:
    """Numbers far apart, as random ones are."""
    spread = which * 0x9E3779B1 % 2**40
    return number_from((spread >> 5 * place) % 32 for place in range(8))


def record(which: int, of: int, kilobytes: int) -> Record:
    mixed_on = FIRST_DAY + timedelta(days=3650 * which / of)
    stands = of - STANDING <= which
    due = stands and which % (STANDING // DUE) == 0
    last_day = TODAY + timedelta(days=-9 if due else 9 + which % 90)
    return Record(
        number=number(which),
        recipe=f"stock-{which % 40}",
        title=f"Stock solution {which % 40}",
        mixed_on=mixed_on,
        made_by=("M. Osei", "R. Lindqvist-Amara")[which % 2],
        discard_after=str(last_day if stands else mixed_on.date()),
        bottles=1,
        data={"steps": [{"step": n, "text": "w" * 90} for n in range(kilobytes * 8)]},
    )


def events(which: int, of: int) -> Iterator[Event]:
    at = FIRST_DAY + timedelta(days=3650 * which / of)
    for n, what in enumerate(("opened", "used", "used", "discarded")):
        if what != "discarded" or which < of - STANDING:
            yield Event(
                number(which), 1, what, at + timedelta(days=n), id=f"{which}-{n}"
            )


def exported(of: int, kilobytes: int) -> Iterator[str]:
    happened = sum(1 for which in range(of) for _ in events(which, of))
    head = {"labelkit": "shelf", "form": FORM, "batches": of, "events": happened}
    yield json.dumps(head)
    for which in range(of):
        yield json.dumps({"batch": lines.record_json(record(which, of, kilobytes))})
    for which in range(of):
        for event in events(which, of):
            yield json.dumps({"event": lines.event_json(event)})


def show(shelf: SqliteShelf, which: int) -> None:
    kept = shelf.get(number(which))
    assert shelf.events(kept.number)


def show_from_start(path: Path, _: SqliteShelf, which: int) -> None:
    with open_shelf(path, create=False) as shelf:
        show(shelf, which)


def due_from_start(path: Path, _: SqliteShelf, __: int) -> None:
    with open_shelf(path, create=False) as shelf:
        assert len(shelf.due(TODAY)) == DUE


def due_as_told(_: Path, shelf: SqliteShelf, __: int) -> None:
    """As ``labelkit shelf --due`` asks: found bottles, the due, and their logs."""
    now = datetime.combine(TODAY, FIRST_DAY.time())
    found = shelf.listed("found", now).batches
    numbers = [bottle.number for bottle in shelf.due(now)]
    told = shelf.told([*numbers, *(one.record.number for one in found)])
    assert sum(len(standings(kept.record, kept.events)) for kept in told) == DUE


fresh = count(10_000_000)

ACTS: dict[str, tuple[Act, bool]] = {
    "show one, opening the shelf": (show_from_start, True),
    "show one": (lambda _, shelf, which: show(shelf, which), True),
    "list the due, opening the shelf": (due_from_start, True),
    "list the due": (lambda _, shelf, __: shelf.due(TODAY), True),
    "tell the due, with their log": (due_as_told, True),
    "tell what stands, with its log": (
        lambda _, shelf, __: shelf.told(b.number for b in shelf.standing()),
        False,
    ),
    "list what stands": (lambda _, shelf, __: shelf.standing(), False),
    "the newest 20": (lambda _, shelf, __: list(shelf.all(limit=20)), False),
    "search, first 20": (
        lambda _, shelf, __: list(shelf.search("stock 17", limit=20)),
        False,
    ),
    "search, nothing found": (lambda _, shelf, __: list(shelf.search("zz")), False),
    "log an event": (
        lambda _, shelf, which: shelf.append(
            Event(number(which), 1, "used", FIRST_DAY + timedelta(days=4000))
        ),
        False,
    ),
    "add a batch": (
        lambda _, shelf, __: shelf.add(record(next(fresh), 20_000_000, 4)),
        False,
    ),
}


def timed(act: Act, path: Path, shelf: SqliteShelf, which: int) -> float:
    begun = time.perf_counter()
    act(path, shelf, which)
    return (time.perf_counter() - begun) * 1000


def measure(folder: Path, sizes: list[int], rounds: int) -> int:
    """Print a line for each act; how many goals were missed."""
    missed = 0
    shelves = [(size, folder / f"{size}.sqlite3") for size in sizes]
    opened = [(size, path, open_shelf(path, create=False)) for size, path in shelves]
    print(f"{'median of ' + str(rounds):34}{sizes[0]:>12}{sizes[1]:>12}{'ratio':>8}")
    for name, (act, bound) in ACTS.items():
        times: dict[int, list[float]] = {size: [] for size in sizes}
        for turn in range(rounds):
            for size, path, shelf in opened:
                which = turn * 7919 % size
                times[size].append(timed(act, path, shelf, which))
        small, large = (statistics.median(times[size]) for size in sizes)
        over = bound and large / small > GOAL
        missed += over
        mark = " over the goal" if over else ""
        print(f"{name:34}{small:9.3f} ms{large:9.3f} ms{large / small:8.2f}{mark}")
    for _, __, shelf in opened:
        shelf.close()
    return missed


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--sizes", type=int, nargs=2, default=[1_000, 100_000])
    asked.add_argument("--kilobytes", type=int, default=4, help="of a frozen record")
    asked.add_argument("--rounds", type=int, default=301)
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        for size in given.sizes:
            path = Path(name) / f"{size}.sqlite3"
            begun = time.perf_counter()
            with open_shelf(path, create=True) as shelf:
                shelf.import_lines(exported(size, given.kilobytes))
            took, large = time.perf_counter() - begun, path.stat().st_size / 1e6
            print(f"{size} batches imported in {took:.1f} s, {large:.0f} MB")
        return 1 if measure(Path(name), given.sizes, given.rounds) else 0


if __name__ == "__main__":
    sys.exit(main())
