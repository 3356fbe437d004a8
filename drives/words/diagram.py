"""What stands in the diagram of a square, and what it says to those who do not see it."""

from collections.abc import Sequence
from typing import NamedTuple, TypedDict

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Do, Step, total
from drives.craft.layout.layout import Mitre
from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .steps import begin_line, foundation_lines, marker_line


class Label(NamedTuple):
    """What stands beside a step: what to do, the same with how many stitches, and which ridges.

    Of a whole edge, no ridges are named.
    """

    verb: str
    counted: str
    ridges: str


class Diagram(TypedDict):
    """All words of a diagram, under the names by which the drawing takes them."""

    title: str
    description: str
    labels: Sequence[Label]  # in the order of work
    marker: Sequence[str]  # lines
    stitches: str
    unfinished: str
    later: str


def diagram(plan: Plan, place: Place, hand: Hand) -> Diagram:
    """The words of the diagram of the square at ``place`` for ``hand``."""
    steps, stitches = plan.foundation(place, hand), total(plan.foundation(place))
    return {
        "title": _title(hand) % {"place": place},
        "description": " ".join(_description(plan, place, hand)),
        "labels": [_label(plan, step) for step in steps],
        "marker": _marker(plan, place, steps).split("\n"),
        "stitches": ngettext("%(count)d stitch", "%(count)d stitches", stitches)
        % {"count": stitches},
        "unfinished": _("not finished yet"),
        "later": _("row ends, offered later"),
    }


def _title(hand: Hand) -> str:
    if hand is Hand.LEFT:
        return _("The foundation of %(place)s, left-handed")
    return _("The foundation of %(place)s, right-handed")


def _description(plan: Plan, place: Place, hand: Hand) -> list[str]:
    steps = plan.foundation(place, hand)
    return [
        *(
            f"{number}. {line}"
            for number, line in enumerate(foundation_lines(plan, place, hand), 1)
        ),
        marker_line(steps, plan.layout.mitre),
        begin_line(steps),
        _("The right and the top edge are row ends, offered to later squares."),
    ]


def _label(plan: Plan, step: Step) -> Label:
    facts: dict[str, object] = {"stitches": step.stitches}
    if step.do is Do.CAST_ON:
        return Label(_("cast on"), _("cast on %(stitches)d") % facts, "")
    ridges = ""
    if step.onto and step.ridges != (1, plan.side_stitches(step.onto)):
        assert step.ridges is not None
        first, last = step.ridges
        ridges = _("ridges %(first)d–%(last)d") % {"first": first, "last": last}
    return Label(_("pick up"), _("pick up %(stitches)d") % facts, ridges)


def _marker(plan: Plan, place: Place, steps: Sequence[Step]) -> str:
    """After which stitch the marker hangs, or which one is marked; in two short lines."""
    half = plan.side_stitches(place)
    if plan.layout.mitre is Mitre.PAIRED:
        return _("marker\nafter %(stitches)d") % {"stitches": half}
    if any(step.do is Do.CORNER for step in steps):
        return _("pick up 1\nhere, mark it")
    return _("mark\nstitch %(stitch)d") % {"stitch": half + 1}
