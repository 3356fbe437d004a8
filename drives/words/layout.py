"""What is wrong with a layout."""

from django.utils.translation import gettext as _

from drives.craft.layout.layout import Fault, Problem


def problem_words(found: Problem) -> str:
    """One problem of a layout as a sentence."""
    return _sentence(found) % found.facts


def _sentence(found: Problem) -> str:
    match found.fault:
        case Fault.OUT_OF_RANGE:
            match found.field:
                case "columns":
                    return _("The number of columns must be from %(low)d to %(high)d.")
                case "rows":
                    return _("The number of rows must be from %(low)d to %(high)d.")
                case _:
                    return _("The stitches along one side must be from %(low)d to %(high)d.")
        case Fault.MISSING_OUTSIDE:
            return _("%(place)s lies outside the blanket.")
        case Fault.NOTHING_LEFT:
            return _("Every place is missing; leave at least one square to knit.")
        case Fault.LARGE_SIZE:
            return _("The square at %(place)s must be from %(low)d to %(high)d units wide.")
        case Fault.LARGE_OUTSIDE:
            return _("The square at %(place)s, %(size)d units wide, reaches outside the blanket.")
        case Fault.LARGE_MISSING:
            return _("%(unit)s is a missing place inside the large square at %(place)s.")
        case Fault.LARGE_TWICE:
            return _("Two squares begin at %(place)s.")
        case Fault.LARGE_OVERLAP:
            return _("The squares at %(other)s and %(place)s overlap.")
        case Fault.SEAM_OUTSIDE:
            return _("The seam between %(one)s and %(other)s lies outside the blanket.")
        case Fault.SEAM_APART:
            return _("%(one)s and %(other)s are not neighbours, so no seam lies between them.")
        case Fault.SEAM_INSIDE:
            return _(
                "%(one)s and %(other)s are parts of one square (%(square)s); no seam can cut it."
            )
