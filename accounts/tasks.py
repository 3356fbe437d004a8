"""What the site does for people later: it writes to them, and forgets what nobody needs."""

from celery import shared_task
from django.conf import settings
from django.core.mail import EmailMessage
from django.core.management import call_command
from django.utils import timezone

from accounts import actions
from accounts.models import Invitation, Mail, Standing
from accounts.post import deliver
from shared.workers.queue import MOST_AT_ONCE, tell_again


@shared_task
def send_mail(*, mail_id: int) -> None:
    """Send one mail; of many deliveries one does it."""
    now = timezone.now()
    mail = Mail.objects.to_send(now).filter(pk=mail_id).select_related("invitation").first()
    if mail is not None:
        deliver(mail, lambda: message_of(mail), now)
        actions.close_mails()


@shared_task
def send_mails() -> None:
    """A message for each mail that can be sent: it is tried again, or its message was lost."""
    actions.close_mails()
    ready = Mail.objects.to_send(timezone.now())
    for mail_id in ready.values_list("pk", flat=True)[:MOST_AT_ONCE]:
        tell_again(send_mail, mail_id=mail_id)


@shared_task
def mail_invitation(*, invitation_id: int, token: str) -> None:
    """A message of earlier days, when the token was nowhere else."""
    now = timezone.now()
    unsent = Invitation.objects.open(now).filter(mail_taken_at=None, mails=None)
    invitation = unsent.select_related("circle", "invited_by").filter(pk=invitation_id).first()
    if invitation is not None:
        actions.mail_invitation(invitation=invitation, token=token, now=now)


@shared_task
def forget_mails() -> None:
    """Remove old mails."""
    actions.forget_old_mails(before=timezone.now() - settings.KEPT["mails"])


@shared_task
def forget_sessions() -> None:
    """Remove sessions that have ended; Django keeps them until it is told."""
    call_command("clearsessions")


def message_of(mail: Mail) -> EmailMessage | None:
    """None for an invitation that lets nobody in any more."""
    invitation = mail.invitation
    if invitation and invitation.standing(timezone.now()) is not Standing.OPEN:
        return None
    return EmailMessage(mail.heading, mail.body, to=[mail.to])
