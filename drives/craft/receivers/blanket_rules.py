"""Where a planned or a finished blanket goes against the receiver's rules."""

from typing import NamedTuple, Self

from drives.craft.layout.border import holes
from drives.craft.layout.layout import Layout
from drives.craft.layout.sizing import whole_size
from drives.craft.places import Place

from .conflicts import Conflict, ConflictCode, size_conflicts
from .rules import Rules


class PlanFacts(NamedTuple):
    """The whole size in cm, border included; ``holes``: places missing inside the blanket."""

    width: float
    height: float
    holes: tuple[Place, ...] = ()

    @classmethod
    def of(cls, layout: Layout, gauge: float, border: int = 0) -> Self:
        """``gauge`` in stitches to 10 cm of garter stitch; ``border`` in ridges."""
        return cls(*whole_size(layout, gauge, border), holes(layout))


class FinishedFacts(NamedTuple):
    """A finished blanket as measured in cm and looked at; None where nobody has told."""

    width: float | None = None
    height: float | None = None
    holes: bool | None = None
    fringe: bool | None = None
    washed: bool | None = None
    smoke_free: bool | None = None
    pet_free: bool | None = None
    label: bool | None = None


def plan_conflicts(rules: Rules, plan: PlanFacts) -> list[Conflict]:
    """What the receiver would refuse of a blanket that is only planned."""
    found = [*size_conflicts(rules, (plan.width, plan.height), finished=False)]
    if rules.holes_allowed is False and plan.holes:
        places = [str(place) for place in plan.holes]
        facts = {"finished": False, "places": places, "babies": bool(rules.for_babies)}
        found.append(Conflict(ConflictCode.HOLES, facts))
    return found


def finished_conflicts(rules: Rules, blanket: FinishedFacts) -> list[Conflict]:
    """What the receiver would refuse of a finished blanket, or has to be told of it."""
    found: list[Conflict] = []
    if blanket.width is not None and blanket.height is not None:
        found += size_conflicts(rules, (blanket.width, blanket.height), finished=True)
    if rules.holes_allowed is False and blanket.holes:
        facts = {"finished": True, "babies": bool(rules.for_babies)}
        found.append(Conflict(ConflictCode.HOLES, facts))
    if rules.fringe_allowed is False and blanket.fringe:
        found.append(Conflict(ConflictCode.FRINGE, {}))
    if rules.washed is False and blanket.washed:
        found.append(Conflict(ConflictCode.WASHED, {}))
    for code, asked, done in (
        (ConflictCode.NOT_WASHED, rules.washed, blanket.washed),
        (ConflictCode.SMOKE, rules.smoke_free, blanket.smoke_free),
        (ConflictCode.PETS, rules.pet_free, blanket.pet_free),
        (ConflictCode.NO_LABEL, rules.label, blanket.label),
    ):
        if asked and not done:
            found.append(Conflict(code, {"told": done is not None}))
    return found
