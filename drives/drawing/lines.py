"""Lines as SVG path commands, relative to a corner."""

from collections.abc import Iterable, Iterator, Sequence

Point = tuple[float, float]
Lines = Iterator[Sequence[Point]]


def tail(lines: Iterable[Sequence[Point]]) -> str:
    """Lines through points relative to a corner, as commands that follow a move to it."""
    parts: list[str] = []
    x = y = 0.0
    for line in lines:
        command = "m"
        for to_x, to_y in line:
            parts.append(f"{command}{to_x - x:g} {to_y - y:g}")
            x, y, command = to_x, to_y, "l"
    return "".join(parts)


def box(side: float, inset: float) -> str:
    width = side - 2 * inset
    return f"m{inset:g} {inset:g}h{width:g}v{width:g}h{-width:g}z"


def disc(x: float, y: float, radius: float) -> str:
    turn = f"a{radius:g} {radius:g} 0 1 0 "
    return f"m{x - radius:g} {y:g}{turn}{2 * radius:g} 0{turn}{-2 * radius:g} 0z"


def zigzag(length: float, teeth: int, height: float, *, upright: bool) -> str:
    """A line as a seam is sewn, downwards or to the right, from corner to corner."""
    points = [
        (
            0.0 if step in (0, 2 * teeth) else height if step % 2 else -height,
            step * length / teeth / 2,
        )
        for step in range(2 * teeth + 1)
    ]
    return tail([points if upright else [(along, across) for across, along in points]])


def clipped(start: Point, end: Point, view: tuple[float, float, float, float]) -> list[Point]:
    """The part of a straight line within ``view`` (left, top, right, bottom), or nothing.

    Liang and Barsky, A new concept and method for line clipping (1984).
    """
    (x, y), (across, down) = start, (end[0] - start[0], end[1] - start[1])
    enters, leaves = 0.0, 1.0
    for towards, room in (
        (-across, x - view[0]),
        (across, view[2] - x),
        (-down, y - view[1]),
        (down, view[3] - y),
    ):
        if towards == 0:
            if room < 0:
                return []
        elif towards < 0:
            enters = max(enters, room / towards)
        else:
            leaves = min(leaves, room / towards)
    if enters >= leaves:
        return []
    return [(x + across * at, y + down * at) for at in (enters, leaves)]
