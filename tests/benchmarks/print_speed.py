"""How fast labels are printed, beside the least a reportlab canvas needs for them.

    python -m tests.benchmarks.print_speed [FLOOR]

FLOOR is a script that answers ``--one reportlab --n N --qr qrcode --mask 2`` with a
line of JSON holding ``rate`` and ``per_label``; without it a bare canvas writes the
same words here. Each figure comes from a process of its own, the median of three; the
clock covers fonts, placing, drawing and saving, not imports. Compare ratios, not
seconds: ``drawing`` leaves placing out of the clock, ``whole`` has it in.
"""

import json
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from importlib import import_module
from io import BytesIO
from pathlib import Path

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
from labelkit.printing.sheets import Sheet, impose

ROOT = Path(__file__).resolve().parents[2]
COUNTS = (1, 100, 1000)
REPEATS = 3
MM = 72 / 25.4
DARK = re.compile("1+")

# Words for a drawing, not a classification.
STATEMENT = "May damage fertility. May damage the unborn child"
PRECAUTIONS = (
    "Keep out of reach of children.",
    "Do not handle until all safety precautions have been read and understood.",
    "Wear protective gloves and eye protection.",
    "IF exposed or concerned: Get medical advice.",
    "Store locked up.",
    "Dispose of contents and container as hazardous waste.",
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


def bottles(count: int) -> Iterator[BottleText]:
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


def placed(count: int) -> Iterator[Page]:
    """The labels of as many bottles, each placed when it is asked for."""
    settings, layout = Settings(), layout_named("tall", ())
    for text in bottles(count):
        yield place_label(text, layout=layout, settings=settings).page


def drawn(pages: Iterable[Page], sheet: Sheet) -> bytes:
    """The labels on sheets, as one PDF."""
    papers = impose(pages, sheet)
    return draw_papers(papers, title="Labels", author="", subject="", tagged=False)


def bare(count: int, sheet: Sheet) -> bytes:
    """The same words on a bare canvas: one text object a label, lines folded once."""
    from reportlab import rl_config
    from reportlab.pdfbase.pdfmetrics import stringWidth
    from reportlab.pdfgen.canvas import Canvas

    from labelkit.printing.fonts import register

    rl_config.useA85 = 0
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

    for index, text in enumerate(bottles(count)):
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


def prepared(case: str, count: int, sheet: Sheet) -> Callable[[], bytes]:
    """A case, ready for the clock to start."""
    if case == "bare":
        return lambda: bare(count, sheet)
    if case == "whole":
        return lambda: drawn(placed(count), sheet)
    pages = tuple(placed(count))
    return lambda: drawn(pages, sheet)


def measured(case: str, count: int) -> dict[str, float]:
    """One case, in this process; imports are done before the clock starts."""
    for module in (
        "qrcode.main",
        "reportlab.pdfgen.canvas",
        "reportlab.pdfbase.ttfonts",
    ):
        import_module(module)
    run = prepared(case, count, read_sheet("a4-74x105"))
    start = time.perf_counter()
    size = len(run())
    rate = count / (time.perf_counter() - start)
    return {"rate": rate, "per_label": size / count}


def in_own_process(command: list[str]) -> dict[str, float]:
    """The median by rate of some runs of a command that prints a line of JSON."""
    runs: list[dict[str, float]] = []
    for _ in range(REPEATS):
        done = subprocess.run(
            command, cwd=ROOT, capture_output=True, text=True, check=True
        )
        runs.append(json.loads(done.stdout.splitlines()[-1]))
    runs.sort(key=lambda run: run["rate"])
    return runs[len(runs) // 2]


def main(floor: str = "") -> None:
    """Print the table: labels a second, as a ratio to the floor, and bytes a label."""
    this = [sys.executable, "-m", "tests.benchmarks.print_speed", "--case"]
    other = [
        sys.executable,
        floor,
        *["--one", "reportlab", "--qr", "qrcode", "--mask", "2", "--n"],
    ]
    print(f"{'labels':>7}{'case':>10}{'labels/s':>10}{'ratio':>8}{'bytes/label':>13}")
    for count in COUNTS:
        least = other if floor else [*this, "bare"]
        rows = {"floor": in_own_process([*least, str(count)])}
        for case in ("drawing", "whole"):
            rows[case] = in_own_process([*this, case, str(count)])
        for case, row in rows.items():
            ratio = row["rate"] / rows["floor"]["rate"]
            print(
                f"{count:>7}{case:>10}{row['rate']:>10.0f}{ratio:>8.2f}"
                f"{row['per_label']:>13.0f}",
                flush=True,
            )


if __name__ == "__main__":
    if sys.argv[1:2] == ["--case"]:
        print(json.dumps(measured(sys.argv[2], int(sys.argv[3]))))
    else:
        main(*sys.argv[1:2])
