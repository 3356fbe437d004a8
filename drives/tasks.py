"""What the site does by itself, on the clock: late squares, and what is no longer needed."""

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
from drives.actions import claims
from drives.models import Claim
from drives.models.claim import ClaimQuerySet
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
