"""Boxes to tick, one for each ridge of a square."""

from collections.abc import Iterator
from typing import NamedTuple

from django.utils.translation import gettext as _

from drives.craft.layout.layout import Mitre
from drives.craft.layout.rows import rows

TEN = 10
MANY = 120  # ridges, from which on smaller boxes save paper
NARROW = 4  # boxes, which are too few to have their words below them


class Boxes(NamedTuple):
    """How they are drawn; lengths in mm."""

    tens: int  # to a line
    side: float
    gap: float  # between tens
    letter: float


USUAL, SMALL = Boxes(3, 5.9, 3, 3.1), Boxes(5, 3.3, 3, 2.9)
LARGE, LARGE_MANY = Boxes(2, 8, 4, 5), Boxes(3, 5.4, 4, 5)


def boxes(stitches: int, mitre: Mitre, *, large: bool) -> Iterator[str]:
    """Lines of boxes, each an ``<svg>``, for a square whose side is ``stitches``.

    Below each ten stand the ridge and the stitches that are then left on the needle.
    """
    left = [row.stitches for row in rows(stitches, mitre)[1::2]]  # after each RS row
    many = stitches > MANY
    look = (LARGE_MANY if many else LARGE) if large else (SMALL if many else USUAL)
    line = look.tens * TEN
    for first in range(0, stitches, line):
        yield _line(look, first, left[first : first + line])


def _line(look: Boxes, first: int, left: list[int]) -> str:
    drawn, told = [], []
    for start in range(0, len(left), TEN):
        ten = left[start : start + TEN]
        x = start * look.side + start // TEN * look.gap
        end = x + len(ten) * look.side
        upright = "".join(f"M{x + look.side * box:g} 0v{look.side:g}" for box in range(1, len(ten)))
        drawn.append(f"M{x:g} 0H{end:g}v{look.side:g}H{x:g}z{upright}")
        words = _("%(ridge)d: %(left)d left") % {"ridge": first + start + len(ten), "left": ten[-1]}
        at, anchor = (x, "start") if len(ten) < NARROW else (end, "end")
        told.append(
            f'<text x="{at:g}" y="{look.side * 1.1 + look.letter:g}" '
            f'text-anchor="{anchor}">{words}</text>'
        )
    width = look.tens * (TEN * look.side + look.gap)
    height = look.side * 1.1 + look.letter * 1.4
    facts = {"first": first + 1, "last": first + len(left)}
    title = _("Boxes to tick for the ridges %(first)d to %(last)d") % facts
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="boxes" width="{width:g}mm" '
        f'height="{height:g}mm" viewBox="-0.3 -0.3 {width:g} {height:g}"><title>{title}</title>'
        f'<path fill="none" stroke="#231f1a" stroke-width="0.3" d="{"".join(drawn)}"/>'
        f'<g font-family="Atkinson Hyperlegible" font-size="{look.letter:g}" fill="#231f1a">'
        f"{''.join(told)}</g></svg>"
    )
