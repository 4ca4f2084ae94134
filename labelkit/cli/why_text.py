"""The traces of a plan's figures on the terminal."""

import textwrap
from collections.abc import Iterable

from labelkit.mixing.trace import Trace

__all__ = ["why_as_text"]

WIDTH = 78
INDENT = " " * 4


def why_as_text(traces: Iterable[Trace]) -> str:
    """Each figure, how it came about, and its source, 78 wide."""
    return "\n".join(["Why", "=" * WIDTH, *(_one(trace) for trace in traces)])


def _one(trace: Trace) -> str:
    lines = [textwrap.fill(trace.figure, WIDTH)]
    for words in (trace.how, f"Source: {trace.source}"):
        lines.append(
            textwrap.fill(words, WIDTH, initial_indent=INDENT, subsequent_indent=INDENT)
        )
    return "\n".join(lines)
