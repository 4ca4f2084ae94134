"""From the sample bench to the published page, by the commands a person types."""

import json
import shutil
from datetime import datetime
from pathlib import Path

import pytest
from click.testing import CliRunner

from labelkit.cli.group import commands
from labelkit.resources import samples_dir
from tests.pages.reading import outline


def run(bench: Path, *words: str) -> str:
    done = CliRunner().invoke(
        commands, [words[0], "--bench", str(bench), *words[1:]], catch_exceptions=False
    )
    assert done.exit_code == 0, done.output
    return done.stdout


@pytest.fixture
def bench(tmp_path: Path, in_may: datetime) -> Path:
    folder = tmp_path / "bench"
    shutil.copytree(str(samples_dir()), folder)
    return folder


def test_a_mixed_batch_has_its_page(bench: Path, tmp_path: Path) -> None:
    mixed = json.loads(
        run(
            bench, "mix", "borate-alkali", "--by", "M. Osei", "--on", "2031-03-14",
            "--weighed", "2=17.4g", "--json",
        )
    )  # fmt: skip
    number = mixed["batch"]
    run(bench, "log", f"{number}/1", "opened", "--on", "2031-04-01")
    said = run(bench, "publish", str(tmp_path / "site"))
    assert f"open {tmp_path / 'site' / 'index.html'}" in " ".join(said.split("\n"))
    page = outline((tmp_path / "site" / "B" / number / "index.html").read_bytes())
    strength = mixed["strength"]["mL_per_g"]
    # shared prototypes, tall: 50.0 g/L of tetrahydrate, 20.0 mL a gram, Repr. 1B
    assert strength == pytest.approx(20.0, abs=0.2)
    for must in (
        "Borate alkali stock", "20 mL = 1 g", "sodium metaborate tetrahydrate",
        "50 g/L", number, "DANGER", "Health hazard", "Contains borates.",
        "May damage fertility. May damage the unborn child.", "DO NOT DRINK",
        "Call 01632 960 118", "17.3 g 17.4 g", "planned, not read",
        "5 g 100 mL", "Repr. 1B", "2031-04-01 1 opened",
    ):  # fmt: skip
        assert must in page.text, must
    assert "The recipe borate-alkali and its batches" in page.text


def test_every_sample_recipe_has_a_page_that_works_out(
    bench: Path, tmp_path: Path
) -> None:
    run(bench, "publish", str(tmp_path / "site"))
    recipes = sorted(p.stem.upper() for p in (bench / "recipes").glob("*.toml"))
    pages = {p.parent.name: p for p in (tmp_path / "site" / "R").glob("*/index.html")}
    assert sorted(pages) == recipes
    for page in pages.values():
        text = outline(page.read_bytes()).text
        assert "Cannot be worked out" not in text
        assert "Mixing it" in text
