"""What an act would bring, in sentences, before it is done. Changes nothing."""

from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _

from drives.actions import refusals
from drives.craft import states
from drives.models import Claim, Mode, Square, State
from drives.models.board import board


def held(square: Square) -> Claim:
    """The open claim on the square. Refused: not-taken."""
    claim = Claim.objects.open().filter(square=square).select_related("member").first()
    if claim is None:
        raise refusals.not_taken(square.place)
    return claim


def finishing(square: Square) -> list[str]:
    """Refused: not-taken."""
    claim, shown = held(square), board(square.blanket)
    told = [
        _("%(place)s counts as finished from today, knitted by %(name)s.")
        % {"place": square, "name": claim.member.name}
    ]
    freed = states.freed(shown.plan, square.place, finished=shown.finished)
    if freed:
        told.append(_("%(places)s can then be begun.") % {"places": refusals.listed(freed)})
    return told


def giving_back(square: Square) -> list[str]:
    """Refused: not-taken."""
    held(square)
    return [
        _("%(place)s is free again: anybody in the circle can claim it.") % {"place": square},
        _("What is knitted of it so far does not count, and its row counter is gone."),
    ]


def releasing(square: Square) -> list[str]:
    """Refused: not-taken."""
    name = held(square).member.name
    told = giving_back(square)
    if square.blanket.drive.mode == Mode.TRAVELLING:
        told.append(_("If %(name)s has knitting in hand, fetch it first.") % {"name": name})
    return [*told, _("The site does not tell %(name)s: do it yourself.") % {"name": name}]


def extending(square: Square) -> list[str]:
    """Refused: not-taken."""
    claim = held(square)
    return [
        _("%(name)s keeps %(place)s longer; so far it is due on %(date)s.")
        % {
            "name": claim.member.name,
            "place": square,
            "date": date_format(localtime(claim.due_at), "j F"),
        },
        _("The days count from that date, or from today if it has passed."),
    ]


def claiming(square: Square) -> list[str]:
    """What claiming for somebody brings."""
    drive = square.blanket.drive
    return [
        _("%(place)s is in their hands for %(days)d days.")
        % {"place": square, "days": drive.claim_days},
        _("Nobody else can claim it until it is finished, given back or released."),
    ]


def ripping(square: Square) -> list[str]:
    """Refused: not-finished, others-stand-on-it."""
    shown, place = board(square.blanket), square.place
    if square.state != State.FINISHED:
        raise refusals.not_finished(place)
    above = states.rip_first(shown.plan, place, begun=shown.finished | shown.taken)
    if above:
        raise refusals.others_stand_on_it(place, above)
    told = [
        _("%(place)s is unfinished again, and can be claimed anew.") % {"place": place},
        _("Its yarn comes out of the blanket down to the edges that it joins onto."),
    ]
    waiting = [other for other in shown.plan.carries[place] if shown.state(other) == "ready"]
    if waiting:
        told.append(
            _("%(places)s cannot be begun until it is finished anew.")
            % {"places": refusals.listed(waiting)}
        )
    return told
