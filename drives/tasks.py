"""What the site does by itself, on the clock: late squares, and what is no longer needed."""

from contextlib import suppress

from celery import shared_task
from django.conf import settings
from django.db.models import Q
from django.utils import timezone

from accounts import actions
from accounts.models import Member
from drives.actions.circles.calendar import forget_absences
from drives.actions.paper.finders import forget_notes
from drives.actions.pieces import hand_overs, queue
from drives.actions.squares import claims
from drives.models import Claim, HandOver, Turn
from shared.basics.refusals import Refused


@shared_task
def lapse_claims() -> None:
    """End every claim that is late beyond its days of grace, or whose member has left."""
    now = timezone.now()
    due = Q(due_at__lt=now) | Q(member__left_at__isnull=False)
    late = Claim.objects.open().filter(due)
    for claim in late.select_related("square__blanket__drive__circle", "member"):
        claims.lapse_claim(claim=claim, now=now)


@shared_task
def settle_departed() -> None:
    """Who has left the circle waits for nothing any more, and nothing is promised to them.

    What they have in their hands stays noted as theirs, until a coordinator knows better. What
    they sent before they left may still be received.
    """
    now = timezone.now()
    gone = Member.objects.filter(left_at__isnull=False)
    in_line = Turn.objects.waiting().filter(member__in=gone)
    for turn in in_line.select_related("piece", "member"):
        with suppress(Refused):  # the piece has ended meanwhile, and its line with it
            queue.leave_queue(piece=turn.piece, member=turn.member, by=None, now=now)
    promised = Q(receiver__in=gone) | Q(giver__in=gone, sent_at=None)
    for hand_over in HandOver.objects.open().filter(promised).select_related("piece"):
        with suppress(Refused):
            hand_overs.cancel_hand_over(hand_over=hand_over, by=None, now=now)
    hand_overs.forget_contacts_of_departed()


@shared_task
def forget_calls() -> None:
    """Forget answers to API calls that nobody will send again any more."""
    actions.forget_calls(before=timezone.now() - settings.KEPT["calls"])


@shared_task
def forget_the_past() -> None:
    """Forget what is over: the table in ``shared.configuration.kept`` says for how long."""
    now = timezone.now()
    until = {name: now - kept for name, kept in settings.KEPT.items()}
    actions.forget_invitations(before=until["invitations"])
    forget_absences(before=until["absences"].date())
    forget_notes(before=until["messages"])
    actions.forget_security_events(before=until["security"])
    actions.remove_closed_circles(before=until["circles"])
