"""A picture of each page beside its PDF."""

from collections.abc import Iterator
from pathlib import Path

from labelkit.cli.prints import write

__all__ = ["write_pictures"]


def write_pictures(path: Path, pdf: bytes) -> Iterator[Path]:
    """Write ``NAME-1.png`` and on beside ``path``; yields each one once written.

    Raises:
        BadInput: the optional package that draws pages is not installed.
        ShelfError: the folder cannot be written.
    """
    from labelkit.printing.previews import previews

    for number, picture in enumerate(previews(pdf), start=1):
        file = path.with_name(f"{path.stem}-{number}.png")
        write(file, picture)
        yield file
