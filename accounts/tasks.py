"""What the site does for people later: it writes to them."""

from contextlib import ExitStack

from celery import Task, shared_task
from django.conf import settings
from django.core.mail import EmailMessage
from django.core.management import call_command
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone, translation

from accounts.actions import (
    note_invitation_mailed,
    put_back_invitation_mail,
    take_invitation_mail,
)
from accounts.models import Invitation
from shared.post import ServerAnswer, hand_in, mail_server

MOST_ATTEMPTS = 7
FIRST_WAIT_SECONDS = 30  # doubled each time: half an hour until it is given up
MOST_SECONDS = 120


@shared_task(
    bind=True,
    max_retries=MOST_ATTEMPTS - 1,
    soft_time_limit=MOST_SECONDS,
    time_limit=MOST_SECONDS + 15,
)
def mail_invitation(self: "Task[..., None]", *, invitation_id: int, token: str) -> None:
    """Send an invitation to its address, once at most, if it is still open.

    The token comes with the message because the row keeps only its digest: so it is this very
    message that is tried again later.
    """
    now = timezone.now()
    invitation = Invitation.objects.to_mail(now).filter(pk=invitation_id).first()
    if invitation is None:
        return
    wait = FIRST_WAIT_SECONDS * 2**self.request.retries
    with ExitStack() as opened:
        try:
            message = _message(invitation, token)
            server = opened.enter_context(mail_server())
        except Exception as problem:
            raise self.retry(exc=problem, countdown=wait) from problem
        if not take_invitation_mail(invitation=invitation, now=now):
            return
        match hand_in(message, server, called=f"invitation {invitation.pk}"):
            case ServerAnswer.ACCEPTED:
                note_invitation_mailed(invitation=invitation, now=now)
            case ServerAnswer.NOT_NOW:
                put_back_invitation_mail(invitation=invitation)
                raise self.retry(countdown=wait)
            case ServerAnswer.NEVER | ServerAnswer.UNCLEAR:
                pass  # it stays taken: nobody sends it again


def _message(invitation: Invitation, token: str) -> EmailMessage:
    """In the words and by the clock of the circle."""
    circle = invitation.circle
    with translation.override(circle.locale), timezone.override(circle.time_zone):
        facts = {
            "invitation": invitation,
            "link": settings.SITE_URL + reverse("accounts:join", args=[token]),
        }
        subject = render_to_string("accounts/mail/invitation_subject.txt", facts).strip()
        body = render_to_string("accounts/mail/invitation.txt", facts)
    message = EmailMessage(subject, body, to=[invitation.email])
    message.message()  # what cannot be written down fails here, before anything is sent
    return message


@shared_task
def forget_sessions() -> None:
    """Remove sessions that have ended; Django keeps them until it is told."""
    call_command("clearsessions")
