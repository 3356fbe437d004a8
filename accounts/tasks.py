"""What the site does for people later: it writes to them."""

from smtplib import SMTPException

from celery import shared_task
from django.conf import settings
from django.core.mail import send_mail
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone, translation

from accounts.models import Invitation
from shared.transactions import writing


@shared_task(autoretry_for=(OSError, SMTPException), retry_backoff=30, max_retries=6)
def mail_invitation(*, invitation_id: int, token: str) -> None:
    """Send an invitation to its address, once, if it is still open.

    The token comes with the message because the row keeps only its digest.
    """
    now = timezone.now()
    waiting = Invitation.objects.open(now).filter(mailed_at=None).exclude(email="")
    invitation = waiting.select_related("circle", "invited_by").filter(pk=invitation_id).first()
    if invitation is None:
        return
    with (
        translation.override(invitation.circle.locale),
        timezone.override(invitation.circle.time_zone),
    ):
        facts = {
            "invitation": invitation,
            "link": settings.SITE_URL + reverse("accounts:join", args=[token]),
        }
        subject = render_to_string("accounts/mail/invitation_subject.txt", facts).strip()
        body = render_to_string("accounts/mail/invitation.txt", facts)
        send_mail(subject, body, None, [invitation.email])
    with writing():
        Invitation.objects.filter(pk=invitation.pk).update(mailed_at=now)
