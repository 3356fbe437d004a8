"""Lengths and gauge as a circle tells them; inside they are always cm and stitches to 10 cm."""

from decimal import Decimal

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from accounts.models import Units
from drives.craft.sizing import CM_PER_INCH

GAUGE_INCHES = 4  # gauge is told over 10 cm, or over 4 inches


def to_cm(length: float, units: str) -> float:
    """``length``, told in ``units``, in cm."""
    return length * CM_PER_INCH if units == Units.INCH else length


def to_gauge(stitches: Decimal, units: str) -> Decimal:
    """Stitches to 10 cm (one decimal), from stitches to 10 cm or to 4 inches."""
    if units == Units.INCH:
        stitches = stitches * 10 / (GAUGE_INCHES * Decimal(str(CM_PER_INCH)))
    return stitches.quantize(Decimal("0.1"))


def length(cm: float, units: str) -> str:
    """``cm`` in words: whole centimetres, or inches to the half."""
    if units == Units.INCH:
        halves = round(cm / CM_PER_INCH * 2)
        return _("%(length)s in") % {"length": number_format(halves / 2, 1 if halves % 2 else 0)}
    return _("%(length)s cm") % {"length": number_format(round(cm))}


def size(width: float, height: float, units: str) -> str:
    """Both sides in words, from cm: ``90 cm × 120 cm``."""
    return f"{length(width, units)} × {length(height, units)}"


def miss(cm: float, units: str) -> str:
    """How far a length misses the wanted one, in words."""
    told = length(abs(cm), units)
    if told == length(0, units):
        return _("as wanted")
    return (_("%(length)s more") if cm > 0 else _("%(length)s less")) % {"length": told}


def from_gauge(gauge: Decimal, units: str) -> Decimal:
    """Stitches to 10 cm or to 4 inches (one decimal), from stitches to 10 cm."""
    if units == Units.INCH:
        gauge = gauge * GAUGE_INCHES * Decimal(str(CM_PER_INCH)) / 10
    return gauge.quantize(Decimal("0.1"))
