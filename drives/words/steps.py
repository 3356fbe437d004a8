"""Foundation steps and markers as the trade words them, for the card, the API and the sheets."""

from collections.abc import Sequence

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Do, Edge, How, Step, marker_at
from drives.craft.layout.layout import Mitre
from drives.craft.layout.plan import Plan
from drives.craft.places import Place


def foundation_lines(plan: Plan, place: Place, hand: Hand) -> tuple[str, ...]:
    """One sentence for each step of the square at ``place``, in the order of work for ``hand``."""
    steps = plan.foundation(place, hand)
    return tuple(step_line(plan, step, hand) for step in steps)


def step_line(plan: Plan, step: Step, hand: Hand) -> str:
    """One step in full: the stitches, the neighbour, its edge and the ridges."""
    match step.do:
        case Do.CAST_ON:
            return _cast_on(step, hand) % {"stitches": step.stitches}
        case Do.CORNER:
            return _("Pick up and knit 1 in the corner itself, where the two squares meet.")
        case Do.PICK_UP:
            return _pick_up(plan, step, hand)


def short_line(steps: Sequence[Step]) -> str:
    """The whole foundation in one line for a list: ``cast on 19 + pick up 21 on A1``."""
    return " + ".join(_short(step) for step in steps)


def marker_line(steps: Sequence[Step], mitre: Mitre) -> str:
    """Where the marker goes, counted along the steps in the order of work."""
    marker = marker_at(steps, mitre)
    step, number = steps[marker.step], marker.step + 1
    facts = {"stitch": marker.stitch, "step": number, "next": number + 1}
    if mitre is Mitre.CENTRED:
        if step.do is Do.CORNER:
            return _("Mark the one stitch picked up in the corner: it is the middle stitch.")
        if len(steps) == 1:
            return _("Mark stitch %(stitch)d, the middle one.") % facts
        text = _("Mark stitch %(stitch)d of step %(step)d: it is the middle stitch, in the corner.")
        return text % facts
    if marker.stitch == step.stitches:
        return _("The marker goes between step %(step)d and step %(next)d.") % facts
    if len(steps) == 1:
        text = ngettext(
            "The marker goes in the middle, after %(stitch)d stitch.",
            "The marker goes in the middle, after %(stitch)d stitches.",
            marker.stitch,
        )
        return text % facts
    text = ngettext(
        "The marker goes into step %(step)d, after its first stitch.",
        "The marker goes into step %(step)d, after its first %(stitch)d stitches.",
        marker.stitch,
    )
    return text % facts


def begin_line(steps: Sequence[Step]) -> str:
    """How row 1 is reached from the end of the foundation."""
    if steps[-1].how is How.LAST:
        return _("Row 1 (WS) begins on the stitches just cast on, without another turn.")
    return _("Turn: row 1 is a WS row. The foundation itself counts as no row.")


def _cast_on(step: Step, hand: Hand) -> str:
    """The needle is the one that holds the stitches."""
    if step.how is How.FIRST:
        return _("Cast on %(stitches)d (any cast-on; long-tail is usual).")
    if step.how is How.LAST:
        if hand is Hand.RIGHT:
            return _(
                "Turn. Cast on %(stitches)d onto the left needle (knitted or cable cast-on). "
                "Do not turn again."
            )
        return _(
            "Turn. Cast on %(stitches)d onto the right needle (knitted or cable cast-on). "
            "Do not turn again."
        )
    if hand is Hand.RIGHT:
        return _(
            "Turn. Cast on %(stitches)d onto the left needle (knitted or cable cast-on). Turn back."
        )
    return _(
        "Turn. Cast on %(stitches)d onto the right needle (knitted or cable cast-on). Turn back."
    )


# By the edge and the hand; then for all of the edge and for a part of it, each without and with
# one stitch in the corner.
_PICK_UPS = {
    (Edge.TOP, Hand.RIGHT): (
        gettext_lazy(
            "Pick up and knit %(stitches)d along the top edge of %(onto)s "
            "(one in each of its %(whole)d ridges)."
        ),
        gettext_lazy(
            "Pick up and knit %(stitches)d along the top edge of %(onto)s "
            "(one in each of its %(whole)d ridges, and one in the corner)."
        ),
        gettext_lazy(
            "Pick up and knit %(stitches)d along the top edge of %(onto)s "
            "(ridges %(first)d–%(last)d of %(whole)d, counted from the left)."
        ),
        gettext_lazy(
            "Pick up and knit %(stitches)d along the top edge of %(onto)s "
            "(ridges %(first)d–%(last)d of %(whole)d, counted from the left, "
            "and one in the corner)."
        ),
    ),
    (Edge.RIGHT, Hand.RIGHT): (
        gettext_lazy(
            "Pick up and knit %(stitches)d up the right edge of %(onto)s "
            "(one in each of its %(whole)d ridges)."
        ),
        gettext_lazy(
            "Pick up and knit %(stitches)d up the right edge of %(onto)s "
            "(one in each of its %(whole)d ridges, and one in the corner)."
        ),
        gettext_lazy(
            "Pick up and knit %(stitches)d up the right edge of %(onto)s "
            "(ridges %(first)d–%(last)d of %(whole)d, counted from the bottom)."
        ),
        gettext_lazy(
            "Pick up and knit %(stitches)d up the right edge of %(onto)s "
            "(ridges %(first)d–%(last)d of %(whole)d, counted from the bottom, "
            "and one in the corner)."
        ),
    ),
    (Edge.RIGHT, Hand.LEFT): (
        gettext_lazy(
            "Pick up and knit %(stitches)d down the right edge of %(onto)s "
            "(one in each of its %(whole)d ridges)."
        ),
        gettext_lazy(
            "Pick up and knit %(stitches)d down the right edge of %(onto)s "
            "(one in each of its %(whole)d ridges, and one in the corner)."
        ),
        gettext_lazy(
            "Pick up and knit %(stitches)d down the right edge of %(onto)s "
            "(ridges %(first)d–%(last)d of %(whole)d, counted from the bottom)."
        ),
        gettext_lazy(
            "Pick up and knit %(stitches)d down the right edge of %(onto)s "
            "(ridges %(first)d–%(last)d of %(whole)d, counted from the bottom, "
            "and one in the corner)."
        ),
    ),
}
_PICK_UPS[Edge.TOP, Hand.LEFT] = _PICK_UPS[Edge.TOP, Hand.RIGHT]


def _pick_up(plan: Plan, step: Step, hand: Hand) -> str:
    assert step.onto is not None
    assert step.edge is not None
    assert step.ridges is not None
    first, last = step.ridges
    whole = plan.side_stitches(step.onto)
    count = last - first + 1
    texts = _PICK_UPS[step.edge, hand]
    return str(texts[2 * (count < whole) + (step.stitches > count)]) % {
        "stitches": step.stitches,
        "onto": step.onto,
        "first": first,
        "last": last,
        "whole": whole,
    }


def _short(step: Step) -> str:
    match step.do:
        case Do.CAST_ON:
            text = _("cast on %(stitches)d")
        case Do.CORNER:
            text = _("1 in the corner")
        case Do.PICK_UP if step.edge is Edge.TOP:
            text = _("pick up %(stitches)d on %(onto)s (top edge)")
        case Do.PICK_UP:
            text = _("pick up %(stitches)d on %(onto)s (right edge)")
    return text % {"stitches": step.stitches, "onto": step.onto}
