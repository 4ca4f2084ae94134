"""Words and files that nobody planned for, through the functions and as typed.

Whatever comes is set right or refused in single lines, each with its place, what is
wrong, and what to write instead: never clipped, never empty, never a crash.
"""

import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from decimal import Decimal
from io import BytesIO
from pathlib import Path

import pytest
from msgspec.structs import replace
from pypdf import PdfReader

from labelkit.errors import BadInput, LabelkitError, Misfit
from labelkit.files.chemicals import read_catalogue
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText, HazardText, Headline, Run
from labelkit.printing.label import place_label
from labelkit.printing.layouts import Layout, built_in, layout_named, read_layout
from labelkit.printing.said import missing
from labelkit.printing.sheet_files import read_sheet
from labelkit.printing.sheets import Sheet, impose
from tests.cli.conftest import Answer, bench, run
from tests.cli.conftest import Run as Typed
from tests.conftest import SAMPLES
from tests.printing.label_texts import BORATE, BROMIDE, CARBONATE, SILVER
from tests.printing.placed import overlaps, white_lines_off_black, words_of
from tests.printing.test_label_invariants import require_inside
from tests.printing.world_prints import printed

__all__ = ["bench", "run"]

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = ROOT / "templates"
LAYOUTS = built_in()
ROOM = Settings(profile="room")
LONG = ("Weak alkaline bath " * 22)[:400].strip()
FORTY = [f"substance {n} {n / 4:g}" for n in range(1, 41)]

# A character, what it is called, and why it cannot be printed.
UNPRINTABLE = {
    "bell": ("Fix\u0007er", "U+0007"),
    "null": ("Fix\u0000er", "U+0000"),
    "escape": ("\u001b[31mFixer", "U+001B"),
    "zero width space": ("Fi\u200bxer", "U+200B"),
    "zero width joiner": ("Fi\u200dxer", "U+200D"),
    "byte order mark": ("\ufeffFixer", "U+FEFF"),
    "soft hyphen": ("Fi\u00adxer", "U+00AD"),
    "turned round": ("Fix\u202eer", "U+202E"),
    "hebrew": ("שלום", "right to left"),
    "arabic": ("محلول", "right to left"),
    "emoji": ("Fix 🧪", "U+1F9EA TEST TUBE"),
    "no glyph": ("50 ≡ 5", "U+2261"),
    "warning sign": ("⚠ Fixer", "U+26A0"),
    "han": ("定着液", "U+5B9A"),
}
MARKUP = (
    "<b>Fix</b> &amp; &lt;",
    "{{ 7*7 }} {% raw %} {name}",
    "%s %(name)s $name \\n",
    "</text> <!-- -->",
    "(Tj) [TJ] >> endobj",
)


def require_said_in_lines(error: LabelkitError) -> None:
    for line in str(error).splitlines():
        require_a_line(line)


def require_a_line(line: str) -> None:
    """Place: problem. Remedy. And nothing of the program's inside."""
    assert re.match(r"[^:]+: .+\. [A-Z].+[.\"]$", line) or "no layout carries" in line
    assert len(line) < 400
    for inside in ("Traceback", "Error(", "object at", "None"):
        assert inside not in line


def label_or_refusal(text: BottleText, layout: Layout | None) -> str:
    """What is wrong, or "" for a label that is whole."""
    try:
        placement = place_label(text, layout=layout, settings=ROOM)
    except (BadInput, Misfit) as error:
        require_said_in_lines(error)
        return str(error)
    taken = layout_named(placement.layout)
    assert overlaps(placement.page, 0.02) == []
    assert white_lines_off_black(placement.page) == []
    assert missing(text, placement.page, taken.kind) == []
    require_inside(placement.page, taken)
    return ""


# ---------------------------------------------------------------- through the functions


@pytest.mark.parametrize("layout", [None, *LAYOUTS], ids=lambda one: one and one.name)
@pytest.mark.parametrize(
    "changes",
    [
        {"name": LONG},
        {"name": "W" * 400},
        {"contents": (Run("Made from " + ", ".join(FORTY) + " g/L."),)},
        {"contents": tuple(Run(f"{one}, ", strong=True) for one in FORTY)},
        {"headline": Headline("equivalence", "1" * 60 + " mL = 1 g", "x" * 90)},
        {"strength": tuple(FORTY)},
        {"never_with": "NEVER WITH " + ", ".join(FORTY) + "."},
        {"supplier": LONG},
        {"hazard": replace(SILVER.hazard, contains=f"Contains {', '.join(FORTY)}.")},
        {"hazard": HazardText("DANGER", (), statements=(LONG,))},
    ],
    ids=lambda changes: "-".join(changes),
)
def test_too_many_words_are_set_whole_or_refused(
    changes: dict[str, object], layout: Layout | None
) -> None:
    text = replace(BORATE, **changes)
    label_or_refusal(text, layout)


@pytest.mark.parametrize("name", ["small", "tall", "wrap-low", "tag", "cap"])
def test_a_title_of_four_hundred_letters_is_refused_where_it_has_no_room(
    name: str,
) -> None:
    text = BROMIDE if name == "small" else BORATE
    told = label_or_refusal(replace(text, name=LONG), layout_named(name))
    assert told.startswith(f"layout {name}: ")
    assert label_or_refusal(replace(text, name="W" * 400), layout_named(name))


@pytest.mark.parametrize("field", ["name", "made", "never_with", "emergency"])
@pytest.mark.parametrize(("words", "why"), UNPRINTABLE.values(), ids=UNPRINTABLE)
def test_what_cannot_be_printed_is_refused_with_its_field(
    words: str, why: str, field: str
) -> None:
    text = replace(BORATE, **{field: words})
    for layout in (None, *LAYOUTS):
        told = label_or_refusal(text, layout)
        assert told.startswith(f"{field}: ")
        assert why in told
        assert told.replace("\n", " ").isprintable()  # nothing invisible is handed on


def test_what_is_wrong_is_told_of_every_field_at_once_and_only_once() -> None:
    words = UNPRINTABLE["emoji"][0]
    text = replace(BORATE, name=words, made=words, code_means=f"Opens {words}")
    told = label_or_refusal(text, None)
    assert [line.partition(":")[0] for line in told.splitlines()] == ["name", "made"]


@pytest.mark.parametrize("markup", MARKUP)
def test_markup_is_printed_as_it_is_written(markup: str) -> None:
    text = replace(BORATE, name=markup, never_with=f"NEVER WITH {markup}.")
    placement = place_label(text, layout=None, settings=ROOM)
    assert markup in words_of(placement.page)
    assert f"NEVER WITH {markup}." in words_of(placement.page)
    (page,) = PdfReader(BytesIO(printed(*placement.pages))).pages
    assert f"NEVER WITH {markup}." in " ".join(page.extract_text().split())


def test_what_looks_alike_is_printed_the_same() -> None:
    """Accents are joined to their letters; the Greek mu is the micro sign."""
    text = replace(BORATE, name="Re\u0301ve\u0301lateur 5 \u03bcm")
    placement = place_label(text, layout=None, settings=ROOM)
    assert "Révélateur 5 \u00b5m" in words_of(placement.page)


@pytest.mark.parametrize("letter", ["A", "B", "C"])
def test_a_part_mark_that_is_left_off_is_seen_though_every_word_holds_its_letter(
    letter: str,
) -> None:
    """One letter is found in any text: it is looked for as a mark of its own."""
    part = replace(CARBONATE.part, letter=letter, goes_with="B")  # type: ignore[type-var]
    text = replace(CARBONATE, name="A basic carbonate", part=part)
    page = place_label(text, layout=layout_named("wrap"), settings=ROOM).page
    assert missing(text, page) == []
    for field, told in (
        ("part", f"the part mark {letter}"),
        ("goes-with", "goes with B"),
    ):
        left = tuple(b for b in page.boxes if getattr(b, "field", "") != field)
        assert missing(text, replace(page, boxes=left)) == [told]


# ---------------------------------------------------------------- layouts of one's own


def boxes_of(name: str) -> tuple[str, list[str]]:
    """The head of a layout's file, and its boxes one by one."""
    text = (TEMPLATES / "labels" / f"{name}.toml").read_text("utf-8")
    head, *boxes = re.split(r"^(?=\[\[box\]\])", text, flags=re.MULTILINE)
    return head, boxes


def shown_by(box: str) -> set[str]:
    shows = tomllib.loads(box)["box"][0].get("shows", [])
    return {shows} if isinstance(shows, str) else set(shows)


# What may not be left off by any label: design, print-spec section 4.
NEVER_OFF = {
    "name", "headline", "hazards", "foot", "discard", "number", "code", "made",
    "supplier", "part",
}  # fmt: skip
WHOLE = [one.name for one in LAYOUTS if one.kind == "label"]


def without_a_field(name: str) -> Iterator[tuple[str, str]]:
    head, boxes = boxes_of(name)
    fields = {field for box in boxes for field in shown_by(box)}
    for field in sorted(fields & NEVER_OFF):
        kept = [box for box in boxes if field not in shown_by(box)]
        yield field, head + "".join(kept)


@pytest.mark.parametrize("name", WHOLE)
def test_a_layout_that_leaves_off_what_must_be_said_is_refused(
    name: str, tmp_path: Path
) -> None:
    left_off = set()
    for field, text in without_a_field(name):
        path = tmp_path / f"{field}.toml"
        path.write_text(text, encoding="utf-8")
        with pytest.raises(BadInput, match=f"none shows '{field}'") as caught:
            read_layout(path)
        require_said_in_lines(caught.value)
        left_off.add(field)
    assert left_off >= NEVER_OFF - {"part", "supplier"}


@pytest.mark.parametrize(
    "text",
    [
        "", "\x00\x01", "name = ", "[[box]]", 'name = "x"\nsize = [0, 0]',
        'name = "x"\nsize = [nan, inf]', 'name = 3\nsize = "A4"\nbox = 7',
        'name = "x"\nsize = [74, 52]\nmargin = -3\nfloor = 900\nbox = [1, 2]',
        'name = "x"\nsize = [74, 52]\nmargin = 3\nfloor = 40\n[[box]]\nshows = "soul"',
    ],
    ids=range(9),
)  # fmt: skip
def test_a_broken_layout_is_refused_in_lines(text: str, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_layout(path)
    assert all(line.startswith("mine.toml") for line in str(caught.value).splitlines())
    require_said_in_lines(caught.value)


@pytest.mark.parametrize(
    "words",
    [
        "{{ name.__class__.__mro__ }}", "{{ ''.__class__ }}", "{{ nobody }}",
        "{% for x in range(10**9) %}x{% endfor %}", "{{ 1/0 }}", "{{ name",
        "{% include 'x' %}", "{{ number * 500 }}",
    ],
)  # fmt: skip
def test_a_template_of_ones_own_sees_only_the_words_and_never_crashes(
    words: str, tmp_path: Path
) -> None:
    head, boxes = boxes_of("large")
    own = '[[box]]\nat = [6, 6]\nsize = [40, 5]\ntext = [8, 6.6]\nwords = """{}"""\n'
    path = tmp_path / "mine.toml"
    path.write_text(head + own.format(words) + "".join(boxes), encoding="utf-8")
    with pytest.raises((BadInput, Misfit)) as caught:
        place_label(BORATE, layout=read_layout(path), settings=ROOM)
    assert str(caught.value)
    assert "__mro__" not in str(caught.value) or words in str(caught.value)


# ---------------------------------------------------------------- sheets


GOOD: dict[str, object] = {
    "paper": (210, 297), "label": (148, 74), "columns": 1, "rows": 3,
    "at": (31, 33.5), "pitch": (148, 78),
}  # fmt: skip


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"columns": 2}, "ends at 327 mm, beyond the paper's 210 mm"),
        ({"rows": 4}, "ends at 341.5 mm, beyond the paper's 297 mm"),
        ({"at": (62.1, 33.5)}, "ends at 210.1 mm, beyond"),
        ({"at": (-1, 33.5)}, "the first label lies on the paper"),
        ({"pitch": (148, 73.9)}, "pitch 73.9 mm is less than the label's 74 mm"),
        ({"label": (float("nan"), 74)}, "need a size"),
        ({"rows": 0}, "has no labels"),
        ({"radius": 37.1}, "more than half the label's short side"),
        ({"order": "spiral"}, "order 'spiral' is not known"),
    ],
    ids=lambda one: next(iter(one)) if isinstance(one, dict) else "",
)
def test_a_sheet_that_does_not_fit_its_paper_is_refused(
    change: dict[str, object], told: str
) -> None:
    assert Sheet("roll", **GOOD).slots  # type: ignore[arg-type]
    with pytest.raises(BadInput, match=re.escape(told)) as caught:
        Sheet("roll", **GOOD | change)  # type: ignore[arg-type]
    require_said_in_lines(caught.value)


def test_a_sheet_that_just_fits_is_taken() -> None:
    for change in ({"at": (62, 33.5)}, {"pitch": (148, 74)}, {"radius": 37}):
        assert Sheet("roll", **GOOD | change).slots  # type: ignore[arg-type]


def test_a_label_is_not_laid_on_a_sheet_of_another_size() -> None:
    page = place_label(BROMIDE, layout=layout_named("small"), settings=ROOM).page
    with pytest.raises(Misfit, match="74 x 52 mm does not fit a sheet of 148 x 74 mm"):
        list(impose([page], read_sheet("a4-148x74")))


# ---------------------------------------------------------------- as a person types it


RECIPE = """\
title = "{}"
makes = "250 mL"
[[step]]
add = "water"
amount = "200 mL"
[[step]]
add = "sodium-thiosulfate-pentahydrate"
amount = "50 g"
[[step]]
make_up_to = "250 mL"
"""


def escaped(words: str) -> str:
    """As it may be written in TOML, whatever it is."""
    return "".join(
        mark if " " <= mark <= "~" and mark not in '"\\' else f"\\U{ord(mark):08X}"
        for mark in words
    )


def titled(bench: Path, title: str) -> None:
    path = bench / "recipes" / "try.toml"
    path.write_text(RECIPE.format(escaped(title)), encoding="utf-8")


def require_refused(answer: Answer) -> None:
    assert answer.code in (1, 2)
    assert answer.err.strip()
    for line in answer.err.strip().splitlines():
        require_a_line(line)


@pytest.mark.parametrize(("title", "why"), UNPRINTABLE.values(), ids=UNPRINTABLE)
def test_a_title_that_cannot_be_printed_never_costs_a_batch(
    title: str, why: str, bench: Path, run: Typed
) -> None:
    titled(bench, title)
    card = run("card", "try", "-o", "card.pdf")
    require_refused(card)
    assert why in card.err
    assert not (bench / "card.pdf").exists()
    mixed = run("mix", "try")
    if mixed.code:  # a character that no file may hold
        require_refused(mixed)
        assert why in mixed.err
    else:
        assert "No label: name: " in mixed.out
        assert why in mixed.out
        assert "The batch is kept." in mixed.out
    assert not list((bench / "prints").glob("*.pdf"))


def test_a_title_of_four_hundred_letters_as_typed(bench: Path, run: Typed) -> None:
    titled(bench, "W" * 400)
    card = run("card", "try", "-o", "card.pdf")
    require_refused(card)
    assert "Write a shorter title." in card.err
    mixed = run("mix", "try")
    assert mixed.code == 0, mixed.err
    assert "No label: " in mixed.out
    assert "The batch is kept." in mixed.out
    number = re.findall(r"labelkit label (\S+)", mixed.out)[-1]
    require_refused(run("label", number, "--layout", "tall", "-o", "label.pdf"))
    assert not (bench / "label.pdf").exists()


@pytest.mark.parametrize("markup", [one for one in MARKUP if len(one) < 24])
def test_markup_as_typed_is_printed_as_it_is_written(
    markup: str, bench: Path, run: Typed
) -> None:
    titled(bench, markup)
    assert run("mix", "try").code == 0
    (label,) = (bench / "prints").glob("*.pdf")
    assert run("card", "try", "-o", "card.pdf").code == 0
    for path in (label, bench / "card.pdf"):
        told = " ".join(PdfReader(path).pages[0].extract_text().split())
        assert markup in told


@pytest.mark.parametrize("white", ["", "   ", "\u00a0", "\t\n"])
def test_a_title_of_nothing_is_refused(white: str, bench: Path, run: Typed) -> None:
    titled(bench, white)
    for words in (("mix", "try"), ("card", "try", "-o", "card.pdf")):
        answer = run(*words)
        require_refused(answer)
        assert answer.err.startswith("try.toml, title: is empty.")


def forty_powders() -> str:
    """A recipe of forty salts; no cook's recipe, only a long one."""
    salts = [
        chemical.id
        for chemical in read_catalogue().substances
        if chemical.id.startswith(("sodium", "potassium"))
    ][:40]
    assert len(salts) == 40
    steps = [f'[[step]]\nadd = "{salt}"\namount = "1 g"\n' for salt in salts]
    head = 'title = "Forty"\nmakes = "2 L"\n[[step]]\nadd = "water"\namount = "1.8 L"\n'
    return head + "".join(steps) + '[[step]]\nmake_up_to = "2 L"\n'


def test_forty_ingredients_as_typed(bench: Path, run: Typed) -> None:
    (bench / "recipes" / "forty.toml").write_text(forty_powders(), encoding="utf-8")
    card = run("card", "forty", "-o", "card.pdf")
    require_refused(card)
    assert "42 steps need" in card.err
    assert "--weigh-out" in card.err


def test_a_layout_without_hazards_as_typed(bench: Path, run: Typed) -> None:
    folder = bench / "layouts"
    folder.mkdir()
    head, boxes = boxes_of("wrap")
    kept = [box for box in boxes if "hazards" not in shown_by(box)]
    own = head.replace('"wrap"', '"mine"') + "".join(kept)
    (folder / "mine.toml").write_text(own, encoding="utf-8")
    assert run("mix", "pyro-b").code == 0  # with another layout, or none
    number = re.findall(r"labelkit label (\S+)|Batch (\S+):", run("shelf").out)
    assert number is not None
    require_refused(run("check"))
    assert "none shows 'hazards'" in run("check").err


@pytest.mark.parametrize(
    ("old", "new"),
    [("columns = 1", "columns = 2"), ("rows    = 3", "rows    = 4")],
)
def test_a_sheet_that_does_not_fit_its_paper_as_typed(
    old: str, new: str, bench: Path, run: Typed
) -> None:
    folder = bench / "layouts"
    folder.mkdir()
    text = (TEMPLATES / "sheets" / "a4-148x74.toml").read_text("utf-8")
    assert old in text
    (folder / "roll.toml").write_text(text.replace(old, new), encoding="utf-8")
    require_refused(run("check"))
    require_refused(run("layouts", "--calibrate", "roll", "-o", "roll.pdf"))
    assert not (bench / "roll.pdf").exists()


def test_a_refusal_in_a_process_of_its_own_is_a_line_and_no_traceback(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "bench"
    shutil.copytree(SAMPLES, folder)
    titled(folder, UNPRINTABLE["hebrew"][0])
    done = subprocess.run(
        [sys.executable, "-m", "labelkit", "card", "try", "-o", "card.pdf"],
        cwd=folder,
        env={"PYTHONPATH": str(ROOT), "LC_ALL": "C", "PATH": ""},
        capture_output=True,
        check=False,
    )
    assert done.returncode == 2
    told = done.stderr.decode("utf-8", "replace")
    assert "right to left" in told
    assert "Traceback" not in told
    assert Decimal(len(told.splitlines())) <= 4
