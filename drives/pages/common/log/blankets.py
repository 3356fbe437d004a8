"""What the log tells of blankets."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext


def of_blanket(verb: str, facts: Mapping[str, Any]) -> str:
    """What somebody did with the blanket itself; else empty."""
    match verb:
        case "planned":
            return ngettext(
                "%(by)s planned the blanket: %(squares)s square.",
                "%(by)s planned the blanket: %(squares)s squares.",
                facts["squares"],
            )
        case "layout-changed":
            return _("%(by)s changed the layout.")
        case "ripped-back":
            return _("%(by)s ripped %(place)s back.")
        case "coloured":
            return ngettext(
                "%(by)s chose the yarn for %(squares)s square.",
                "%(by)s chose the yarn for %(squares)s squares.",
                facts["squares"],
            )
        case "colours-planned":
            return ngettext(
                "%(by)s made a plan for the yarns: %(squares)s square changed.",
                "%(by)s made a plan for the yarns: %(squares)s squares changed.",
                facts["squares"],
            )
        case "palette-set":
            return _("%(by)s noted the yarns: %(colours)s.")
        case "lots-chosen":
            return _("%(by)s chose several dye lots of %(colour)s.")
        case "one-lot-chosen":
            return _("%(by)s chose to keep to one dye lot of %(colour)s.")
        case "lot-planned":
            return _("%(by)s placed %(yarn)s in the plan: %(grams)s g are to be bought.")
        case "buying-set":
            return _("%(by)s changed how it is reckoned what to buy.")
        case "yarn-reserved":
            return _("%(by)s reserved %(grams)s g of %(yarn)s.")
        case "yarn-freed":
            return _("%(by)s freed the %(yarn)s that was reserved.")
        case "reservation-cut":
            return _("There is less %(yarn)s than was reserved: %(grams)s g are kept now.")
        case "rota-accepted":
            return _("%(by)s accepted the rota: %(squares)s.")
        case "rota-taken-back":
            return _("%(by)s took back what was said to the rota about %(squares)s.")
        case "codes-renewed":
            return ngettext(
                "%(by)s renewed a code on paper: what was printed before leads nowhere now.",
                "%(by)s renewed codes on paper: %(codes)s printed before lead nowhere now.",
                facts["codes"],
            )
        case "gift-described":
            return _("%(by)s wrote down what the receiver is told.")
        case "note-left":
            return _("A finder left a message about %(of)s.")
        case "note-read":
            return _("%(by)s saw to a finder’s message about %(of)s.")
    return ""
