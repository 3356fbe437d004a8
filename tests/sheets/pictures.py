"""Pages of a document as pictures."""

from functools import cache

import numpy as np
import pypdfium2 as pdfium
from numpy.typing import NDArray

Picture = NDArray[np.uint8]


@cache
def picture(pdf: bytes, page: int = 0, dpi: int = 50, *, grey: bool = True) -> Picture:
    """Rows × columns of grey values, or × 3 of blue, green and red."""
    drawn = pdfium.PdfDocument(pdf)[page].render(scale=dpi / 72, grayscale=grey)
    return np.asarray(drawn.to_numpy()).squeeze().copy()


def colourful(pdf: bytes, page: int = 0) -> float:
    """The share of pixels that are plainly no grey."""
    shades = picture(pdf, page, grey=False).astype(int)
    return float((shades.max(axis=2) - shades.min(axis=2) > 20).mean())


def letter_height(pdf: bytes, words: str) -> float:
    """How high the first letter of ``words`` stands where they first occur, in points."""
    for page in pdfium.PdfDocument(pdf):
        text = page.get_textpage()
        if found := text.search(words).get_next():
            _left, bottom, _right, top = text.get_charbox(found[0])
            return float(top - bottom)
    raise AssertionError(f"“{words}” is on no page")
