"""A small picture of how a blanket is cut: its pieces, their seams, what is finished."""

from collections.abc import Iterable, Set

from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .lines import box
from .looks import INK, PALE, SOFT, Stroke

LONGER_SIDE = 200  # pixels of the longer side
GAP = 0.7  # units that a seam opens


def cut_svg(plan: Plan, finished: Set[Place]) -> str:
    """An ``<svg>`` of ``plan`` with its panels drawn apart; ``finished`` squares are dark.

    It says nothing without the words beside it.
    """
    layout = plan.layout
    across, up = _opened(layout)
    width, height = layout.columns + max(across.values()), layout.rows + max(up.values())
    unit = max(3.0, min(LONGER_SIDE / width, LONGER_SIDE / height, 24.0))

    def corners(places: Iterable[Place]) -> dict[int, list[str]]:
        found: dict[int, list[str]] = {}
        for place in places:
            size = plan.size[place]
            x = (place.column - 1 + across[place.column]) * unit
            y = (height - (place.row - 1 + up[place.row]) - size) * unit
            found.setdefault(size, []).append(f"{x:.4g} {y:.4g}")
        return found

    drawn = [
        Stroke(f'fill="{fill}" stroke="{SOFT}" stroke-width="0.7"', box(size * unit, 0.5)).at(where)
        for fill, places in (
            (PALE, [place for place in plan.places if place not in finished]),
            (INK, [place for place in plan.places if place in finished]),
        )
        for size, where in corners(places).items()
    ]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="cut" aria-hidden="true" '
        f'width="{width * unit:.0f}" height="{height * unit:.0f}" '
        f'viewBox="0 0 {width * unit:.4g} {height * unit:.4g}">{"".join(drawn)}</svg>'
    )


def _opened(layout: Layout) -> tuple[dict[int, float], dict[int, float]]:
    """How far each column and each row moves away from the first, by the lines cut before it."""
    upright = {seam.second.column for seam in layout.seams if seam.first.row == seam.second.row}
    level = {seam.second.row for seam in layout.seams if seam.first.row != seam.second.row}

    def moved(length: int, cut: Set[int]) -> dict[int, float]:
        return {index: GAP * sum(line <= index for line in cut) for index in range(1, length + 1)}

    return moved(layout.columns, upright), moved(layout.rows, level)
