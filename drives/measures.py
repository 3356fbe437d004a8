"""Lengths, weights and gauge as a circle tells them; inside always cm, g, m, stitches to 10 cm."""

from collections.abc import Callable
from decimal import Decimal
from math import ceil, floor, log10

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from accounts.models import Units
from drives.craft.layout.sizing import CM_PER_INCH
from drives.craft.numbers.ranges import Range

GAUGE_INCHES = 4  # gauge is told over 10 cm, or over 4 inches
# The international avoirdupois ounce and yard (agreement of 1959).
GRAMS_PER_OUNCE = 28.349523125
METRES_PER_YARD = 0.9144


def to_cm(told: float, units: str) -> float:
    """``told``, in ``units``, in cm."""
    return told * CM_PER_INCH if units == Units.INCH else told


def to_grams(told: float, units: str) -> float:
    """``told``, in ``units``, in grams."""
    return told * GRAMS_PER_OUNCE if units == Units.INCH else told


def to_metres(told: float, units: str) -> float:
    """A length of yarn, told in ``units``, in metres."""
    return told * METRES_PER_YARD if units == Units.INCH else told


def from_metres(metres: float, units: str) -> float:
    """A length of yarn in metres, in ``units``."""
    return metres / METRES_PER_YARD if units == Units.INCH else metres


def to_gauge(stitches: Decimal, units: str) -> Decimal:
    """Stitches to 10 cm, from stitches to 10 cm or to 4 inches.

    To two decimals, so that what was told to one comes back as it was, in either.
    """
    if units == Units.INCH:
        stitches = stitches * 10 / (GAUGE_INCHES * Decimal(str(CM_PER_INCH)))
    return stitches.quantize(Decimal("0.01"))


def length(cm: float, units: str) -> str:
    """``cm`` in words: whole centimetres, or inches to the half."""
    if units == Units.INCH:
        halves = round(cm / CM_PER_INCH * 2)
        return _("%(length)s in") % {"length": number_format(halves / 2, 1 if halves % 2 else 0)}
    return _("%(length)s cm") % {"length": number_format(round(cm))}


def fine(cm: float, units: str) -> str:
    """``cm`` in words as a tape measure shows it, to the tenth of a centimetre or of an inch."""
    told, words = (
        (cm / CM_PER_INCH, _("%(length)s in")) if units == Units.INCH else (cm, _("%(length)s cm"))
    )
    tenths = round(told, 1)
    return words % {"length": number_format(tenths, 0 if tenths.is_integer() else 1)}


def size(width: float, height: float, units: str) -> str:
    """Both sides in words, from cm: ``90 cm × 120 cm``."""
    return f"{length(width, units)} × {length(height, units)}"


def weight(grams: Range, units: str) -> str:
    """From so much to so much, in words: ``1,200–1,500 g``."""
    if units == Units.INCH:
        return _("%(range)s oz") % {"range": between(grams.times(1 / GRAMS_PER_OUNCE))}
    return _("%(range)s g") % {"range": between(grams)}


def gauge(stitches: float, units: str) -> str:
    """Stitches to 10 cm in words, to one decimal: ``20.5 stitches to 10 cm``."""
    told = from_gauge(Decimal(str(stitches)), units)
    facts = {"stitches": number_format(told, 0 if told == told.to_integral_value() else 1)}
    if units == Units.INCH:
        return _("%(stitches)s stitches to 4 inches") % facts
    return _("%(stitches)s stitches to 10 cm") % facts


def weighed(grams: float, units: str) -> str:
    """One weight as a scale shows it, in words: ``12.5 g``, ``0.44 oz``."""
    if units == Units.INCH:
        ounces = grams / GRAMS_PER_OUNCE
        return _("%(weight)s oz") % {"weight": number_format(ounces, 2 if ounces < 10 else 0)}
    whole = float(grams).is_integer()
    return _("%(weight)s g") % {"weight": number_format(grams, 0 if whole else 1)}


def balance_line(grams: int, units: str) -> str:
    """A weight to the gram, as the books of the store have it: ``480 g``, ``16.93 oz``."""
    if units == Units.INCH:
        return _("%(weight)s oz") % {"weight": number_format(from_grams(Decimal(grams), units), 2)}
    return _("%(weight)s g") % {"weight": number_format(grams, force_grouping=True)}


def yarn_length(metres: Range, units: str) -> str:
    """From so long to so long, in words."""
    if units == Units.INCH:
        return _("%(range)s yards") % {"range": between(metres.times(1 / METRES_PER_YARD))}
    return _("%(range)s metres") % {"range": between(metres)}


def money(amount: Decimal | float, currency: str, *, places: int = 2) -> str:
    """An amount with the currency's code, if the circle tells one: ``12.50 GBP``."""
    told = number_format(amount, places, force_grouping=True)
    return f"{told}\u00a0{currency}" if currency else told


def between(found: Range) -> str:
    """A range in whole numbers, rounded outwards to two digits that count; it knows no more."""
    low, high = _coarse(found.low, floor), _coarse(found.high, ceil)
    told = (number_format(number, force_grouping=True) for number in (low, high))
    return "–".join(dict.fromkeys(told))


def _coarse(value: float, to_whole: Callable[[float], int]) -> int:
    step = 10 ** max(floor(log10(value)) - 1, 0) if value > 1 else 1
    return to_whole(value / step) * step


def miss(cm: float, units: str) -> str:
    """How far a length misses the wanted one, in words."""
    told = length(abs(cm), units)
    if told == length(0, units):
        return _("as wanted")
    return (_("%(length)s more") if cm > 0 else _("%(length)s less")) % {"length": told}


def from_gauge(to_10_cm: Decimal, units: str) -> Decimal:
    """Stitches to 10 cm or to 4 inches (one decimal), from stitches to 10 cm."""
    if units == Units.INCH:
        to_10_cm = to_10_cm * GAUGE_INCHES * Decimal(str(CM_PER_INCH)) / 10
    return to_10_cm.quantize(Decimal("0.1"))


def from_cm(cm: Decimal, units: str) -> Decimal:
    """A length as a form shows it: in cm, or in inches (two decimals)."""
    if units == Units.INCH:
        return (cm / Decimal(str(CM_PER_INCH))).quantize(Decimal("0.01"))
    return cm


def from_grams(grams: Decimal, units: str, places: int = 2) -> Decimal:
    """A weight as a form shows it: in grams, or in ounces with so many decimals."""
    if units == Units.INCH:
        return round(grams / Decimal(str(GRAMS_PER_OUNCE)), places)
    return grams
