"""A square that is due soon, or late."""

from datetime import datetime

from drives.actions.circles.letters import about_claim
from drives.models import Claim, Letter

from .content import Content, address


def due_soon(letter: Letter, now: datetime) -> Content | None:
    """None when it is finished, given back or late by now."""
    claim = _claim(letter)
    return None if claim.ended_at or claim.late(now) else _content(letter, claim)


def late(letter: Letter, now: datetime) -> Content | None:
    """None when it is not late any more."""
    claim = _claim(letter)
    return _content(letter, claim) if claim.late(now) else None


def _claim(letter: Letter) -> Claim:
    return Claim.objects.select_related("square__blanket__drive__circle").get(letters=letter)


def _content(letter: Letter, claim: Claim) -> Content | None:
    """None where the due date is no longer the one that the letter was queued for."""
    if about_claim(claim) != letter.about:
        return None
    blanket = claim.square.blanket
    return Content(
        {
            "claim": claim,
            "square": claim.square,
            "blanket": blanket,
            "lapses_at": claim.lapses_at,
            "link": address("square", blanket.pk, str(claim.square)),
        }
    )
