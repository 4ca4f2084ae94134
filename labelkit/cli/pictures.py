"""Pictures of a PDF's pages, for looking before printing."""

from collections.abc import Iterator
from pathlib import Path

from labelkit.errors import BadInput

__all__ = ["pictures_of"]

DPI = 150
POINTS_PER_INCH = 72


def pictures_of(path: Path) -> Iterator[Path]:
    """Write a PNG of each page beside the PDF, and name it.

    Raises:
        BadInput: the optional package that draws pages is not installed.
    """
    try:
        import pypdfium2
    except ImportError:
        raise BadInput(
            "the package pypdfium2 is not installed",
            place="--png",
            remedy="Install it with: pip install 'labelkit[png]'",
        ) from None
    document = pypdfium2.PdfDocument(path)
    for n, page in enumerate(document, start=1):
        picture = path.with_name(f"{path.stem}-{n}.png")
        page.render(scale=DPI / POINTS_PER_INCH).to_pil().save(picture)
        yield picture
    document.close()
