"""What the planner shows of a layout: the map to press on, and what follows from it."""

from decimal import Decimal, InvalidOperation
from functools import partial
from urllib.parse import urlencode

from django.db.models import TextChoices
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives import measures
from drives.craft.layout.foundation import total
from drives.craft.layout.plan import Plan, SquareKind
from drives.craft.places import Place
from drives.drawing import planner_svg
from drives.drawing.planner import MOST_PRESSED
from drives.models import Blanket, Drive
from drives.pages.common.svg import drawn
from drives.pages.planning.layout_form import BlanketForm, LayoutForm
from drives.pages.planning.needs import needs, size_line
from drives.pages.planning.needs_form import NeedsForm
from drives.readings.checks import plan_checks
from drives.readings.weights import weighed_so_far
from drives.words.map import boundary_words, place_words
from drives.words.steps import short_line


class Kinds(TextChoices):
    """The kinds of squares in words."""

    BASE = SquareKind.BASE.value, gettext_lazy("base: joins onto nothing")
    SIDE_JOIN = SquareKind.SIDE_JOIN.value, gettext_lazy("side join: onto the square on its left")
    TOP_JOIN = SquareKind.TOP_JOIN.value, gettext_lazy("top join: onto the square below")
    CORNER_JOIN = SquareKind.CORNER_JOIN.value, gettext_lazy("corner join: onto both")


def pressable(form: LayoutForm, besides: dict[str, object] | None = None) -> SafeString:
    """The map of the form's layout; each press on it is a link that carries the form's state.

    ``besides``: what else the page must not forget at a press.
    """
    layout = form.layout
    if layout is None or max(layout.columns, layout.rows) > MOST_PRESSED:
        return SafeString()
    ahead = f"?{urlencode(form.state | (besides or {}))}&press="
    sizes = {square.at: square.size for square in layout.large}
    brush = form.cleaned_data["brush"]

    def place_link(place: Place) -> str:
        size = sizes.get(place, brush)
        return f"{ahead}{place}%C3%97{size}" if size > 1 else f"{ahead}{place}"

    def seam_link(first: Place, second: Place) -> str:
        return f"{ahead}{first}%E2%80%93{second}"

    svg = planner_svg(
        layout,
        title=_("The blanket, to be pressed"),
        place_link=place_link,
        seam_link=seam_link,
        place_label=partial(place_words, layout),
        seam_label=partial(boundary_words, layout),
        live=True,
    )
    return drawn(svg)


def summary(
    plan: Plan,
    gauge: Decimal | None,
    form: NeedsForm,
    drive: Drive,
    blanket: Blanket | None = None,
) -> dict[str, object]:
    """What follows from the layout: counts, rounds, pieces, and what it takes to knit it.

    Also what the receiver of ``drive`` would refuse. ``gauge`` in stitches to 10 cm; None leaves
    out what needs one. ``blanket``: the one that is there already, with what its squares weigh.
    """
    found = needs(plan, gauge, form, weighed_so_far(blanket) if blanket else None)
    border = form.cleaned_data.get("border") or 0
    return {
        "checks": plan_checks(drive, plan.layout, float(gauge), border=border, blanket=blanket)
        if gauge
        else [],
        "squares": len(plan.places),
        "rounds": plan.rounds,
        "widest": plan.widest_round,
        "pieces": len(plan.pieces()),
        "kinds": _kinds(plan),
        "size": size_line(plan.layout, gauge, form.units) if gauge else "",
        "needs": found,
    }


def _kinds(plan: Plan) -> list[dict[str, object]]:
    """Each foundation that occurs, with how often, and one square that has it."""
    alike: dict[tuple[object, ...], list[Place]] = {}
    for place in plan.places:
        steps = plan.foundation(place)
        shape = tuple((step.do, step.edge, step.stitches) for step in steps)
        alike.setdefault((plan.size[place], shape), []).append(place)
    return [
        {
            "kind": Kinds(plan.kind(places[0])).label,
            "units": plan.size[places[0]],
            "count": len(places),
            "place": places[0],
            "line": short_line(plan.foundation(places[0])),
            "total": total(plan.foundation(places[0])),
        }
        for places in alike.values()
    ]


def usable_gauge(naming: BlanketForm, units: str) -> Decimal | None:
    """The gauge typed so far, over 10 cm; None while it is no usable number."""
    try:
        gauge = Decimal(str(naming["gauge"].value()))
        return measures.to_gauge(gauge, units) if 1 <= gauge <= 99 else None
    except InvalidOperation:  # also where “nan” is compared
        return None
