"""Why somebody is to have a square, in one sentence."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.rota.fallen import Fallen
from drives.craft.rota.why import Why


def fallen(code: str, name: str, place: str) -> str:
    """Why ``place`` is no longer planned for ``name``."""
    facts = {"name": name, "place": place}
    match code:
        case Fallen.TAKEN:
            text = _("%(place)s is no longer planned for %(name)s: somebody else has taken it.")
        case Fallen.LEFT:
            text = _("%(place)s is no longer planned for %(name)s, who does not knit here now.")
        case Fallen.AWAY:
            text = _("%(place)s is no longer planned for %(name)s, who is away on that day.")
        case _other:
            text = _("%(place)s is no longer planned for %(name)s: its day is long over.")
    return text % facts


def why(code: str, waiting: int) -> str:
    """``waiting``: the squares that wait for it."""
    if code == Why.PLANNED:
        return _("This was agreed.")
    if not waiting:
        match code:
            case Why.PIECE:
                return _("What it joins onto is at hand.")
            case Why.QUICK:
                return _("Nobody would finish it sooner.")
        return _("There is time for it then.")
    match code:
        case Why.PIECE:
            text = ngettext(
                "%(count)d square waits for it, and what it joins onto is at hand.",
                "%(count)d squares wait for it, and what it joins onto is at hand.",
                waiting,
            )
        case Why.QUICK:
            text = ngettext(
                "%(count)d square waits for it, and nobody would finish it sooner.",
                "%(count)d squares wait for it, and nobody would finish it sooner.",
                waiting,
            )
        case _other:
            text = ngettext(
                "%(count)d square waits for it, and there is time for it then.",
                "%(count)d squares wait for it, and there is time for it then.",
                waiting,
            )
    return text % {"count": waiting}
