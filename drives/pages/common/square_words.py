"""Sentences about squares that can be begun."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.layout.states import Offer
from drives.craft.places import Place
from shared.basics.lists import listed


def reasons(offer: Offer) -> list[str]:
    """What speaks for beginning with this square."""
    told = []
    if offer.frees:
        facts = {"places": listed(offer.frees)}
        told.append(_("As soon as it is finished, %(places)s can be begun.") % facts)
    waiting = offer.chain - 1
    if waiting:
        told.append(
            ngettext(
                "%(count)d square waits for it.",
                "%(count)d squares, one after the other, wait for it.",
                waiting,
            )
            % {"count": waiting}
        )
    return told or [_("Nothing waits for it: knit it whenever it suits.")]


def elsewhere(holder: str, *, in_line: bool) -> str:
    """What taking a square means whose piece ``holder`` has, or has meant already."""
    if in_line:
        return _("Its piece is with %(name)s; you are in line for it.") % {"name": holder}
    return _("Its piece is with %(name)s; taking it puts you in line.") % {"name": holder}


def ready_now(places: list[Place] | tuple[Place, ...]) -> str:
    """Which squares became ready; empty when none did."""
    return _("Ready now: %(places)s.") % {"places": listed(places)} if places else ""
