"""E-mails whose words are written when they are asked for."""

from datetime import datetime

from accounts.models import Invitation, Mail
from shared.basics.transactions import writing
from shared.workers.queue import tell_workers

# By name: the task lives in a room above this one.
MAIL = "accounts.tasks.send_mail"


def queue_mail(
    *, to: str, heading: str, body: str, now: datetime, invitation: Invitation | None = None
) -> Mail:
    """Have it sent once this is committed, however long the mail server is away.

    An empty ``to`` is nobody: nothing stays of it, and that takes exactly as long.
    """
    with writing():
        mail = Mail.objects.create(
            to=to,
            heading=" ".join(heading.split())[:500],
            body=body,
            invitation=invitation,
            queued_at=now,
            not_before=now,
        )
        tell_workers(MAIL, mail_id=mail.pk)
        Mail.objects.filter(pk=mail.pk, to="").delete()
    return mail


def close_mails() -> None:
    """Wipe the words of what is sent or dropped, and note on an invitation what became of it."""
    over = Mail.objects.exclude(body="").exclude(sent_at=None, dropped_at=None)
    for mail in over:
        with writing():
            if mail.invitation_id:
                failed_at = None if mail.unclear_at else mail.dropped_at
                Invitation.objects.filter(pk=mail.invitation_id).update(
                    mail_taken_at=mail.taken_at, mailed_at=mail.sent_at, mail_failed_at=failed_at
                )
            Mail.objects.filter(pk=mail.pk).update(body="")


def forget_old_mails(*, before: datetime) -> int:
    """Remove mails that were asked for ``before``, and say how many."""
    with writing():
        return Mail.objects.filter(queued_at__lt=before).delete()[0]
