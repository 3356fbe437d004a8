"""What is to be bought, said."""

from math import ceil

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.yarn.buying import Short


def buy_words(found: Short, short: str, anew: str, lots: str) -> str:
    """What to buy of one colour; ``short`` and ``anew``: the grams of both, as a circle tells them.

    ``lots``: the dye lots that are there and count; empty where there is none of the colour.
    """
    if found.grams <= 0:
        return _("Nothing: there is enough.")
    facts = {"short": short, "anew": anew, "balls": found.balls, "new": found.balls_anew}
    if not lots:
        if found.balls_anew is None:
            return _("Buy %(anew)s of one dye lot.") % facts
        told = ngettext(
            "Buy %(new)d ball of one dye lot.",
            "Buy %(new)d balls of one dye lot.",
            found.balls_anew,
        )
        return told % facts
    facts["lots"] = lots
    meet = _("Let the two lots meet at a seam, or never side by side.")
    if found.balls is None or found.balls_anew is None:
        first = _("Short of %(short)s. Buy it of the same dye lot: %(lots)s.")
        second = _(
            "If that is sold out, buy all %(anew)s that are left to knit in one new dye lot."
        )
        return f"{first % facts} {second % facts} {meet}"
    first = ngettext(
        "Short of %(short)s. Buy %(balls)d ball of the same dye lot: %(lots)s.",
        "Short of %(short)s. Buy %(balls)d balls of the same dye lot: %(lots)s.",
        found.balls,
    )
    second = ngettext(
        "If that is sold out, buy %(new)d ball of one new dye lot for all that is left to knit.",
        "If that is sold out, buy %(new)d balls of one new dye lot for all that is left to knit.",
        found.balls_anew,
    )
    return f"{first % facts} {second % facts} {meet}"


def whole_grams(grams: float) -> int:
    """Rounded up: a gram too few is one too few."""
    return ceil(grams - 1e-9)
