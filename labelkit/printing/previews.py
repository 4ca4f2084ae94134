"""Pictures of a print's pages, for looking before printing."""

from collections.abc import Iterator
from io import BytesIO

from labelkit.errors import BadInput

__all__ = ["previews"]

DPI = 150
POINTS_PER_INCH = 72


def previews(pdf: bytes) -> Iterator[bytes]:
    """Each page of a PDF as a PNG at 150 dpi.

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
    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        picture = BytesIO()
        page.render(scale=DPI / POINTS_PER_INCH).to_pil().save(picture, "PNG")
        yield picture.getvalue()
    document.close()
