"""How fast labels are printed, beside the least a reportlab canvas needs for them.

    python -m tests.benchmarks.print_speed [FLOOR] [--counts 1 100 1000 10000] [--warm]

FLOOR is a script that answers ``--one reportlab --n N --qr qrcode --mask 2`` with a
line of JSON holding ``wall``, ``rate``, ``per_label`` and ``rss``, and that has the
words it prints as ``labels(n)``, ``H``, ``P``, ``PICTOS`` and ``CAUTION``: the same
words then go through labelkit. It is run by ``--floor-python`` where it needs libraries
of its own. Without it a bare canvas writes labelkit's own words here. ``--warm`` leaves
out the cold starts.

Every figure comes from a process of its own; the clock covers fonts, fitting, drawing
and saving, not imports. The cases take turns, so that a busy machine slows all of them:
compare ratios, not seconds. Goals: 0.8 of the floor at 1000 labels, 1.2 kB a label, 130
MiB at 10 000, a cold ``labelkit label`` within 1.6 and ``labelkit --help`` within 1.5.
"""

import argparse
import json
import os
import re
import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from decimal import Decimal
from functools import lru_cache
from importlib import import_module
from importlib.util import module_from_spec, spec_from_file_location
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from types import ModuleType

from msgspec.structs import replace

from labelkit.mixing.bench import Settings
from labelkit.mixing.words import (
    BottleText,
    HazardText,
    Headline,
    Pictogram,
    Run,
    Scale,
)
from labelkit.printing.boxes import Page
from labelkit.printing.label import place_label
from labelkit.printing.layouts import layout_named
from labelkit.printing.pdf import draw_papers
from labelkit.printing.pictograms import operators
from labelkit.printing.sheet_files import read_sheet
from labelkit.printing.sheets import impose

ROOT = Path(__file__).resolve().parents[2]
COUNTS = (1, 100, 1000, 10_000)
COLD_RUNS = 11
MM = 72 / 25.4
DARK = re.compile("1+")
# Where the floor's words go: with three pictograms they need this much room.
FLOORS_WORDS, OUR_WORDS = ("wrap", "a4-148x74"), ("tall", "a4-74x105")
IMPORTED = ("qrcode.main", "reportlab.pdfgen.canvas", "reportlab.pdfbase.ttfonts")

# Words for a drawing, not a classification.
STATEMENT = "May damage fertility. May damage the unborn child."
PRECAUTIONS = (
    "Keep out of reach of children.",
    "Do not handle until all safety precautions have been read and understood.",
    "Wear protective gloves and eye protection.",
    "IF exposed or concerned: Get medical advice.",
    "Store locked up.",
    "Dispose of contents and container to hazardous waste.",
)

STOCK = BottleText(
    name="Borate alkali",
    number="",
    headline=Headline("equivalence", "20 mL = 1 g", "sodium metaborate",
                      "tetrahydrate", scale=Scale(Decimal(20))),
    strength=("50 g/L", "5 % w/v"),
    contents=(Run("Made from borax decahydrate 34.6 and sodium hydroxide 7.3 g/L."),),
    made="",
    discard_label="Discard after",
    discard="",
    hazard=HazardText(
        "DANGER",
        (Pictogram("GHS08", "Health hazard"),),
        contains="Contains borates.",
        statements=(STATEMENT,),
        precautions=tuple((Run(words),) for words in PRECAUTIONS),
    ),
    first_words=(Run("Swallowed: rinse mouth. Call and read out this label."),),
    never_with="NEVER WITH ammonium salts (rapid fixer): ammonia gas.",
    aid="An aid: data sheets, local rules, licensed practice come first.",
    aid_full="An aid: data sheets, local rules, licensed practice come first.",
    code="",
    code_means="Opens the record",
    volume_mL=Decimal(500),
    emergency="01632 960 118",
)  # fmt: skip

Figures = dict[str, float]


# ---------------------------------------------------------------- what is printed


def our_bottles(count: int) -> Iterator[BottleText]:
    """As many bottles, each with its own name, dates, number and code."""
    for index in range(count):
        number = f"7M3K-{index:04d}-{index % 97:02d}"
        yield replace(
            STOCK,
            name=f"Borate stock {chr(65 + index % 26)}{index % 90 + 1}",
            number=number,
            made=f"Mixed 2031-03-{index % 28 + 1:02d} by M. Osei.",
            discard=f"2032-03-{index % 28 + 1:02d}",
            code=f"HTTPS://BOTTLES.EXAMPLE.ORG/B/{number}",
        )


def floors_bottles(floor: str, count: int) -> Iterator[BottleText]:
    """The floor's own labels: what differs on each and what is on all of them."""
    script = _loaded(floor)
    hazard = HazardText(
        "DANGER",
        tuple(Pictogram(code.upper(), "Harmful") for code in script.PICTOS),
        statements=tuple(script.H),
        precautions=tuple((Run(words),) for words in script.P),
    )
    for label in script.labels(count):
        yield replace(
            STOCK,
            name=label["name"],
            number=label["batch"],
            headline=Headline("equivalence", label["ml"], "pyrogallol"),
            strength=(label["conc"],),
            contents=(),
            cautions=(script.CAUTION,),
            made=f"Mixed {label['mixed']} by {label['maker']}.",
            discard=label["use_by"],
            hazard=hazard,
            code=label["url"],
        )


def _loaded(path: str) -> ModuleType:
    found = spec_from_file_location("floor", path)
    assert found is not None
    assert found.loader is not None
    script = module_from_spec(found)
    found.loader.exec_module(script)
    return script


def labelkit(floor: str, count: int) -> bytes:
    """Labels fitted, drawn and saved as on a long run: on sheets, without tags."""
    name, sheet = FLOORS_WORDS if floor else OUR_WORDS
    settings, layout = Settings(), layout_named(name)
    bottles = floors_bottles(floor, count) if floor else our_bottles(count)

    def placed() -> Iterator[Page]:
        for text in bottles:
            yield place_label(text, layout=layout, settings=settings).page

    papers = impose(placed(), read_sheet(sheet))
    return draw_papers(papers, title="Labels", author="", subject="", tagged=False)


def bare(_: str, count: int) -> bytes:
    """The same words on a bare canvas: a text object a label, lines folded once."""
    from reportlab import rl_config
    from reportlab.pdfbase.pdfmetrics import stringWidth
    from reportlab.pdfgen.canvas import Canvas

    from labelkit.printing.fonts import register

    rl_config.useA85 = 0
    sheet = read_sheet(OUR_WORDS[1])
    names = register()
    out = BytesIO()
    canvas = Canvas(out, pagesize=(210 * MM, 297 * MM), invariant=1, pageCompression=1)
    canvas.beginForm("picture", 0, 0, 100, 100)
    canvas.addLiteral(operators("GHS08"))
    canvas.endForm()

    @lru_cache(1024)
    def fold(words: str, font: str, size: float) -> list[str]:
        lines = [""]
        for word in words.split():
            longer = f"{lines[-1]} {word}".strip()
            if stringWidth(longer, font, size) > 66 * MM:
                lines.append(word)
            else:
                lines[-1] = longer
        return lines

    for index, text in enumerate(our_bottles(count)):
        slot = index % sheet.slots
        if index and not slot:
            canvas.showPage()
        left, top = sheet.slot(slot)
        x, y = (left + 4) * MM, (297 - top) * MM
        lines = canvas.beginText(x, y - 24)
        for words, weight, size in _words(text):
            lines.setFont(names[weight], size, size * 1.2)
            for line in fold(words, names[weight], size):
                lines.textLine(line)
        canvas.drawText(lines)
        canvas.addLiteral(f"q .4 0 0 .4 {x:.2f} {y - 190:.2f} cm")
        canvas.doForm("picture")
        canvas.addLiteral("Q")
        runs = " ".join(f"{a} {b} {w} {h} re" for a, b, w, h in _runs(text.code))
        canvas.addLiteral(f"q 1.2 0 0 -1.2 {x + 140:.2f} {y - 30:.2f} cm {runs} f Q")
    canvas.save()
    return out.getvalue()


def _words(text: BottleText) -> Iterator[tuple[str, str, float]]:
    yield text.name, "semibold", 19
    yield text.headline.text, "bold", 30
    yield " ".join(text.strength) + " " + text.made, "regular", 6.6
    yield f"{text.discard_label} {text.discard} {text.number}", "bold", 11.3
    yield text.hazard.signal, "bold", 19
    yield STATEMENT, "semibold", 6.6
    yield " ".join(PRECAUTIONS), "regular", 6.6
    yield f"{text.first_words[0].text} {text.aid}", "regular", 6.6
    yield text.never_with, "semibold", 6.6
    yield f"DO NOT DRINK Call {text.emergency}", "bold", 12


def _runs(payload: str) -> Iterator[tuple[int, int, int, int]]:
    """Dark runs along the rows of the library's symbol, its mask not searched."""
    from qrcode import constants
    from qrcode.main import QRCode

    symbol = QRCode(None, constants.ERROR_CORRECT_Q, border=0, mask_pattern=2)
    symbol.add_data(payload)
    symbol.make(fit=True)
    for y, row in enumerate(symbol.modules):
        bits = "".join(["1" if dark else "0" for dark in row])
        for run in DARK.finditer(bits):
            yield run.start(), y, run.end() - run.start(), 1


# ---------------------------------------------------------------- measuring


CASES: dict[str, Callable[[str, int], bytes]] = {"labelkit": labelkit, "bare": bare}


def measured(case: str, floor: str, count: int) -> Figures:
    """One case, in this process; imports are done before the clock starts."""
    for module in IMPORTED:
        import_module(module)
    draw = CASES[case]
    start = time.perf_counter()
    size = len(draw(floor, count))
    wall = time.perf_counter() - start
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {
        "wall": wall, "rate": count / wall, "per_label": size / count, "rss": peak,
    }  # fmt: skip


def in_turns(commands: dict[str, list[str]], runs: int) -> dict[str, Figures]:
    """The median by rate of each command, all of them run by turns."""
    found: dict[str, list[Figures]] = {name: [] for name in commands}
    for _ in range(runs):
        for name, command in commands.items():
            done = subprocess.run(
                command, cwd=ROOT, capture_output=True, text=True, check=True
            )
            found[name].append(json.loads(done.stdout.splitlines()[-1]))
    return {name: _middle(figures) for name, figures in found.items()}


def _middle(runs: list[Figures]) -> Figures:
    return sorted(runs, key=lambda run: run["rate"])[len(runs) // 2]


def throughput(floor: str, python: str, counts: list[int]) -> None:
    """Labels a second beside the floor's, bytes a label, and the peak of memory."""
    this = [sys.executable, "-m", "tests.benchmarks.print_speed", "--floor", floor]
    least = [python, floor, "--one", "reportlab", "--qr", "qrcode"]
    heads = f"{'labels':>7}{'case':>10}{'labels/s':>10}{'ratio':>7}"
    print(f"{heads}{'bytes/label':>13}{'peak MiB':>10}")
    for count in counts:
        n = str(count)
        commands = {
            "floor": [*least, "--mask", "2", "--n", n]
            if floor
            else [*this, "--case", "bare", "--counts", n],
            "labelkit": [*this, "--case", "labelkit", "--counts", n],
        }
        rows = in_turns(commands, runs=5 if count <= 1000 else 1)
        for case, row in rows.items():
            ratio = row["rate"] / rows["floor"]["rate"]
            print(
                f"{count:>7}{case:>10}{row['rate']:>10.0f}{ratio:>7.2f}"
                f"{row['per_label']:>13.0f}{row['rss']:>10.0f}",
                flush=True,
            )


# ---------------------------------------------------------------- cold starts

# The least that a print needs: the canvas, the fonts used, and a page saved.
LEAST = """
from importlib.resources import files
from io import BytesIO
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
folder = files("fontpkg_ibm_plex_sans_condensed") / "files"
canvas = Canvas(BytesIO(), invariant=1)
for weight in ("Regular", "SemiBold", "Bold"):
    font = TTFont(weight, str(folder / f"IBMPlexSansCondensed-{weight}.ttf"))
    registerFont(font)
    canvas.setFont(weight, 12)
    canvas.drawString(72, 72, "DO NOT DRINK")
canvas.showPage()
canvas.save()
"""
ENTRY = "import sys; from labelkit.cli import main; main()"


def cold(folder: Path) -> None:
    """Whole processes, by turns: what a person waits for."""
    bench = folder / "bench"
    python = [sys.executable, "-c"]
    _ran([*python, ENTRY, "demo", str(bench)], folder)
    label = next((bench / "prints").glob("pyro-b-*.pdf"))
    number = label.stem.removeprefix("pyro-b-")
    out = str(folder / "label.pdf")
    pairs = {
        "labelkit label": (
            [*python, ENTRY, "label", number, "-o", out],
            [*python, LEAST],
        ),
        "labelkit --help": ([*python, ENTRY, "--help"], [*python, "import click"]),
    }
    print(f"\n{'cold':>17}{'ms':>8}{'least ms':>10}{'ratio':>7}")
    for name, (ours, least) in pairs.items():
        times: tuple[list[float], list[float]] = ([], [])
        for _ in range(COLD_RUNS):
            for command, kept in zip((ours, least), times, strict=True):
                kept.append(_ran(command, bench))
        mine, theirs = (statistics.median(kept) * 1000 for kept in times)
        print(f"{name:>17}{mine:>8.0f}{theirs:>10.0f}{mine / theirs:>7.2f}", flush=True)


def _ran(command: list[str], folder: Path) -> float:
    """How long a command took from its start to its end [s]."""
    env = os.environ | {"PYTHONPATH": str(ROOT)}
    env.pop("PYTHONDONTWRITEBYTECODE", None)  # what is installed is compiled
    start = time.perf_counter()
    subprocess.run(
        command,
        cwd=folder,
        env=env,
        capture_output=True,
        check=True,
    )
    return time.perf_counter() - start


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description="How fast labels are printed.")
    parser.add_argument("floor", nargs="?", default="")
    parser.add_argument("--floor", dest="named", default="", help=argparse.SUPPRESS)
    parser.add_argument("--floor-python", default=sys.executable)
    parser.add_argument("--counts", nargs="*", type=int, default=list(COUNTS))
    parser.add_argument("--case", choices=CASES, help="one case, as a line of JSON")
    parser.add_argument("--warm", action="store_true", help="without cold starts")
    asked = parser.parse_args()
    if asked.case:
        print(json.dumps(measured(asked.case, asked.named, asked.counts[0])))
        return
    floor = str(Path(asked.floor).resolve()) if asked.floor else ""
    throughput(floor, asked.floor_python, asked.counts)
    if not asked.warm:
        with TemporaryDirectory() as folder:
            cold(Path(folder))


if __name__ == "__main__":
    main()
