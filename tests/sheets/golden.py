"""Pages compared with pictures of how they are to look.

Type is drawn a little differently from one machine to the next, and that must not matter; a block
that has moved or is gone must. So both pictures are blurred slightly, and what counts is the
part of the page where they differ most.
"""

import os
from pathlib import Path

import cv2
import numpy as np

from tests.sheets.pictures import Picture

FOLDER = Path(__file__).parent / "golden"
WRITE = "WRITE_GOLDEN"
"""Set in the environment, it has the pictures written anew: look at each before it is kept."""

BLUR = 5  # pixels; letters are 4 to 6 high
CELL = 24  # pixels, about half an inch
# Of 255 shades, on the mean. Measured: all type one pixel aside makes 5 and 26, a page that is
# moved by a twelfth of an inch 2 to 19 and at least 40.
MOST_OVERALL = 6.0
MOST_IN_A_CELL = 27.0


def difference(one: Picture, other: Picture) -> tuple[float, float]:
    """Mean shades between two pages, overall and in the cell where they differ most."""
    if one.shape != other.shape:
        return 255.0, 255.0
    blurred = [cv2.GaussianBlur(page, (BLUR, BLUR), 0).astype(np.float32) for page in (one, other)]
    apart = np.abs(blurred[0] - blurred[1])
    rows, columns = (-(-side // CELL) for side in apart.shape)
    padded = np.zeros((rows * CELL, columns * CELL), np.float32)
    padded[: apart.shape[0], : apart.shape[1]] = apart
    cells = padded.reshape(rows, CELL, columns, CELL).mean(axis=(1, 3))
    return float(apart.mean()), float(cells.max())


def alike(one: Picture, other: Picture) -> bool:
    overall, worst = difference(one, other)
    return overall <= MOST_OVERALL and worst <= MOST_IN_A_CELL


def writes() -> bool:
    return bool(os.environ.get(WRITE))


def keep(name: str, page: Picture) -> None:
    """From now on the page called ``name`` is to look so."""
    FOLDER.mkdir(exist_ok=True)
    cv2.imwrite(str(FOLDER / f"{name}.png"), page, [cv2.IMWRITE_PNG_COMPRESSION, 9])


def read(name: str) -> Picture:
    """How the page called ``name`` is to look."""
    kept = cv2.imread(str(FOLDER / f"{name}.png"), cv2.IMREAD_GRAYSCALE)
    assert kept is not None, f"there is no picture of {name}: write it with {WRITE}=1"
    return np.asarray(kept, np.uint8)
