"""Where a planned or a finished blanket goes against the receiver's rules."""

from typing import NamedTuple, Self

from drives.craft.layout.border import holes
from drives.craft.layout.layout import Layout
from drives.craft.layout.sizing import side
from drives.craft.places import Place

from .conflicts import Conflict, Length, in_cm, no_holes, size_conflicts
from .rules import Rules

_WASH = "Wash it as its yarns allow, dry it, and say so here."
_AIR = "Ask those who had it at home; wash and air it, or ask the receiver."
_BRUSH = "Ask those who had it at home; take the hair off, wash it, and say so here."
_LABEL = "Sew a label on, or let the gift record go with it."


class PlanFacts(NamedTuple):
    """The whole size in cm, border included; ``holes``: places missing inside the blanket."""

    width: float
    height: float
    holes: tuple[Place, ...] = ()

    @classmethod
    def of(cls, layout: Layout, gauge: float, border: int = 0) -> Self:
        """``gauge`` in stitches to 10 cm of garter stitch; ``border`` in ridges."""
        around = 2 * side(border, gauge)
        unit = side(layout.stitches, gauge)
        return cls(layout.columns * unit + around, layout.rows * unit + around, holes(layout))


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


def plan_conflicts(rules: Rules, plan: PlanFacts, length: Length = in_cm) -> list[Conflict]:
    """What the receiver would refuse of a blanket that is only planned."""
    found = list(
        size_conflicts(
            rules,
            (plan.width, plan.height),
            length,
            would_be="would be",
            small="Add columns or rows, take more stitches to a square, or a wider border.",
            large="Leave out columns or rows, take fewer stitches to a square, or less border.",
        )
    )
    if rules.holes_allowed is False and plan.holes:
        places = ", ".join(map(str, plan.holes))
        mend = "Fill these places with squares, or let a larger square cover them."
        detail = f"The layout leaves a hole at {places}; {no_holes(rules)}"
        found.append(Conflict("holes", detail, mend))
    return found


def finished_conflicts(
    rules: Rules, blanket: FinishedFacts, length: Length = in_cm
) -> list[Conflict]:
    """What the receiver would refuse of a finished blanket, or has to be told of it."""
    found: list[Conflict] = []
    ask = "ask the receiver, or give it to a drive that takes this size."
    if blanket.width is not None and blanket.height is not None:
        found += size_conflicts(
            rules,
            (blanket.width, blanket.height),
            length,
            would_be="is",
            small=f"Knit a border around it; or {ask}",
            large=f"Take off its border where it has one; or {ask}",
        )
    if rules.holes_allowed is False and blanket.holes:
        detail = f"The blanket has holes; {no_holes(rules)}"
        found.append(Conflict("holes", detail, "Close them: sew, or pick up and fill them."))
    if rules.fringe_allowed is False and blanket.fringe:
        detail = "The blanket has a fringe; the receiver takes none."
        found.append(Conflict("fringe", detail, "Take the fringe off and weave the ends in."))
    if rules.washed is False and blanket.washed:
        detail = "The blanket has been washed; the receiver wants it as it comes off the needles."
        found.append(Conflict("washed", detail, "Tell the receiver, and ask whether they take it."))
    for code, asked, done, what, mend in (
        ("not-washed", rules.washed, blanket.washed, "be washed before it is given", _WASH),
        ("smoke", rules.smoke_free, blanket.smoke_free, "come from homes without smoke", _AIR),
        ("pets", rules.pet_free, blanket.pet_free, "be free from pet hair", _BRUSH),
        ("no-label", rules.label, blanket.label, "have a label with its fibres and care", _LABEL),
    ):
        if asked and not done:
            state = "nobody has said so of this one" if done is None else "this one falls short"
            detail = f"The receiver asks that the blanket {what}; {state}."
            found.append(Conflict(code, detail, mend))
    return found
