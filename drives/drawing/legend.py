"""The signs of the map, for the page and for the sheet."""

from collections.abc import Sequence
from typing import NamedTuple

from drives.craft.layout.states import State

from . import looks, outline
from .grid import CROSS, seam
from .looks import SOFT, UNIT, Look, Stroke, stroke, strokes_of

USUAL = ("waiting", "ready", "taken", "finished", "late")


class Sign(NamedTuple):
    """One entry of the legend: its key and an ``<svg>`` picture."""

    key: str
    svg: str


def legend(keys: Sequence[str] = USUAL, *, paper: bool = False) -> tuple[Sign, ...]:
    """The signs ``keys``, in this order: states, late, mine, piece, seam or missing.

    The pictures say nothing without the words beside.
    """
    return tuple(Sign(key, _picture(_strokes(key, paper))) for key in keys)


def _strokes(key: str, paper: bool) -> tuple[Stroke, ...]:
    taken = strokes_of(Look(State.TAKEN, paper=paper))
    match key:
        case "late":
            return taken + looks.late_sign(UNIT)
        case "mine":
            return taken + looks.mine(UNIT)
        case "piece":
            return strokes_of(Look(State.FINISHED, paper=paper)) + outline.outline_sign()
        case "seam":
            return tuple(
                stroke._replace(tail=f"m0 {UNIT // 2}{stroke.tail}")
                for stroke in seam(upright=False)
            )
        case "missing":
            return (stroke(SOFT, 2, CROSS),)
        case _:
            return strokes_of(Look(State(key), paper=paper))


def _picture(drawn: tuple[Stroke, ...]) -> str:
    paths = "".join(stroke.at(["0 0"]) for stroke in drawn)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" class="sign" width="36" height="36" '
        f'viewBox="-1 -1 {UNIT + 2} {UNIT + 2}" aria-hidden="true">{paths}</svg>'
    )
