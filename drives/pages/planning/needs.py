"""What a blanket takes: stitches, hours, yarn and a border, each with what it rests on."""

from decimal import Decimal
from typing import Any

from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives import measures
from drives.craft.layout.border import border
from drives.craft.layout.layout import Layout, side_stitches
from drives.craft.layout.plan import Plan
from drives.craft.layout.rows import worked
from drives.craft.layout.sizing import stitches_worked, whole_size
from drives.craft.yarn import hours
from drives.craft.yarn.enough import estimate
from drives.craft.yarn.rests_on import Evidence
from drives.craft.yarn.weighing import PerStitch
from drives.craft.yarn.yarn import CATEGORIES, Estimate, from_category, from_weighed
from drives.pages.planning.needs_form import NeedsForm
from drives.words.yarn import rests_on_words


def needs(
    plan: Plan, gauge: Decimal | None, form: NeedsForm, weighed: PerStitch | None = None
) -> dict[str, object]:
    """The answers in words; without a usable ``gauge`` (to 10 cm) only those that need none.

    ``weighed``: what the blanket's own squares weigh, which counts unless a weight is told.
    """
    form.is_valid()  # what is told rightly counts, what is not is said at its field
    told, units = form.cleaned_data, form.units
    by_clock = [float(each) for each in told.get("minutes") or ()]
    minutes = hours.square_minutes(plan.layout, by_clock)
    yarn = _yarn(plan, gauge, told, units, weighed)
    ridges = told.get("border")
    return {
        "stitches": number_format(stitches_worked(plan), force_grouping=True),
        "hours": measures.between(hours.hours(plan, minutes)),
        "hours_rest_on": _hours_rest_on(len(by_clock)),
        "weight": yarn and measures.weight(yarn.grams, units),
        "length": yarn and yarn.metres and measures.yarn_length(yarn.metres, units),
        "yarn_rests_on": yarn and rests_on_words(yarn.rests_on),
        "ridges": ridges,
        "border": border(plan.layout) if ridges else None,
        "bordered": gauge and ridges and size_line(plan.layout, gauge, units, ridges),
    }


def size_line(layout: Layout, gauge: Decimal, units: str, ridges: int = 0) -> str:
    """Both sides of the whole grid in words, with a border of so many ``ridges``."""
    return measures.size(*whole_size(layout, float(gauge), ridges), units)


def _hours_rest_on(by_clock: int) -> str:
    """What the minutes for one square rest on."""
    if not by_clock:
        rests_on = _(
            "It rests on a usual pace of %(low)d to %(high)d stitches a minute; "
            "one square by the clock tells more."
        )
        return rests_on % hours.USUAL_PACE._asdict()
    rests_on = ngettext(
        "It rests on %(count)d square by the clock; other hands are quicker or slower.",
        "It rests on %(count)d squares by the clock, from the quickest to the slowest.",
        by_clock,
    )
    return rests_on % {"count": by_clock}


def _yarn(
    plan: Plan,
    gauge: Decimal | None,
    told: dict[str, Any],
    units: str,
    weighed: PerStitch | None,
) -> Estimate | None:
    blanket = stitches_worked(plan)
    metres = told.get("length")
    if weights := told.get("weights"):
        # The scale's steps are those of the figures that were read off it.
        step = 10.0 ** max(weight.as_tuple().exponent for weight in weights)
        swatch = told.get("swatch")
        stitches = plan.layout.stitches
        return from_weighed(
            [measures.to_grams(float(weight), units) for weight in weights],
            swatch[0] * swatch[1] if swatch else worked(stitches, plan.layout.mitre),
            blanket,
            scale=measures.to_grams(step, units),
            metres_per_100_grams=metres,
            evidence=Evidence.SWATCHES if swatch else Evidence.SQUARES,
        )
    if weighed:
        sizes, layout = plan.size.values(), plan.layout
        squares = [worked(side_stitches(size, layout.stitches), layout.mitre) for size in sizes]
        return estimate(weighed, squares, metres)
    category = told.get("category")
    if category is None or gauge is None:
        return None
    return from_category(CATEGORIES[category], float(gauge), blanket)
