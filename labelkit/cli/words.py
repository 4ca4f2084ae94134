"""Lines on the terminal, 78 wide, as the plan sets them."""

import textwrap

__all__ = ["WIDE_TERM", "WIDTH", "ends", "fact", "filled", "fitted"]

WIDTH = 78
TERM = 12
WIDE_TERM = 14


def fact(term: str, text: str, width: int = TERM) -> str:
    """A term and what is said of it, wrapped beside it."""
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=f"{term} ".ljust(width),
        subsequent_indent=" " * width,
    )


def filled(text: str) -> str:
    """A paragraph."""
    return textwrap.fill(text, WIDTH)


def ends(left: str, right: str) -> str:
    """Two words at the two ends of a line."""
    gap = WIDTH - len(left) - len(right)
    return f"{left}{' ' * max(gap, 2)}{right}".rstrip()


def fitted(text: str, width: int) -> str:
    """The text as wide as a column; a longer one is cut, and shows that it is."""
    if len(text) > width:
        text = f"{text[: width - 1]}…"
    return text.ljust(width)
