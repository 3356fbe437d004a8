"""What stands beside a wall map: its signs, and how its sheets hang together."""

from collections.abc import Iterator, Sequence
from html import escape

from .grid import FONT
from .lines import box, tail, zigzag
from .looks import INK, SOFT, hatching, stroke
from .wall_view import PALE, WallView, YarnSign

SIDE = 10


def wall_sign(sign: str, yarn: YarnSign | None = None, *, title: str) -> str:
    """``empty``, ``finished``, ``seam``, ``missing``, or ``yarn``, as the map shows it.

    The picture says nothing without the words beside it.
    """
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" class="sign" width="36" height="36" '
        f'viewBox="-1 -1 {SIDE + 2} {SIDE + 2}"><title>{escape(title)}</title>'
        f"{''.join(_drawn(sign, yarn))}</svg>"
    )


def key_plan(
    views: Sequence[Sequence[WallView]],
    *,
    title: str,
    here: WallView | None = None,
    named: bool = False,
) -> str:
    """An ``<svg class="key-plan">`` of sheets as they hang, ``here`` black; or ``named`` 1.1, …"""
    layout = views[0][0].layout
    longest = max(layout.columns, layout.rows)
    unit = 100 / longest
    width, height = layout.columns * unit, layout.rows * unit
    parts = []
    for row, sheets in enumerate(views, start=1):
        for column, view in enumerate(sheets, start=1):
            x, y = (view.first.column - 1) * unit, height - view.last.row * unit
            across, up = len(view.columns) * unit, len(view.rows) * unit
            parts.append(
                f'<rect x="{x:.2f}" y="{y:.2f}" width="{across:.2f}" height="{up:.2f}" '
                f'fill="{INK if view == here else "#ffffff"}" stroke="{INK}" stroke-width="1.2"/>'
            )
            if named:
                high = min(across * 0.3, up * 0.5, 9)
                parts.append(
                    f'<text x="{x + across / 2:.2f}" y="{y + up / 2 + high * 0.36:.2f}" '
                    f'font-size="{high:.2f}">{row}.{column}</text>'
                )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="key-plan" role="img" '
        f'viewBox="-1 -1 {width + 2:.2f} {height + 2:.2f}" width="{width + 2:.2f}" '
        f'height="{height + 2:.2f}"><title>{escape(title)}</title>'
        f'<g {FONT} fill="{INK}" text-anchor="middle">{"".join(parts)}</g></svg>'
    )


def _drawn(sign: str, yarn: YarnSign | None) -> Iterator[str]:
    frame = stroke(INK, 0.6, box(SIDE, 0))
    match sign:
        case "finished":
            yield stroke(PALE, 0.6, tail(hatching(SIDE, 2, 0))).at(["0 0"])
            yield frame.at(["0 0"])
        case "seam":
            sewn = zigzag(SIDE, 5, 0.9, upright=False)
            yield stroke(INK, 0.9, sewn).at([f"0 {SIDE / 2:g}"])
        case "missing":
            yield stroke(SOFT, 0.6, tail([[(3, 3), (7, 7)], [(7, 3), (3, 7)]])).at(["0 0"])
        case "yarn" if yarn and yarn.colour:
            yield (
                f'<rect x="0" y="0" width="{SIDE}" height="{SIDE}" fill="{yarn.colour}" '
                f'stroke="{SOFT}" stroke-width="0.5"/>'
            )
        case _:
            yield frame.at(["0 0"])
