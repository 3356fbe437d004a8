"""What the log tells of squares."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext


def of_square(verb: str, facts: Mapping[str, Any], *, own: bool) -> str:
    """What happened to a square in one's ``own`` hands, or in another's; else empty."""
    return (_of_own if own else _of_others)(verb, facts)


def _of_own(verb: str, facts: Mapping[str, Any]) -> str:
    """What a knitter, or the site by the clock, did with a square."""
    match verb:
        case "claimed":
            return _("%(by)s took %(place)s, until %(due)s.")
        case "given-back":
            return _("%(by)s gave %(place)s back.")
        case "finished":
            return _("%(by)s finished %(place)s.")
        case "extended":
            return _("%(by)s moved the date of %(place)s to %(due)s.")
        case "released":
            return _("%(place)s was taken out of %(member)s’s hands.")
        case "lapsed":
            return _("%(place)s lapsed: %(member)s’s days of grace were over.")
        case "reminded":
            return _("%(by)s reminded %(member)s of %(place)s.")
        case "weighed":
            return _("%(by)s weighed %(place)s: %(grams)s g.")
        case "measured":
            return _("%(by)s measured %(place)s.")
        case "rota-line-accepted":
            return _("%(by)s planned %(place)s for themselves, from %(begin)s.")
        case "rota-line-declined":
            return _("%(by)s said that %(place)s is not for them.")
        case "colour-chosen":
            return ngettext(
                "%(by)s chose %(colour)s for %(place)s; %(changed)s other square changed.",
                "%(by)s chose %(colour)s for %(place)s; %(changed)s other squares changed.",
                facts["changed"],
            )
    return ""


def _of_others(verb: str, facts: Mapping[str, Any]) -> str:
    """What somebody did with a square in another's hands."""
    match verb:
        case "claimed":
            return _("%(by)s gave %(place)s to %(member)s, until %(due)s.")
        case "given-back":
            return _("%(by)s took %(place)s back from %(member)s.")
        case "finished":
            return _("%(member)s finished %(place)s; %(by)s noted it.")
        case "extended":
            return _("%(by)s gave %(member)s until %(due)s for %(place)s.")
        case "released":
            return _("%(by)s took %(place)s out of %(member)s’s hands.")
        case "weighed":
            return _("%(by)s noted that %(member)s’s %(place)s weighs %(grams)s g.")
        case "measured":
            return _("%(by)s measured %(place)s for %(member)s.")
        case "rota-line-accepted":
            return _("%(by)s planned %(place)s for %(member)s, from %(begin)s.")
        case "rota-line-declined":
            return _("%(by)s said that %(place)s is not for %(member)s.")
        case "colour-chosen":
            return ngettext(
                "%(by)s chose %(colour)s for %(member)s’s %(place)s; "
                "%(changed)s other square changed.",
                "%(by)s chose %(colour)s for %(member)s’s %(place)s; "
                "%(changed)s other squares changed.",
                facts["changed"],
            )
    return ""
