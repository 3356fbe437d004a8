"""Typical sizes of blankets, which one press fills in as the wanted size."""

from collections.abc import Mapping
from datetime import date

from django.utils.translation import gettext as _

from accounts.models import Units
from drives import measures
from drives.craft.layout.sizing import CM_PER_INCH
from drives.craft.receivers.sizes import AS_OF, TYPICAL
from drives.words.receivers import USES


def chosen(sent: Mapping[str, str], units: str) -> dict[str, str]:
    """The width and height that the press asks for, in ``units``; empty without such a press."""
    for typical in TYPICAL:
        if typical.use == sent.get("typical"):
            told = 1 if units == Units.INCH else CM_PER_INCH
            width, height = (str(round(inches * told)) for inches in typical.inches)
            return {"width": width, "height": height}
    return {}


def usual_sizes(units: str) -> dict[str, object]:
    """All of them in words, with the page that says so, and the month in which it did."""
    sizes = []
    for typical in TYPICAL:
        told = _size(typical.inches, units)
        if typical.to:
            told = _("%(from)s to %(to)s") % {"from": told, "to": _size(typical.to, units)}
        sizes.append(
            {
                "use": typical.use,
                "name": USES[typical.use],
                "size": told,
                "source": typical.source,
            }
        )
    return {"sizes": sizes, "as_of": date.fromisoformat(f"{AS_OF}-01")}


def _size(inches: tuple[int, int], units: str) -> str:
    width, height = (measures.to_cm(side, Units.INCH) for side in inches)
    return measures.size(width, height, units)
