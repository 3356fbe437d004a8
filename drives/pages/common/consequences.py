"""What an act would bring, in sentences, before it is done. Changes nothing."""

from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.actions.conditions import (
    require_claim,
    require_live,
    require_uncovered,
    require_under_way,
    require_unpromised,
)
from drives.craft.forecast.passing import Passing
from drives.craft.layout import states
from drives.models import HandOver, Mode, Piece, Square
from drives.readings.board import board_of
from drives.readings.whereabouts import whereabouts
from drives.words.next_steps import passing_words
from shared.basics.lists import listed


def finishing(square: Square) -> list[str]:
    """Refused: not-taken."""
    claim, board = require_claim(square), board_of(square.blanket)
    told = [
        _("%(place)s counts as finished from today, knitted by %(name)s.")
        % {"place": square, "name": claim.member.name}
    ]
    freed = states.freed(board.plan, square.place, finished=board.finished)
    if freed:
        told.append(_("%(places)s can then be begun.") % {"places": listed(freed)})
    return told


def giving_back(square: Square) -> list[str]:
    """Refused: not-taken."""
    require_claim(square)
    return [
        _("%(place)s is free again: anybody in the circle can claim it.") % {"place": square},
        _("What is knitted of it so far does not count, and its row counter is gone."),
    ]


def releasing(square: Square) -> list[str]:
    """Refused: not-taken."""
    name = require_claim(square).member.name
    told = giving_back(square)
    if square.blanket.drive.mode == Mode.TRAVELLING:
        told.append(_("If %(name)s has knitting in hand, fetch it first.") % {"name": name})
    return [*told, _("The site does not tell %(name)s: do it yourself.") % {"name": name}]


def extending(square: Square) -> list[str]:
    """Refused: not-taken."""
    claim = require_claim(square)
    return [
        _("%(name)s keeps %(place)s longer; so far it is due on %(date)s.")
        % {
            "name": claim.member.name,
            "place": square,
            "date": date_format(localtime(claim.due_at), "MONTH_DAY_FORMAT"),
        },
        _("The days count from that date, or from today if it has passed."),
    ]


def claiming(square: Square) -> list[str]:
    """What claiming for somebody brings."""
    drive = square.blanket.drive
    return [
        ngettext(
            "%(place)s is in their hands for %(days)d day.",
            "%(place)s is in their hands for %(days)d days.",
            drive.claim_days,
        )
        % {"place": square, "days": drive.claim_days},
        _("Nobody else can claim it until it is finished, given back or released."),
    ]


def ripping(square: Square) -> list[str]:
    """Refused: not-finished, others-stand-on-it."""
    board, place = board_of(square.blanket), square.place
    require_uncovered(square, board.plan, board.finished | board.taken)
    told = [
        _("%(place)s is unfinished again, and can be claimed anew.") % {"place": place},
        _("Its yarn comes out of the blanket down to the edges that it joins onto."),
    ]
    waiting = [other for other in board.plan.carries[place] if board.state(other) == "ready"]
    if waiting:
        told.append(
            _("%(places)s cannot be begun until it is finished anew.") % {"places": listed(waiting)}
        )
    return told


def arranging(piece: Piece) -> list[str]:
    """Refused: piece-is-no-more, hand-over-open."""
    require_live(piece)
    require_unpromised(piece)
    told = [passing_words(Passing(piece.blanket.drive.passing))]
    queue = [turn.member.name for turn in piece.turns.waiting().select_related("member")]
    if queue:
        told.append(_("In line for it, in order: %(names)s.") % {"names": ", ".join(queue)})
    return [
        *told,
        _("Nobody else can be given it meanwhile."),
        _("The two of you can then tell each other, and nobody else, how to reach you."),
    ]


def cancelling(hand_over: HandOver) -> list[str]:
    """Refused: hand-over-ended."""
    piece = hand_over.piece
    require_under_way(hand_over)
    told = [_("What the two told each other is wiped at once.")]
    if piece.holder:
        stays = _("The piece %(piece)s stays with %(name)s.")
        told.insert(0, stays % {"piece": piece.name, "name": piece.holder.name})
    if piece.turns.waiting().filter(member=hand_over.receiver).exists():
        told.append(_("%(name)s keeps their place in the line.") % {"name": hand_over.receiver})
    return told


def finding(piece: Piece) -> list[str]:
    """Refused: piece-is-no-more."""
    require_live(piece)
    told = [
        _("From now on squares of the piece %(piece)s are theirs to knit.") % {"piece": piece.name},
        _("If they were in line for it, their wait is over; the others stay in line."),
    ]
    if piece.holder:
        so_far = _("So far it counts as being with %(name)s.") % {"name": piece.holder.name}
        told.insert(0, so_far)
    return told


def losing(piece: Piece) -> list[str]:
    """Refused: piece-is-no-more."""
    require_live(piece)
    there = whereabouts(board_of(piece.blanket), {piece.pk})[0]
    told = [
        ngettext(
            "%(places)s is unfinished again, and must be knitted anew.",
            "%(places)s are unfinished again, and must be knitted anew.",
            len(there.places),
        )
        % {"places": listed(there.places)}
    ]
    for claim in there.needles:
        hangs = _("%(place)s, which %(name)s is knitting, hangs on it and is released.")
        told.append(hangs % {"place": claim.square.place, "name": claim.member.name})
    if there.queue:
        names = ", ".join(turn.member.name for turn in there.queue)
        told.append(_("Nobody waits for it any more: %(names)s.") % {"names": names})
    if there.hand_over:
        name = there.hand_over.receiver.name
        told.append(_("The hand-over to %(name)s is cancelled.") % {"name": name})
    return [*told, _("It cannot be undone. The plan starts again from what is left.")]
