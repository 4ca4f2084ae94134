"""A bar for long jobs, on a terminal's stderr and nowhere else."""

import io
import sys

import pytest

from labelkit.cli.progress import LONG, moving_bar, watched


class Watched(io.StringIO):
    """A terminal that somebody looks at."""

    def isatty(self) -> bool:
        return True


def stderr(monkeypatch: pytest.MonkeyPatch, stream: io.StringIO) -> io.StringIO:
    monkeypatch.setattr(sys, "stderr", stream)
    return stream


@pytest.mark.parametrize("count", [0, 1, LONG])
def test_without_a_terminal_nothing_is_written(
    monkeypatch: pytest.MonkeyPatch, count: int
) -> None:
    stream = stderr(monkeypatch, io.StringIO())
    assert list(watched(range(count), least=0)) == list(range(count))
    assert stream.getvalue() == ""


def test_a_long_job_has_a_bar_and_a_shorter_one_has_none(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    stream = stderr(monkeypatch, Watched())
    just_under = range(LONG - 1)
    assert list(watched(just_under, label="Labels", least=LONG)) == [*just_under]
    assert stream.getvalue() == ""
    assert list(watched(range(LONG), label="Labels", least=LONG)) == [*range(LONG)]
    assert "Labels" in stream.getvalue()
    assert "100%" in stream.getvalue()
    assert capsys.readouterr().out == ""


def test_a_job_of_one_part_has_a_bar_where_no_least_is_named(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    stream = stderr(monkeypatch, Watched())
    assert list(watched(["one"])) == ["one"]
    assert "Placing" in stream.getvalue()


def test_one_bar_moves_over_several_batches(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = stderr(monkeypatch, Watched())
    with moving_bar(LONG, label="Labels", least=LONG) as passing:
        assert list(passing(range(LONG // 2))) == [*range(LONG // 2)]
        assert "100%" not in stream.getvalue()
        assert list(passing(iter("x" * (LONG // 2)))) == ["x"] * (LONG // 2)
    assert "100%" in stream.getvalue()
    assert stream.getvalue().count("Labels") == stream.getvalue().count("%")


def test_what_goes_wrong_under_way_comes_through(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    stderr(monkeypatch, Watched())
    done = []
    with pytest.raises(ZeroDivisionError):
        done += [1 / n for n in watched([1, 0])]
    assert done == []
