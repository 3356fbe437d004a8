"""What the site does by itself, on the clock: late squares, and what is no longer needed."""

from contextlib import suppress
from datetime import timedelta
from smtplib import SMTPException

from celery import shared_task
from django.conf import settings
from django.core.mail import send_mail
from django.db.models import Q
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone, translation

from accounts import actions as accounts
from accounts.models import Member
from drives.actions import claims, hands, lines
from drives.models import Claim, HandOver, Turn
from drives.models.claim import ClaimQuerySet
from shared.refusals import Refused
from shared.words import speaking

CALLS_KEPT = timedelta(days=2)


@shared_task
def lapse_claims() -> None:
    """End every claim that is late beyond its days of grace, or whose member has left."""
    now = timezone.now()
    due = Q(due_at__lt=now) | Q(member__left_at__isnull=False)
    for claim in _with_all(Claim.objects.open().filter(due)):
        claims.lapse(claim=claim, now=now)


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
            lines.withdraw(piece=turn.piece, member=turn.member, by=None, now=now)
    promised = Q(receiver__in=gone) | Q(giver__in=gone, sent_at=None)
    for hand_over in HandOver.objects.open().filter(promised).select_related("piece"):
        with suppress(Refused):
            hands.cancel(hand_over=hand_over, by=None, now=now)
    HandOver.objects.open().filter(giver__in=gone).update(giver_contact="")


@shared_task
def remind_late() -> None:
    """Have one e-mail written for each late square, once for each due date.

    Members on paper get none: they stand among the late on the coordinators' pages.
    """
    now = timezone.now()
    late = Claim.objects.overdue(now).filter(reminded_at=None, member__left_at=None)
    for claim in _with_all(late.filter(member__user__is_active=True)):
        grace_days = claim.square.blanket.drive.grace_days
        if claim.lapses_at(grace_days) > now and claims.remind(claim=claim, now=now):
            mail_reminder.delay(claim_id=claim.pk)


@shared_task(autoretry_for=(OSError, SMTPException), retry_backoff=30, max_retries=6)
def mail_reminder(*, claim_id: int) -> None:
    """Write to the member of a late claim, unless it has ended or been extended meanwhile."""
    late = Claim.objects.overdue(timezone.now()).filter(pk=claim_id, member__user__isnull=False)
    claim = _with_all(late).first()
    if claim is None or claim.member.user is None:
        return
    square = claim.square
    circle = square.blanket.drive.circle
    with (
        translation.override(circle.locale),
        timezone.override(circle.time_zone),
        speaking(circle.english),
    ):
        facts = {
            "claim": claim,
            "square": square,
            "blanket": square.blanket,
            "circle": circle,
            "lapses_at": claim.lapses_at(square.blanket.drive.grace_days),
            "link": settings.SITE_URL
            + reverse("drives:square", args=[square.blanket_id, str(square)]),
        }
        subject = render_to_string("drives/mail/reminder_subject.txt", facts).strip()
        body = render_to_string("drives/mail/reminder.txt", facts)
        send_mail(subject, body, None, [claim.member.user.email])


@shared_task
def forget_calls() -> None:
    """Forget answers to API calls that nobody will send again any more."""
    accounts.forget_calls(before=timezone.now() - CALLS_KEPT)


def _with_all(rows: ClaimQuerySet) -> ClaimQuerySet:
    return rows.select_related("square__blanket__drive__circle", "member__user")
