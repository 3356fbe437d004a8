"""A square that is due soon, or late."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from django.utils.translation import gettext as _

from drives.actions.circles.letters import about_claim
from drives.craft.forecast.passing import Passing
from drives.models import Claim, Letter, Mode, Turn

from .content import Content, address


def due_soon(letter: Letter, now: datetime) -> Content | None:
    """None when it is finished, given back or late by now."""
    claim = _claim(letter)
    if claim.ended_at or claim.late(now):
        return None
    return _content(letter, claim, waiting=list(_waiting(claim)))


def late(letter: Letter, now: datetime) -> Content | None:
    """None when it is not late any more."""
    claim = _claim(letter)
    return _content(letter, claim) if claim.late(now) else None


def _claim(letter: Letter) -> Claim:
    return Claim.objects.select_related("square__blanket__drive__circle").get(letters=letter)


def _waiting(claim: Claim) -> Iterator[str]:
    """Who is first in line for each piece of the blanket that its knitter has.

    Only where the drive passes pieces on as soon as somebody waits: else there is nothing to do.
    """
    drive = claim.square.blanket.drive
    if drive.mode != Mode.TRAVELLING or drive.passing != Passing.AFTER_EACH:
        return
    turns = Turn.objects.waiting().filter(
        piece__blanket=claim.square.blanket_id, piece__holder=claim.member_id
    )
    told = set()
    for turn in turns.select_related("member", "piece"):
        if turn.piece_id not in told:
            told.add(turn.piece_id)
            yield _("%(name)s is waiting for piece %(piece)s, which you hold.") % {
                "name": turn.member,
                "piece": turn.piece,
            }


def _content(letter: Letter, claim: Claim, waiting: Sequence[str] = ()) -> Content | None:
    """None where the due date is no longer the one that the letter was queued for."""
    if about_claim(claim) != letter.about:
        return None
    blanket = claim.square.blanket
    return Content(
        {
            "claim": claim,
            "square": claim.square,
            "blanket": blanket,
            "waiting": waiting,
            "lapses_at": claim.lapses_at,
            "link": address("square", blanket.pk, str(claim.square)),
        }
    )
