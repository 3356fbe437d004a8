"""What a border picks up around the finished blanket."""

from typing import NamedTuple

from drives.craft.places import Place

from .layout import Layout


class Border(NamedTuple):
    """Stitches to pick up along all edges that face each way, and one more in each ``corner``.

    The bottom and the left edges are foundations, one for each stitch; the right and the top
    edges are row ends, one for each ridge.
    """

    bottom: int
    right: int
    top: int
    left: int
    corners: int

    @property
    def total(self) -> int:
        return sum(self)


def border(layout: Layout) -> Border:
    """The border of a ``layout`` that can be knitted: along its outline, not around its holes.

    Only the corners that stick out have a stitch of their own. Seams are taken as sewn.
    """
    outside = _outside(layout)
    # Which sides of a square's place lie open: below, on the right, on top, on the left.
    faces: dict[Place, list[bool]] = {}
    for open_place in outside:
        for side, place in enumerate(_around(open_place)):
            if place in layout and place not in outside:
                faces.setdefault(place, [False] * 4)[side - 2] = True
    bottom, right, top, left = (
        sum(face[side] for face in faces.values()) * layout.stitches for side in range(4)
    )
    corners = sum(face[turn] and face[turn - 1] for face in faces.values() for turn in range(4))
    return Border(bottom, right, top, left, corners)


def holes(layout: Layout) -> tuple[Place, ...]:
    """The missing places that squares enclose, by column and row."""
    return tuple(sorted(layout.missing - _outside(layout)))


def _around(place: Place) -> tuple[Place, Place, Place, Place]:
    """The places below, on the right, on top and on the left."""
    column, row = place
    return (
        Place(column, row - 1),
        Place(column + 1, row),
        Place(column, row + 1),
        Place(column - 1, row),
    )


def _outside(layout: Layout) -> set[Place]:
    """The places around the blanket, and the missing ones that are open to them."""
    found: set[Place] = set()
    ahead = [Place(0, 0)]
    while ahead:
        place = ahead.pop()
        near = 0 <= place.column <= layout.columns + 1 and 0 <= place.row <= layout.rows + 1
        if near and place not in found and (place not in layout or place in layout.missing):
            found.add(place)
            ahead += _around(place)
    return found


def ridges(border: Border, count: int) -> list[int]:
    """The stitches of each of ``count`` ridges, two rows, of a garter stitch ``border``.

    Two more in each corner that sticks out, in every ridge, keep it flat, and two fewer in each
    that goes in (common practice); around any outline there are four more of the former.
    """
    return [2 * (border.total + 8 * ridge) for ridge in range(count)]
