"""Codes read back from pictures of the print, by two programs that share no code."""

from collections.abc import Iterator
from itertools import product
from typing import Any

import cv2
import numpy as np
import pypdfium2
import zxingcpp

__all__ = [
    "QR",
    "Picture",
    "blurred",
    "cut_out",
    "pictures",
    "read_by_opencv",
    "read_by_zxing",
    "stained",
    "tilted",
]

Picture = np.ndarray[Any, np.dtype[np.uint8]]
WHITE = 255
QR = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
# OpenCV reads a small or a large symbol less surely than a middling one: as a hand
# does, the picture is brought nearer until it reads.
_NEARER = (1.0, 2.0, 1.5, 3.0)
_DETECTORS = (cv2.QRCodeDetectorAruco, cv2.QRCodeDetector)


def pictures(pdf: bytes, dpi: float) -> list[Picture]:
    """Each page in grey, as pdfium draws it."""
    document = pypdfium2.PdfDocument(pdf)
    drawn = [page.render(scale=dpi / 72).to_numpy() for page in document]
    return [cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY) for picture in drawn]


def read_by_zxing(picture: Picture) -> list[str]:
    """Every QR symbol in a picture, as zxing-cpp reads it."""
    return [found.text for found in zxingcpp.read_barcodes(picture, formats=QR)]


def read_by_opencv(picture: Picture) -> str:
    """The QR symbol in a picture, as OpenCV reads it; "" where it does not."""
    return next(filter(None, _readings(picture)), "")


def _readings(picture: Picture) -> Iterator[str]:
    for nearer, detector in product(_NEARER, _DETECTORS):
        seen = cv2.resize(
            picture, None, fx=nearer, fy=nearer, interpolation=cv2.INTER_CUBIC
        )
        yield str(detector().detectAndDecode(seen)[0])


def cut_out(picture: Picture, around: float = 0.5) -> Picture:
    """The part of a picture that a hand would hold the camera over.

    Args:
        picture: with one symbol.
        around: how much of its surroundings is seen too, in sides of the symbol.
    """
    corners = _corners(picture)
    (left, top), (right, bottom) = corners.min(axis=0), corners.max(axis=0)
    more = int((right - left) * around)
    rows = slice(max(top - more, 0), bottom + more)
    return picture[rows, max(left - more, 0) : right + more]


def tilted(picture: Picture, degrees: float) -> Picture:
    """The picture turned about its middle, on white."""
    high, wide = picture.shape
    room = int(np.hypot(high, wide)) + 2
    turn = cv2.getRotationMatrix2D((wide / 2, high / 2), degrees, 1.0)
    turn[:, 2] += ((room - wide) / 2, (room - high) / 2)
    return _bytes(cv2.warpAffine(picture, turn, (room, room), borderValue=(WHITE,)))


def blurred(picture: Picture, pixels: float) -> Picture:
    """The picture out of focus: a Gaussian of this standard deviation."""
    return _bytes(cv2.GaussianBlur(picture, (0, 0), pixels))


def stained(picture: Picture, share: float, grey: int) -> Picture:
    """A stain over the lower right corner of the symbol, a share of its side wide.

    That corner has no finder pattern: the check words make up for what is lost.
    """
    corners = _corners(picture)
    side = int(np.hypot(*(corners[1] - corners[0])) * share)
    right, bottom = corners[2] + 1
    spoilt = picture.copy()
    spoilt[bottom - side : bottom, right - side : right] = grey
    return spoilt


def _corners(picture: Picture) -> np.ndarray[Any, np.dtype[np.int_]]:
    """Where the one symbol of a picture has its corners [pixels], from the top left."""
    (found,) = zxingcpp.read_barcodes(picture, formats=QR)
    at = found.position
    corners = (at.top_left, at.top_right, at.bottom_right, at.bottom_left)
    return np.array([(corner.x, corner.y) for corner in corners])


def _bytes(picture: Any) -> Picture:
    return np.asarray(picture, dtype=np.uint8)
