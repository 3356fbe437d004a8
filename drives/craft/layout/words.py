"""Foundation steps and markers as the trade words them, for the card, the API and the sheets."""

from collections.abc import Sequence

from drives.craft.knitter import English, Hand
from drives.craft.places import Place

from .foundation import Do, Edge, How, Step
from .foundation import marker as middle
from .layout import Mitre
from .plan import Plan


def foundation_lines(plan: Plan, place: Place, hand: Hand) -> tuple[str, ...]:
    """One sentence for each step of the square at ``place``, in the order of work for ``hand``."""
    steps = plan.foundation(place, hand)
    return tuple(step_line(plan, step, hand) for step in steps)


def step_line(plan: Plan, step: Step, hand: Hand) -> str:
    """One step in full: the stitches, the neighbour, its edge and the ridges."""
    match step.do:
        case Do.CAST_ON:
            return _cast_on(step, hand)
        case Do.CORNER:
            return "Pick up and knit 1 in the corner itself, where the two squares meet."
        case Do.PICK_UP:
            assert step.onto is not None
            return f"{_pick_up(step, hand)} ({_ridges(plan, step)})."


def short_line(steps: Sequence[Step]) -> str:
    """The whole foundation in one line for a list: ``cast on 19 + pick up 21 on A1``."""
    return " + ".join(_short(step) for step in steps)


def marker_line(steps: Sequence[Step], mitre: Mitre) -> str:
    """Where the marker goes, counted along the steps in the order of work."""
    marker = middle(steps, mitre)
    step = steps[marker.step]
    if mitre is Mitre.CENTRED:
        if step.do is Do.CORNER:
            return "Mark the one stitch picked up in the corner: it is the middle stitch."
        if len(steps) == 1:
            return f"Mark stitch {marker.stitch}, the middle one."
        where = f"stitch {marker.stitch} of step {marker.step + 1}"
        return f"Mark {where}: it is the middle stitch, in the corner."
    if marker.stitch == step.stitches:
        return f"The marker goes between step {marker.step + 1} and step {marker.step + 2}."
    if len(steps) == 1:
        return f"The marker goes in the middle, after {marker.stitch} stitches."
    plural = "stitch" if marker.stitch == 1 else f"{marker.stitch} stitches"
    return f"The marker goes into step {marker.step + 1}, after its first {plural}."


def begin_line(steps: Sequence[Step]) -> str:
    """How row 1 is reached from the end of the foundation."""
    if steps[-1].how is How.LAST:
        return "Row 1 (WS) begins on the stitches just cast on, without another turn."
    return "Turn: row 1 is a WS row. The foundation itself counts as no row."


def glossary(mitre: Mitre, english: English) -> dict[str, str]:
    """The abbreviations in the rows of a square, in the order in which a reader meets them."""
    if mitre is Mitre.PAIRED:
        decreases = {
            "k2tog": "knit 2 stitches together",
            "ssk": "slip 2 stitches knitwise, singly; knit them together through the back loops",
            "slip marker": "move the marker over to the other needle",
        }
    else:
        centred = "centred" if english is English.BRITISH else "centered"
        decreases = {
            "cdd": f"{centred} double decrease: slip 2 stitches together knitwise, knit 1, pass the"
            " slipped stitches over it; the stitch that is left is the marked one"
        }
    return {"RS": "right side", "WS": "wrong side", "k": "knit"} | decreases


def _cast_on(step: Step, hand: Hand) -> str:
    stitches = step.stitches
    if step.how is How.FIRST:
        return f"Cast on {stitches} (any cast-on; long-tail is usual)."
    then = "Do not turn again" if step.how is How.LAST else "Turn back"
    needle = "left" if hand is Hand.RIGHT else "right"  # the one that holds the stitches
    return f"Turn. Cast on {stitches} onto the {needle} needle (knitted or cable cast-on). {then}."


def _pick_up(step: Step, hand: Hand) -> str:
    if step.edge is Edge.TOP:
        return f"Pick up and knit {step.stitches} along the top edge of {step.onto}"
    way = "up" if hand is Hand.RIGHT else "down"
    return f"Pick up and knit {step.stitches} {way} the right edge of {step.onto}"


def _ridges(plan: Plan, step: Step) -> str:
    assert step.ridges is not None
    assert step.onto is not None
    first, last = step.ridges
    whole = plan.side_stitches(step.onto)
    count = last - first + 1
    if count == whole:
        words = f"one in each of its {whole} ridges"
    else:
        origin = "left" if step.edge is Edge.TOP else "bottom"
        words = f"ridges {first}–{last} of {whole}, counted from the {origin}"
    return f"{words}, and one in the corner" if step.stitches > count else words


def _short(step: Step) -> str:
    match step.do:
        case Do.CAST_ON:
            return f"cast on {step.stitches}"
        case Do.CORNER:
            return "1 in the corner"
        case Do.PICK_UP:
            return f"pick up {step.stitches} on {step.onto} ({step.edge} edge)"
