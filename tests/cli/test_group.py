"""The command line as a whole: help, exit codes, and faults of our own."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from labelkit import __version__
from labelkit.cli import group
from labelkit.cli.group import COMMANDS, main
from labelkit.cli.workplace import Workplace
from tests.cli.conftest import Run, labelkit
from tests.cli.terminal import HOUSE


def shell(*words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "labelkit", *words],
        env={**os.environ, "PYTHONPATH": str(HOUSE), **environment},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, bench: Path) -> Path:
    """A plan that runs into a fault of ours; reports go to this folder."""

    def fall_over(place: Workplace, named: str) -> None:
        raise ZeroDivisionError(f"nobody thought of {named}")

    monkeypatch.setattr(Workplace, "recipe", fall_over)
    monkeypatch.setattr(sys, "argv", ["labelkit", "plan", "plain-fixer"])
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.delenv("LABELKIT_DEBUG", raising=False)
    return tmp_path


def ended() -> object:
    with pytest.raises(SystemExit) as caught:
        main()
    return caught.value.code


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself(name: str) -> None:
    answer = labelkit(name, "--help")
    assert answer.code == 0
    assert f"Usage: commands {name}" in answer.out
    explained = answer.out.split("\n\n")[1].strip()
    assert explained.endswith(".")


def test_the_list_of_commands_says_what_each_does() -> None:
    out = labelkit("--help").out
    for name, words in COMMANDS.items():
        assert re.search(rf"^  {name} ", out, re.MULTILINE)
        assert words.split()[0] in out


def test_the_version_is_told() -> None:
    assert labelkit("--version").out.strip() == f"labelkit, version {__version__}"


def test_an_unknown_command_is_wrong_usage() -> None:
    answer = labelkit("brew")
    assert answer.code == 2
    assert "No such command 'brew'" in answer.err


def test_an_unknown_option_is_wrong_usage(run: Run) -> None:
    answer = run("plan", "plain-fixer", "--shake")
    assert answer.code == 2
    assert "No such option" in answer.err


def test_a_fault_of_ours_is_one_line_and_a_report(
    broken: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended() == group.OUR_FAULT == 70
    said = capsys.readouterr()
    (report,) = broken.glob("labelkit-report-*.txt")
    assert said.out == ""
    assert said.err == (
        "labelkit: this is a fault of ours, not of your files. "
        f"Please send {report} to whoever looks after labelkit.\n"
    )
    told = report.read_text("utf-8")
    assert f"labelkit {__version__}, Python" in told
    assert "$ labelkit plan plain-fixer" in told
    assert "ZeroDivisionError: nobody thought of plain-fixer" in told


def test_a_report_that_cannot_be_written_is_said_so(
    broken: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(broken / "nowhere"))
    assert ended() == 70
    assert capsys.readouterr().err == (
        "labelkit: this is a fault of ours, not of your files. "
        "Set LABELKIT_DEBUG=1 and send what it shows then.\n"
    )


def test_whoever_looks_after_labelkit_sees_the_traceback(
    broken: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LABELKIT_DEBUG", "1")
    with pytest.raises(ZeroDivisionError, match="nobody thought of plain-fixer"):
        main()
    assert not list(broken.glob("labelkit-report-*.txt"))


def test_it_runs_as_a_program_from_any_folder(tmp_path: Path) -> None:
    done = shell("chemicals", "pyrogallol", LABELKIT_BENCH="")
    assert done.returncode == 0
    assert done.stdout.startswith("pyrogallol   (pyrogallol)")
    assert done.stderr == ""


def test_bad_input_from_the_shell_exits_with_2() -> None:
    done = shell("plan", "no-such-recipe", LABELKIT_BENCH=str(HOUSE / "samples"))
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1
    assert "Traceback" not in done.stderr


def test_help_loads_no_command_and_no_heavy_library() -> None:
    code = (
        "import sys; from labelkit.cli.group import commands\n"
        "commands(['--help'], standalone_mode=False)\n"
        "heavy = {'reportlab', 'qrcode', 'pint', 'flask', 'jinja2', 'molmass'}\n"
        "loaded = {name.partition('.')[0] for name in sys.modules}\n"
        "ours = {n for n in sys.modules if n.startswith('labelkit.cli.')}\n"
        "print(sorted(heavy & loaded), sorted(ours), file=sys.stderr)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=HOUSE,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    assert done.stderr.strip() == "[] ['labelkit.cli.group']"
