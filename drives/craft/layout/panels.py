"""What the panels of a blanket look like."""

from collections.abc import Set

from drives.craft.places import Place

from .cuts import Along
from .plan import Plan


def strips(plan: Plan) -> Along | None:
    """Along what its panels are strips from edge to edge; None where they are not, or one alone."""
    upright = {seam.first.row == seam.second.row for seam in plan.layout.seams}
    if len(upright) != 1 or bent(plan) or len(plan.pieces()) == 1:
        return None
    return Along.COLUMNS if upright.pop() else Along.ROWS


def bent(plan: Plan) -> bool:
    """Whether a panel is no rectangle, even with the missing places put back."""
    return any(_units(plan, panel) != _box(plan, panel) for panel in plan.pieces())


def _units(plan: Plan, panel: Set[Place]) -> int:
    return sum(plan.size[place] ** 2 for place in panel)


def _box(plan: Plan, panel: Set[Place]) -> int:
    """The units of the rectangle around ``panel`` that are not missing."""
    left, low = min(place.column for place in panel), min(place.row for place in panel)
    right = max(place.column + plan.size[place] for place in panel)
    high = max(place.row + plan.size[place] for place in panel)
    gaps = sum(
        left <= place.column < right and low <= place.row < high for place in plan.layout.missing
    )
    return (right - left) * (high - low) - gaps
