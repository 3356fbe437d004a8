"""The map of a blanket as a file of its own."""

import re
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime

from django.conf import settings
from django.utils.translation import gettext as _

from drives.drawing import map_svg
from drives.drawing.looks import SHEET
from drives.readings.board import Board
from drives.readings.looks import looks_on
from shared.basics.limits import LimitReached

from .plain import plain

MOST_PIXELS = 2400  # along either side; 150 × 150 squares take some seven seconds then
SHARP = 2.0  # pixels of the picture for one of the screen, where there is room
PATIENCE_SECONDS = 60
_one_at_a_time = threading.Lock()
_drawn_or_next = threading.BoundedSemaphore(2)
BUSY_SECONDS = 5


def map_file(board: Board, now: datetime, *, in_colour: bool) -> str:
    """A stand-alone SVG 1.1 document; without colour it is told apart by its lines alone."""
    svg = map_svg(
        board.plan,
        board.state_of,
        title=plain(_("Map of %(blanket)s") % {"blanket": board.blanket.name}),
        late=frozenset(claim.square.place for claim in board.late(now)),
        colours=looks_on(board) if in_colour else {},
        paper=not in_colour,
    )
    ground = f'<rect width="100%" height="100%" fill="{SHEET if in_colour else "#ffffff"}"/>'
    return svg.replace("</title>", f"</title>{ground}", 1)


@contextmanager
def in_turn() -> Iterator[None]:
    """For as long as a picture is made, from reading the blanket on.

    One is made at a time, and one thread waits for its turn: were there more, none might be left
    for other pages. Raises LimitReached.
    """
    if not _drawn_or_next.acquire(blocking=False):
        raise LimitReached(BUSY_SECONDS)
    try:
        with _one_at_a_time:
            yield
    finally:
        _drawn_or_next.release()


def png(svg: str) -> bytes:
    """The same as pixels, no more than ``MOST_PIXELS`` either way, in the site's own type.

    A process of its own draws it: the library would keep every thread of this one waiting, for
    seconds where the map is large.
    """
    width, height = _size(svg)
    zoom = min(SHARP, MOST_PIXELS / width, MOST_PIXELS / height)
    pixels = max(int(width * zoom), 1)
    return subprocess.run(
        [sys.executable, "-m", "drives.exports.pixels", str(pixels), str(settings.FONTS_DIR)],
        input=svg.encode(),
        stdout=subprocess.PIPE,
        check=True,
        cwd=settings.BASE_DIR,
        timeout=PATIENCE_SECONDS,
    ).stdout


def _size(svg: str) -> tuple[int, int]:
    """The width and the height that the drawing names."""
    named = re.search(r'width="(\d+)" height="(\d+)"', svg)
    assert named
    return int(named[1]), int(named[2])
