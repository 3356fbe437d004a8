"""A knitter's gauge beside the planned one: how far off, what comes of it, which needle to try."""

from enum import StrEnum
from math import log
from typing import NamedTuple

from drives.craft.layout.layout import Layout
from drives.craft.layout.sizing import side

from .needles import Needle, nearest_needle, needle, next_larger, next_smaller

TOLERANCE = 0.05  # one stitch in twenty still joins flat (common practice)
FAR = 0.25  # so much is seldom the hand alone (common practice)
ROWS_COUNTED = 1.5  # as many ridges to a stitch: rows were counted, of which a ridge has two

YIELDS = log(6 / 3.5) / log(6 / 2.75)
"""Stitches go with mm to the power of −0.69, by the published ones that ``next_needle`` cites."""


class Crook(StrEnum):
    """What the edges with row ends are beside the foundation, or that rows were counted."""

    ROWS_COUNTED = "rows-counted"
    LONGER = "longer"
    SHORTER = "shorter"


class Crooked(NamedTuple):
    """A gauge that makes no square square: row ends are longer by ``share`` (less than 0: shorter).

    So many ridges as make ``ROWS_COUNTED`` are hardly possible.
    """

    crook: Crook
    share: float


class Gauge(NamedTuple):
    """Stitches and ridges to 10 cm of garter stitch; ``ridges`` is None where nobody counted."""

    stitches: float
    ridges: float | None = None

    @property
    def mean(self) -> float:
        """What the sides of a mitred square follow: stitches on two of them, ridges on two."""
        return 2 / (1 / self.stitches + 1 / (self.ridges or self.stitches))

    @property
    def crooked(self) -> Crooked | None:
        """What is wrong where ridges are not as tall as stitches are wide."""
        taller = self.stitches / (self.ridges or self.stitches)
        if 1 / taller > ROWS_COUNTED:
            return Crooked(Crook.ROWS_COUNTED, taller - 1)
        if _even(taller, 2 * TOLERANCE):  # two counts, each with its own tolerance
            return None
        return Crooked(Crook.LONGER if taller > 1 else Crook.SHORTER, taller - 1)


def of_swatch(
    width: float, stitches: float, height: float | None = None, ridges: float | None = None
) -> Gauge:
    """The gauge where ``stitches`` are ``width`` cm and ``ridges`` are ``height`` cm (positive)."""
    return Gauge(stitches / width * 10, ridges / height * 10 if ridges and height else None)


class Tension(StrEnum):
    """How somebody knits; the values are codes for pages and API."""

    TIGHT = "tight"
    EVEN = "even"
    LOOSE = "loose"


class Compared(NamedTuple):
    """A ``planned`` and a ``measured`` gauge, both in stitches to 10 cm."""

    planned: float
    measured: float

    @property
    def off(self) -> float:
        """By how much a side comes out longer than planned, as a share; −0.1 is 10 % shorter."""
        return self.planned / self.measured - 1

    @property
    def tension(self) -> Tension:
        if _even(self.planned / self.measured, TOLERANCE):
            return Tension.EVEN
        return Tension.TIGHT if self.off < 0 else Tension.LOOSE

    @property
    def far(self) -> bool:
        return not _even(self.planned / self.measured, FAR)

    def side(self, stitches: int) -> float:
        """What a square of ``stitches`` on a side becomes, in cm."""
        return side(stitches, self.measured)

    def blanket(self, layout: Layout, border: int = 0) -> tuple[float, float]:
        """Width and height in cm if all of it, with ``border`` ridges around, were knitted so."""
        across, up = (
            units * layout.stitches + 2 * border for units in (layout.columns, layout.rows)
        )
        return self.side(across), self.side(up)

    def next_needle(self, mm: float) -> Needle | None:
        """The needle to try after one of ``mm``; None beyond the table.

        The same where the gauge is even, or where the next one would leave it further off.

        Stitches × mm stay about the same: 82 to 96 in the Craft Yarn Council's table from fine to
        bulky. With one yarn stitches change less than that (jimmybeanswool.com, instructional
        article 12: 3.5, 4.5 and 6 to the inch on 6, 4.5 and 2.75 mm), so the needle that follows
        rather falls short than goes too far, but where the table's next step is a large one; the
        next swatch tells.
        """
        if self.tension is Tension.EVEN:
            return needle(mm)
        found = nearest_needle(mm * self.measured / self.planned)
        if self.tension is Tension.TIGHT:
            tried = found if found.mm > mm else next_larger(mm)
        else:
            tried = found if found.mm < mm else next_smaller(mm)
        return needle(mm) if tried and self._overshoots(tried.mm / mm) else tried

    def _overshoots(self, factor: float) -> bool:
        """Whether a needle so many times as thick would leave the gauge further off."""
        off = log(self.planned / self.measured)
        return abs(off + YIELDS * log(factor)) > abs(off)


def _even(ratio: float, tolerance: float) -> bool:
    return max(ratio, 1 / ratio) <= 1 + tolerance + 1e-9
